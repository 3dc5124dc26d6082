namespace EarCoach.Core.Judging;

/// <summary>
/// Tells an attempt from what else a player plays between attempts: another tune, a scale, or a few notes from within the task, tried for
/// themselves.
/// </summary>
/// <remarks>
/// Heard and written pitches are laid beside each other as in <see href="https://doi.org/10.1145/321796.321811">Wagner and Fischer 1974</see>: a
/// note left out or added costs 1, one of another pitch 0.5 to 1, the further off the more; a player may stop anywhere. However many notes
/// are wrong, playing that follows the task costs less than another tune does: of 199 made attempts with 20 to 60 % of their notes wrong and
/// some left out the dearest cost 0.79 a note, half of 166 other tunes of four notes or more cost more than that. So most wrong notes are faults
/// still; the whole task in another octave or key is a fault, too.
/// </remarks>
internal static class OtherPlaying
{
    private const double LeastSeconds = 0.055;    // of what counts as a note,
    private const double LeastShare = 0.35;       // or so much of a short one that the task has there: a slow attack takes most of it
    private const int LeastNotes = 4;             // of another tune: two or three wrong notes are an attempt that went wrong at once
    private const double AnotherCost = 0.8;       // a note
    private const double TransposedCost = 0.35;   // a note: the task in another key
    private const int FirstWithin = 2;            // who lacks only the first note may have failed to sound it
    private const double WithinCost = 0.3;        // a note, from where in the task it fits best
    private const double FromStartCost = 1.4;     // more of all notes together, from its beginning; one note alone costs less
    private const double LongestPauseSeconds = 0.5; // in one tune
    private const double PartCost = 0.45;         // a note
    private const double SamePitchSemitones = 0.6;
    private const double LeastWrongCost = 0.5;
    private const double MostOffSemitones = 4;

    /// <summary>Why missed attempts are none at this task, as in <see cref="NotCountedReasons"/>; null where one is.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="attempts">The decoder's accounts of it.</param>
    /// <param name="targets">The task.</param>
    public static string?[] ReasonsFor(RegionSound sound, IReadOnlyList<AttemptPath> attempts, IReadOnlyList<TargetNote> targets)
    {
        double[] written = WithoutRepeats(targets.Select(target => target.Midi));
        double[][] heard = [.. attempts.Select(attempt => PitchesOf(sound, attempt, targets))];
        string?[] reasons = [.. heard.Select(pitches => ReasonFor(pitches, written))];

        // The decoder may have cut another tune into several attempts: what goes on with it is a part of it, unless it follows the task.
        bool GoesOn(int one, int next) => attempts[next].FirstFrame - attempts[one].EndFrame < LongestPauseSeconds * sound.FramesPerSecond;
        bool IsPart(int index, int beside) => reasons[index] is null && reasons[beside] == NotCountedReasons.SomethingElse
            && GoesOn(Math.Min(index, beside), Math.Max(index, beside)) && Cost(heard[index], written, 0, shift: 0) >= PartCost * heard[index].Length;
        for (int i = 1; i < reasons.Length; i++)
        {
            reasons[i] = IsPart(i, i - 1) ? NotCountedReasons.SomethingElse : reasons[i];
        }

        for (int i = reasons.Length - 2; i >= 0; i--)
        {
            reasons[i] = IsPart(i, i + 1) ? NotCountedReasons.SomethingElse : reasons[i];
        }

        return reasons;
    }

    private static string? ReasonFor(double[] heard, double[] written)
    {
        double fromStart = Cost(heard, written, 0, shift: 0);
        bool beginsElsewhere = heard is [var first, ..] && Math.Abs(first - written[0]) >= SamePitchSemitones;
        if (beginsElsewhere && Cost(heard, written, FirstWithin, shift: 0) is var within && within < WithinCost * heard.Length && fromStart - within > FromStartCost)
        {
            return NotCountedReasons.FromWithin;
        }

        bool isAnother = heard.Length >= LeastNotes && fromStart >= AnotherCost * heard.Length;
        return isAnother && !IsTransposed(heard, written) ? NotCountedReasons.SomethingElse : null;
    }

    private static double[] PitchesOf(RegionSound sound, AttemptPath attempt, IReadOnlyList<TargetNote> targets) => WithoutRepeats(attempt.Steps
        .Where(s => s.Sounds && s.Frames >= LeastOf(s, targets) * sound.FramesPerSecond)
        .Select(s => s.Activity == Activity.Note ? targets[s.Index].Midi : s.Midi));

    private static double LeastOf(PathStep step, IReadOnlyList<TargetNote> targets) =>
        step.Activity == Activity.Note ? Math.Min(LeastSeconds, LeastShare * targets[step.Index].LengthSeconds) : LeastSeconds;

    private static bool IsTransposed(double[] heard, double[] written) =>
        heard.SelectMany(h => written.Select(w => Math.Round(h - w))).Distinct().Any(shift => Cost(heard, written, 0, shift) < TransposedCost * heard.Length);

    /// <summary>A pitch struck several times is one: strokes are not what tells tunes apart.</summary>
    private static double[] WithoutRepeats(IEnumerable<double> pitches)
    {
        var result = new List<double>();
        foreach (double pitch in pitches)
        {
            if (result.Count == 0 || Math.Abs(result[^1] - pitch) >= SamePitchSemitones)
            {
                result.Add(pitch);
            }
        }

        return [.. result];
    }

    /// <summary>The least that it costs to take all that was heard for the task up to any note of it.</summary>
    /// <param name="heard">Pitches, fractional MIDI numbers.</param>
    /// <param name="written">Likewise.</param>
    /// <param name="from">0: from the first written note. More: from this one or any after it.</param>
    /// <param name="shift">How many semitones higher than written it is supposed to be.</param>
    private static double Cost(double[] heard, double[] written, int from, double shift)
    {
        var row = new double[written.Length + 1];
        for (int j = 0; j < row.Length; j++)
        {
            row[j] = from == 0 ? j : j < from ? double.PositiveInfinity : 0;
        }

        foreach (double pitch in heard)
        {
            double diagonal = row[0];
            row[0] = diagonal + 1;
            for (int j = 1; j < row.Length; j++)
            {
                double cost = Math.Min(diagonal + WrongCost(pitch - written[j - 1] - shift), Math.Min(row[j], row[j - 1]) + 1);
                diagonal = row[j];
                row[j] = cost;
            }
        }

        return row.Min();
    }

    private static double WrongCost(double semitones) =>
        Math.Abs(semitones) < SamePitchSemitones ? 0 : LeastWrongCost + ((1 - LeastWrongCost) * Math.Min(1, Math.Abs(semitones) / MostOffSemitones));
}
