namespace EarCoach.Scores.Written;

/// <summary>In which order measures with repeat signs and voltas are played.</summary>
internal static class PlayOrder
{
    /// <summary>Indices of the measures in the order of playing.</summary>
    /// <exception cref="ScoreException">Too many measures, or a jump.</exception>
    public static IReadOnlyList<int> Of(IReadOnlyList<WrittenMeasure> measures, RepeatReading reading, string place)
    {
        if (reading == RepeatReading.AsPrinted)
        {
            return [.. Enumerable.Range(0, measures.Count)];
        }

        if (measures.FirstOrDefault(measure => measure.Jump is not null)?.Jump is { } jump)
        {
            throw new ScoreException(
                ScoreFailure.Unsupported, jump.Place, $"A jump ({jump.Name}) is not written out. Read the bars as printed, or write the music out in the notation program.");
        }

        const int MostMeasures = 20_000;
        List<int> order = [];
        int start = 0;
        int pass = 1;
        for (int index = 0; index < measures.Count;)
        {
            WrittenMeasure measure = measures[index];
            if (measure.RepeatStarts && index != start)
            {
                start = index;
                pass = 1;
            }

            bool isPlayed = measure.EndingNumbers.Count == 0 || measure.EndingNumbers.Contains(pass);
            if (isPlayed)
            {
                order.Add(index);
            }

            if (order.Count > MostMeasures)
            {
                throw new ScoreException(ScoreFailure.TooLarge, place, $"With repeats the part has more than {MostMeasures} measures. Export only the bars you practise.");
            }

            bool goesBack = isPlayed && measure.RepeatEnds > 0 && (pass < measure.RepeatEnds || HasVoltaFor(measures, index, pass + 1));
            if (goesBack)
            {
                index = start;
                pass++;
            }
            else
            {
                bool leavesRepeat = isPlayed && measure.RepeatEnds > 0;
                index++;
                if (leavesRepeat || (isPlayed && measure.EndingNumbers.Count > 0 && !NextIsSameVolta(measures, index)))
                {
                    start = index;
                    pass = 1;
                }
            }
        }

        return order.Count > 0
            ? order
            : throw new ScoreException(ScoreFailure.Malformed, place, "No bar is played on the first pass: all stand in later endings. Correct the endings, or read the bars as printed.");
    }

    /// <summary>Whether this volta, or one that follows it at once, is for the given pass: then the repeat is played that often, whatever its sign says.</summary>
    private static bool HasVoltaFor(IReadOnlyList<WrittenMeasure> measures, int index, int pass) =>
        measures.Skip(index).TakeWhile(measure => measure.EndingNumbers.Count > 0).Any(measure => measure.EndingNumbers.Contains(pass));

    private static bool NextIsSameVolta(IReadOnlyList<WrittenMeasure> measures, int next) =>
        next < measures.Count && measures[next].EndingNumbers.Count > 0 && measures[next].EndingNumbers.SequenceEqual(measures[next - 1].EndingNumbers);
}
