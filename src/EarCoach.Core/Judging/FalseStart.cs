namespace EarCoach.Core.Judging;

/// <summary>Tells a false start, one or two notes at once begun again, from an attempt that was broken off.</summary>
/// <remarks>
/// Only an attempt that at least two notes are lacking of can be one: when no more than one lacks, the task was played, and the lacking note is
/// a fault. So no attempt at a task of one or two notes is a false start, and of three notes only one note alone.
/// </remarks>
internal static class FalseStart
{
    /// <summary>A player who begins again later than this after the break has thought about it: common practice, our choice.</summary>
    public const double LongestPauseSeconds = 1.0;

    private const int MostNotes = 2;
    private const int LeastLacking = 2;
    private const double LeastSilenceSeconds = 0.25; // a stutter's hole is shorter
    private const double LeastPauseSeconds = 0.5;    // beyond what is written: who played the first note would begin again
    private const double SamePitchSemitones = 0.5;
    private const float RingDb = 9;                  // so much weaker than what is played after it: the ring of what was before

    /// <summary>Whether what was heard so far could turn out to be a false start if the passage is begun again.</summary>
    public static bool MayBe(AttemptPath path) =>
        path.SoundingNotes <= MostNotes && path.NoteCount - path.SoundingNotes >= LeastLacking;

    /// <summary>Whether an attempt is a false start, given the one that follows it.</summary>
    public static bool Is(AttemptResult attempt, AttemptResult next) =>
        attempt.Verdict == Verdict.Missed
        && attempt.Notes.Count(n => n.OnsetSeconds is not null) is var heard && heard + attempt.ExtraNotes.Length <= MostNotes
        && attempt.Notes.Length - heard >= LeastLacking
        && next.StartSeconds - attempt.EndSeconds <= LongestPauseSeconds
        && next.Notes[0] is { OnsetSeconds: not null } first && !first.Faults.Contains(NoteFault.WrongPitch);

    /// <summary>
    /// Cuts off a first note that was played alone before the passage was begun: to the decoder it looks like a first note with a silence in
    /// it, but the notes after it keep time with the second stroke. The ring of the attempt before, taken for a first note, is dropped.
    /// </summary>
    public static List<AttemptPath> CutOff(List<AttemptPath> attempts, TargetNote[] targets, RegionSound sound, RegionEvidence evidence)
    {
        var result = new List<AttemptPath>(attempts.Count);
        foreach (AttemptPath attempt in Joined(attempts, targets, sound))
        {
            result.AddRange(targets.Length > MostNotes ? Cut(attempt, targets, sound, evidence) : [attempt]);
        }

        return [.. result.Where((a, i) => i + 1 == result.Count || !MayBe(a) || !IsRingBefore(result[i + 1], a.FirstFrame, a.EndFrame, sound))];
    }

    /// <summary>The attempt without the ring of the one before that was taken for its first note, a long pause before the second.</summary>
    private static AttemptPath WithoutRing(AttemptPath attempt, TargetNote[] targets, RegionSound sound)
    {
        IReadOnlyList<PathStep> steps = attempt.Steps;
        int k = 0;
        while (k < steps.Count && steps[k].Index == 0)
        {
            k++;
        }

        if (k == 0 || k + 1 >= steps.Count || steps[k] is not { Activity: Activity.Rest, Index: 1 } pause)
        {
            return attempt;
        }

        double written = targets[1].OnsetSeconds - targets[0].OnsetSeconds - targets[0].LengthSeconds;
        return pause.Frames > (written + LeastPauseSeconds) * sound.FramesPerSecond && IsRingBefore(attempt, steps[0].FirstFrame, pause.FirstFrame, sound)
            ? attempt.With([new PathStep(Activity.Rest, 0, 0, (pause.FirstFrame + pause.EndFrame) / 2, pause.EndFrame), .. steps.Skip(k + 1)])
            : attempt;
    }

    private static bool IsRingBefore(AttemptPath next, int from, int end, RegionSound sound) =>
        sound.LoudestDbfs(from, end) <= sound.LoudestDbfs(Math.Max(end, next.FirstFrame), next.EndFrame) - RingDb;

    /// <summary>
    /// Which note of an attempt a single note soon after it is: the last, one of the two that were due next, or null for none of them. Who begins
    /// again begins with the first note; a single other one that would go on with the attempt is its tail.
    /// </summary>
    /// <param name="tail">The single note.</param>
    /// <param name="last">The last note of the attempt before that was heard.</param>
    /// <param name="targets">The task.</param>
    public static int? TailOf(AttemptPath tail, int last, IReadOnlyList<TargetNote> targets)
    {
        PathStep[] sounding = [.. tail.Steps.Where(s => s.Sounds)];
        if (last < 0 || tail.SoundingNotes != 1 || !tail.Heard(0) || sounding.MaxBy(s => s.Frames) is not { Activity: Activity.Other, Midi: var midi })
        {
            return null;
        }

        return Enumerable.Range(last, 3).Where(i => i < targets.Count && Math.Abs(targets[i].Midi - midi) < SamePitchSemitones).Select(i => (int?)i).LastOrDefault();
    }

    /// <summary>Joins the tail of an attempt to it that the decoder took for another one.</summary>
    private static List<AttemptPath> Joined(List<AttemptPath> attempts, TargetNote[] targets, RegionSound sound)
    {
        var joined = new List<AttemptPath>(attempts.Count);
        foreach (AttemptPath attempt in attempts)
        {
            if (joined.Count > 0 && joined[^1] is var before && attempt.FirstFrame - before.EndFrame < LongestPauseSeconds * sound.FramesPerSecond
                && before.Reached(targets, sound.FramesPerSecond) is var last && TailOf(attempt, last, targets) is { } index)
            {
                if (index > last)
                {
                    joined[^1] = before.With([.. before.Steps.Where(s => s.Index < index), new PathStep(Activity.Note, index, 0, attempt.FirstFrame, attempt.EndFrame)]);
                }

                continue;
            }

            joined.Add(attempt);
        }

        return joined;
    }

    private static IEnumerable<AttemptPath> Cut(AttemptPath attempt, TargetNote[] targets, RegionSound sound, RegionEvidence evidence)
    {
        attempt = WithoutRing(attempt, targets, sound);
        IReadOnlyList<PathStep> steps = attempt.Steps;
        for (int k = 1; k + 1 < steps.Count && steps[k].Index == 0; k++)
        {
            PathStep hole = steps[k];
            if (hole.Activity == Activity.Hole && steps[k + 1] is { Index: 0, Activity: Activity.Note } again
                && IsSilent(hole, evidence, sound.FramesPerSecond) && KeepsTimeWith(again.FirstFrame, attempt, targets, sound))
            {
                int middle = (hole.FirstFrame + hole.EndFrame) / 2;
                if (!IsRingBefore(attempt, steps[0].FirstFrame, hole.FirstFrame, sound))
                {
                    yield return attempt.With([.. steps.Take(k), new PathStep(Activity.Rest, 1, 0, hole.FirstFrame, middle)]);
                }

                yield return attempt.With([new PathStep(Activity.Rest, 0, 0, middle, hole.EndFrame), .. steps.Skip(k + 1)]);
                yield break;
            }
        }

        yield return attempt;
    }

    private static bool IsSilent(PathStep hole, RegionEvidence evidence, double framesPerSecond)
    {
        int silent = 0;
        for (int t = hole.FirstFrame; t < hole.EndFrame; t++)
        {
            silent += evidence.Silence[t] > 0 ? 1 : 0;
        }

        return silent >= LeastSilenceSeconds * framesPerSecond;
    }

    /// <summary>Whether the notes after the first agree with its second stroke rather than with its first.</summary>
    private static bool KeepsTimeWith(int secondStroke, AttemptPath attempt, TargetNote[] targets, RegionSound sound)
    {
        if (attempt.TempoOf(targets, sound, fromIndex: 1) is not { } line)
        {
            return false;
        }

        double first = line.At(0) - sound.SecondsOfFrame(attempt.FirstFrame);
        double second = line.At(0) - sound.SecondsOfFrame(secondStroke);
        return Math.Abs(second) < Math.Abs(first);
    }
}
