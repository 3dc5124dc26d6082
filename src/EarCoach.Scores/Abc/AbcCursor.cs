using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Abc;

/// <summary>Walks along one line of ABC and knows where it is.</summary>
internal sealed class AbcCursor(string text, int line, int firstColumn = 1)
{
    private const int LargestNumber = 9_999;

    public int Position { get; set; }

    public bool IsAtEnd => Position >= text.Length;

    /// <summary>The next character, or '\0' at the end of the line.</summary>
    public char Next => Peek(0);

    public string Place => PlaceAt(Position);

    public char Peek(int ahead) => Position + ahead < text.Length ? text[Position + ahead] : '\0';

    public char Take() => text[Position++];

    public bool TakeIf(char wanted)
    {
        if (Next != wanted)
        {
            return false;
        }

        Position++;
        return true;
    }

    /// <summary>All characters in a row that satisfy a test.</summary>
    public string TakeWhile(Predicate<char> isWanted)
    {
        int start = Position;
        while (!IsAtEnd && isWanted(Next))
        {
            Position++;
        }

        return text[start..Position];
    }

    /// <summary>What stands before a closing character, which is taken too.</summary>
    /// <exception cref="ScoreException">The line ends first.</exception>
    public string TakeUntil(char closing, string what)
    {
        int end = text.IndexOf(closing, Position);
        if (end < 0)
        {
            throw Malformed($"{what} begins here and is not closed by '{closing}' on its line.");
        }

        string content = text[Position..end];
        Position = end + 1;
        return content;
    }

    /// <summary>A whole number, or null where no digit stands here.</summary>
    public int? TakeNumber()
    {
        string place = Place;
        string digits = TakeWhile(char.IsAsciiDigit);
        if (digits.Length == 0)
        {
            return null;
        }

        return digits.Length <= 4 && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            ? number
            : throw new ScoreException(ScoreFailure.Malformed, place, $"The number {Shortened(digits)} is larger than {LargestNumber}, the most that is read. Correct it and try again.");
    }

    /// <summary>A note length as ABC writes it behind a note: "2", "/2", "3/2", "/", "//"; 1 where nothing stands.</summary>
    public Fraction TakeLength()
    {
        Fraction length = TakeNumber() ?? 1;
        while (TakeIf('/'))
        {
            int divisor = TakeNumber() ?? 2;
            length = divisor > 0 ? length / divisor : throw Malformed("A note length is divided by 0.");
        }

        return length > Fraction.Zero && length.Denominator <= LargestNumber
            ? length
            : throw Malformed($"A note length of {length} is none.");
    }

    public ScoreException Malformed(string reason) => new(ScoreFailure.Malformed, Place, reason + " Correct it and try again.");

    public ScoreException Unsupported(string reason) => new(ScoreFailure.Unsupported, Place, reason);

    private static string Shortened(string digits) => digits.Length <= 12 ? digits : digits[..12] + "...";

    private string PlaceAt(int position) => string.Create(CultureInfo.InvariantCulture, $"line {line}, column {firstColumn + position}");
}
