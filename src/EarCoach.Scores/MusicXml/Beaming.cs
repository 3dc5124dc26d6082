using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Joins quavers and shorter notes of one beat by beams. Common practice.</summary>
internal static class Beaming
{
    /// <summary>The beams of each piece, level 1 first: "begin", "continue", "end", "forward hook" or "backward hook".</summary>
    public static IReadOnlyList<string>[] Of(IReadOnlyList<ScorePiece> pieces, BarMap bars)
    {
        IReadOnlyList<string>[] beams = new IReadOnlyList<string>[pieces.Count];
        Array.Fill(beams, []);
        int first = 0;
        while (first < pieces.Count)
        {
            int last = first;
            while (FlagsOf(pieces[first]) > 0 && last + 1 < pieces.Count && FlagsOf(pieces[last + 1]) > 0 && BeatOf(pieces[last + 1], bars) == BeatOf(pieces[first], bars))
            {
                last++;
            }

            for (int index = first; index <= last && last > first; index++)
            {
                beams[index] = [.. Enumerable.Range(1, FlagsOf(pieces[index])).Select(level => BeamOf(pieces, first, last, index, level))];
            }

            first = last + 1;
        }

        return beams;
    }

    private static string BeamOf(IReadOnlyList<ScorePiece> pieces, int first, int last, int index, int level)
    {
        bool joinsBefore = index > first && FlagsOf(pieces[index - 1]) >= level;
        bool joinsAfter = index < last && FlagsOf(pieces[index + 1]) >= level;
        return (joinsBefore, joinsAfter) switch
        {
            (true, true) => "continue",
            (true, false) => "end",
            (false, true) => "begin",
            _ => index > first ? "backward hook" : "forward hook",
        };
    }

    private static int FlagsOf(ScorePiece piece) => piece.NoteIndex is null ? 0 : piece.Value?.Flags ?? 0;

    private static long BeatOf(ScorePiece piece, BarMap bars)
    {
        BarPosition position = bars.PositionOf(piece.Start);
        MeterMark meter = bars.MeterOf(position.Bar);
        int unitsInABeat = meter.BeatType >= 8 && meter.Beats % 3 == 0 ? 3 : meter.BeatType >= 8 ? meter.BeatType / 4 : 1;
        return ((position.Beat - Fraction.One) / unitsInABeat).Floor();
    }
}
