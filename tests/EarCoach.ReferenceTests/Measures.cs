namespace EarCoach.ReferenceTests;

/// <summary>The measures by which pitch and onset detectors are compared.</summary>
internal static class Measures
{
    private const double AfterOnsetSeconds = 0.10;
    private const double BeforeOffsetSeconds = 0.05;
    private const double GrossSemitones = 0.5;

    /// <summary>Counts the frames within steady notes, and those of them without a pitch within 50 cents of the label.</summary>
    /// <remarks>Source of the limit: raw pitch accuracy of mir_eval (melody.py), 50 cents; an estimate of no pitch counts as wrong.</remarks>
    public static (int Wrong, int All) GrossErrors(IEnumerable<PitchPoint> heard, IReadOnlyList<LabelledNote> notes)
    {
        int wrong = 0;
        int all = 0;
        foreach (PitchPoint point in heard)
        {
            LabelledNote? note = notes.FirstOrDefault(n => point.Seconds >= n.OnsetSeconds + AfterOnsetSeconds && point.Seconds <= n.OffsetSeconds - BeforeOffsetSeconds);
            if (note is not null)
            {
                all++;
                wrong += point.Midi is { } midi && Math.Abs(midi - note.Midi) < GrossSemitones ? 0 : 1;
            }
        }

        return (wrong, all);
    }

    /// <summary>How many onsets can be matched one to one within the window, its limit included.</summary>
    /// <remarks>Both lists in order: taking the earliest that fits is then the largest matching. Source of the windows: MIREX onset detection, 50 ms;
    /// 25 ms as the stricter one in use.</remarks>
    public static int Matches(IReadOnlyList<double> heard, IReadOnlyList<double> labelled, double windowSeconds)
    {
        int matches = 0;
        int i = 0;
        int j = 0;
        while (i < heard.Count && j < labelled.Count)
        {
            double difference = heard[i] - labelled[j];
            if (Math.Abs(difference) <= windowSeconds)
            {
                matches++;
                i++;
                j++;
            }
            else if (difference < 0)
            {
                i++;
            }
            else
            {
                j++;
            }
        }

        return matches;
    }

    /// <summary>Harmonic mean of precision and recall.</summary>
    public static double F(int matches, int heard, int labelled) => heard + labelled == 0 ? 1 : 2.0 * matches / (heard + labelled);
}
