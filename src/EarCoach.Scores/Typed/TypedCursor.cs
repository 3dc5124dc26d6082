using System.Globalization;

namespace EarCoach.Scores.Typed;

/// <summary>A place in a typed text, counted in lines and columns.</summary>
internal sealed class TypedCursor(string text)
{
    private int _position;
    private int _line = 1;
    private int _column = 1;

    /// <summary>The same place, to be named later.</summary>
    public TypedCursor Copy() => (TypedCursor)MemberwiseClone();

    /// <summary>The next character; a zero character at the end.</summary>
    public char Peek() => _position < text.Length ? text[_position] : '\0';

    /// <summary>Takes the next character.</summary>
    public char Next()
    {
        char taken = text[_position++];
        (_line, _column) = taken == '\n' ? (_line + 1, 1) : (_line, _column + 1);
        return taken;
    }

    /// <summary>Goes on to the next character that is no space.</summary>
    /// <returns>False at the end.</returns>
    public bool SkipSpace()
    {
        while (_position < text.Length && char.IsWhiteSpace(text[_position]))
        {
            Next();
        }

        return _position < text.Length;
    }

    /// <summary>A failure at this place.</summary>
    public ScoreException Malformed(string reason, ScoreFailure failure = ScoreFailure.Malformed) =>
        new(failure, string.Create(CultureInfo.InvariantCulture, $"line {_line}, column {_column}"), reason);
}
