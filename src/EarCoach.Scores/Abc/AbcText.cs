using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace EarCoach.Scores.Abc;

/// <summary>An ABC file cut into tunes.</summary>
/// <param name="FileHeader">Lines before the first tune, with their numbers.</param>
/// <param name="Tunes">Each tune and its lines, the X: field first.</param>
internal sealed record AbcText(ImmutableArray<(int Number, string Text)> FileHeader, ImmutableArray<(AbcTune Tune, ImmutableArray<(int Number, string Text)> Lines)> Tunes)
{
    private const int MostBytes = 1024 * 1024;

    /// <summary>Reads a file: UTF-8, or Latin-1 where it is not that.</summary>
    /// <exception cref="ScoreException">It is too large, or holds no tune.</exception>
    public static AbcText Read(Stream stream)
    {
        byte[] bytes = BoundedStreamReading.ReadAll(stream, MostBytes, "ABC file");
        string text;
        try
        {
            text = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            text = Encoding.Latin1.GetString(bytes);
        }

        string[] lines = text.TrimStart('\uFEFF').Split('\n');
        return Split([.. lines.Select((line, index) => (index + 1, WithoutComment(line.TrimEnd('\r'))))]);
    }

    /// <summary>The tune asked for.</summary>
    /// <exception cref="ScoreException">There are several and none was asked for, or it is not there.</exception>
    public (AbcTune Tune, ImmutableArray<(int Number, string Text)> Lines) Choose(int? number)
    {
        (AbcTune Tune, ImmutableArray<(int, string)> Lines)[] chosen = [.. Tunes.Where(tune => (number ?? tune.Tune.Number) == tune.Tune.Number)];
        string list = string.Join("; ", Tunes.Take(20).Select(tune => string.Create(CultureInfo.InvariantCulture, $"X:{tune.Tune.Number} '{tune.Tune.Title}'")));
        return chosen switch
        {
            [var only] => only,
            [] => throw new ScoreException(ScoreFailure.PartNotFound, $"tune X:{number}", $"The file has no such tune. It has: {list}."),
            _ => throw new ScoreException(
                ScoreFailure.PartNotChosen, number is null ? "whole file" : $"tune X:{number}", $"There are {chosen.Length} tunes; one is needed. Choose by its number: {list}."),
        };
    }

    private static AbcText Split(ImmutableArray<(int Number, string Text)> lines)
    {
        List<(int, string)> fileHeader = [];
        List<(AbcTune, ImmutableArray<(int, string)>)> tunes = [];
        List<(int, string)>? tune = null;
        foreach ((int Number, string Text) line in lines)
        {
            if (line.Text.StartsWith("X:", StringComparison.Ordinal))
            {
                Close();
                tune = [line];
            }
            else if (string.IsNullOrWhiteSpace(line.Text))
            {
                Close();
            }
            else if (tune is not null)
            {
                tune.Add(line);
            }
            else if (tunes.Count == 0)
            {
                fileHeader.Add(line);
            }
        }

        Close();
        return tunes.Count > 0
            ? new AbcText([.. fileHeader], [.. tunes])
            : throw new ScoreException(ScoreFailure.NotThisFormat, "line 1, column 1", "No line begins with 'X:', as every ABC tune does. Choose an ABC file, or put 'X:1' above the tune.");

        void Close()
        {
            if (tune is not null)
            {
                tunes.Add((TuneOf(tune), [.. tune]));
                tune = null;
            }
        }
    }

    private static AbcTune TuneOf(List<(int Number, string Text)> lines)
    {
        string digits = lines[0].Text[2..].Trim();
        string? title = lines.Select(line => line.Text).FirstOrDefault(text => text.StartsWith("T:", StringComparison.Ordinal))?[2..].Trim();
        return int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            ? new AbcTune(number, string.IsNullOrEmpty(title) ? null : title, lines[0].Number)
            : throw new ScoreException(
                ScoreFailure.Malformed, string.Create(CultureInfo.InvariantCulture, $"line {lines[0].Number}, column 3"), "X: needs a number, for example X:1. Correct it and try again.");
    }

    /// <summary>A line that is only a comment becomes "%", which is no blank line: blank lines end tunes, comments do not.</summary>
    private static string WithoutComment(string line)
    {
        int start = 0;
        while (line.IndexOf('%', start) is var percent and >= 0)
        {
            if (percent > 0 && line[percent - 1] == '\\')
            {
                start = percent + 1;
                continue;
            }

            return percent == 0 ? "%" : line[..percent] is var before && string.IsNullOrWhiteSpace(before) ? "%" : before;
        }

        return line;
    }
}
