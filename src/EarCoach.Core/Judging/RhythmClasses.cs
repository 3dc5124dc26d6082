using EarCoach.Core.Passages;

namespace EarCoach.Core.Judging;

/// <summary>Judges a rhythm by class: long notes must be clearly longer than short ones, by how much is the player's.</summary>
/// <remarks>
/// The length of a note is the time from its onset to the next; the last note has none. Notes of one written length are a class. Three rules:
/// of two neighbours of which one is written at least twice as long as the other it is at least <see cref="Tolerances.LongRatio"/> times as
/// long (where less is written, at least halfway from equal to written); notes of one class are within <see cref="Tolerances.EvenShare"/> of
/// the class's median, or within <see cref="Tolerances.OnsetMs"/> where that is more; no note is more than twice, or less than half, as long
/// as written. Only a long against a short note is judged where both begin within <see cref="Tolerances.OnsetMs"/> of the tempo line: what is bent
/// in one group of notes may leave the first of the next group, in its right place, next to a note that is now as long as it. That durations of rhythm variants are not set in stone is common practice (bretpimentel.com, on practising rhythms).
/// </remarks>
internal static class RhythmClasses
{
    /// <summary>How far an onset may lie from where it was found: what is not certainly beyond a limit is within it (ISO 14253-1).</summary>
    private const double OnsetDoubtSeconds = 0.015;

    private const double Twice = 2;

    /// <summary>The onsets that break the rhythm, each with <see cref="NoteFault.Early"/> or <see cref="NoteFault.Late"/>, by index of their notes.</summary>
    /// <param name="onsets">The notes in order. Ornaments have no class of their own: they are not among them.</param>
    /// <param name="limits">How strict.</param>
    public static Dictionary<int, NoteFault> FaultsOf(IReadOnlyList<RhythmOnset> onsets, Tolerances limits)
    {
        var faults = new Dictionary<int, NoteFault>();
        List<RhythmInterval> intervals = [.. Enumerable.Range(0, Math.Max(0, onsets.Count - 1)).Select(i => new RhythmInterval(onsets[i], onsets[i + 1])).Where(IsTold)];
        for (int i = 0; i + 1 < intervals.Count; i++)
        {
            if (intervals[i].To.Index == intervals[i + 1].From.Index)
            {
                JudgePair(intervals[i], intervals[i + 1], limits, faults);
            }
        }

        foreach (IGrouping<Fraction, RhythmInterval> sameLength in intervals.GroupBy(interval => interval.Written))
        {
            JudgeClass([.. sameLength], limits, faults);
        }

        return faults;
    }

    private static bool IsTold(RhythmInterval interval) =>
        interval.From is { HeardSeconds: not null, IsFollowedByExtra: false }
        && (interval.From.MsOff is not null || interval.From.BeginsAnew)
        && interval.To is { HeardSeconds: not null, MsOff: not null }
        && interval.DueSeconds > 0;

    private static void JudgePair(RhythmInterval first, RhythmInterval second, Tolerances limits, Dictionary<int, NoteFault> faults)
    {
        if (first.Written == second.Written)
        {
            return;
        }

        bool isLongFirst = first.Written > second.Written;
        (RhythmInterval longer, RhythmInterval shorter) = isLongFirst ? (first, second) : (second, first);
        double written = (longer.Written / shorter.Written).ToDouble();
        double asked = Math.Min(limits.LongRatio, (1 + written) / 2);
        double heardLong = (longer.HeardSeconds + OnsetDoubtSeconds) / longer.DueSeconds;
        double heardShort = (shorter.HeardSeconds - OnsetDoubtSeconds) / shorter.DueSeconds;
        if (written * heardLong >= asked * heardShort)
        {
            return;
        }

        (NoteFault between, NoteFault around) = isLongFirst ? (NoteFault.Early, NoteFault.Late) : (NoteFault.Late, NoteFault.Early);
        if (written >= Twice)
        {
            Blame(faults, double.NegativeInfinity, [(first.From, around), (first.To, between), (second.To, around)]);
        }
        else
        {
            Blame(faults, limits.OnsetMs, [(first.To, between)]);
        }
    }

    private static void JudgeClass(RhythmInterval[] intervals, Tolerances limits, Dictionary<int, NoteFault> faults)
    {
        double room = limits.OnsetMs / 1000;
        double[] stretches = [.. intervals.Select(interval => interval.Stretch).Order()];
        double median = (stretches[(stretches.Length - 1) / 2] + stretches[stretches.Length / 2]) / 2;
        foreach (RhythmInterval interval in intervals)
        {
            double usual = median * interval.DueSeconds;
            double off = interval.HeardSeconds - usual;
            bool isUneven = Math.Abs(off) > Math.Max(limits.EvenShare * usual, room);
            bool isTooLong = interval.HeardSeconds > (Twice * interval.DueSeconds) + room;
            bool isTooShort = interval.HeardSeconds < (interval.DueSeconds / Twice) - room;
            if (isTooLong || (isUneven && off > 0))
            {
                Blame(faults, limits.OnsetMs, [(interval.From, NoteFault.Early), (interval.To, NoteFault.Late)]);
            }
            else if (isTooShort || isUneven)
            {
                Blame(faults, limits.OnsetMs, [(interval.From, NoteFault.Late), (interval.To, NoteFault.Early)]);
            }
        }
    }

    /// <summary>Of the onsets that could each have broken a rule, by the way they would have to be off: the one that is off most, if by more than this.</summary>
    private static void Blame(Dictionary<int, NoteFault> faults, double mostMs, ReadOnlySpan<(RhythmOnset Onset, NoteFault Fault)> suspects)
    {
        (RhythmOnset Onset, NoteFault Fault)? most = null;
        foreach ((RhythmOnset onset, NoteFault fault) in suspects)
        {
            double? ms = fault == NoteFault.Late ? onset.MsOff : -onset.MsOff;
            if (ms > mostMs)
            {
                mostMs = ms.Value;
                most = (onset, fault);
            }
        }

        if (most is { } found)
        {
            faults.TryAdd(found.Onset.Index, found.Fault);
        }
    }
}
