using System.Collections.Immutable;
using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Measures one note of an attempt: onset, pitch, cracks, re-strikes.</summary>
internal static class NoteMeasurer
{
    private const double SettlingCents = 15;        // blown and bowed tones settle within their first third of a second; measured on real instruments
    private const double SettledSeconds = 0.32;
    private const double UnsettledSeconds = 0.1;
    private const double AttackSeconds = 0.025;     // with the ending, what is no steady part of a note
    private const double EndingSeconds = 0.020;
    private const double LeastSteadySeconds = 0.060;
    private const int LeastSteadyPeriods = 3;
    private const double MostSettling = 0.05;       // semitones: more is the next note, mixed with this one's end
    private const double WanderShare = 0.5;
    private const double UnsettledWanderShare = 0.4; // and so much more in the shortest notes
    private const double MostDoubtCents = 16;
    private const double MostUnsettledCents = 2;    // likewise: of real horn notes of 0.1 s that settle right, one in a hundred is 40 cents off
    private const double SilenceSeconds = 0.06;     // a longer hole than the strokes of a tongue leave
    private const double SilenceDepthDb = 18;
    private const float QuietDb = 12;
    private const double SureRiseDb = 10;
    private const double BeforeTenthSeconds = 0.035; // so long before its own harmonics have risen a tenth, no note begins,
    private const double BeforeHalfSeconds = 0.075; // or so long before they have half risen;
    private const double MostLaterSeconds = 0.020;  // some rise slowly, and some begin in a noise
    private const double AfterThirdSeconds = 0.008; // nor so much later than they have risen a third
    private const double SureCrackSeconds = 0.05;   // what the frames tell of another pitch
    private const double PassingSeconds = 0.06;     // on the way from one pitch to another the right one is passed,
    private const double PassingShare = 0.25;       // but the other one is held,
    private const double PassingOutOfTuneShare = 0.5; // most of all where it is the semitone beside: a note out of tune
    private const double BesideSemitones = 1.5;
    private const double MostGlide = 0.3;           // semitones: what moves farther is on its way to the next note
    private const double NearSeconds = 0.15;        // so long after the end of a sound its pitch is still that before
    private const double EchoSeconds = 0.5;
    private const double SamePitchSemitones = 0.4;

    public static MeasuredNote Measure(
        RegionSound sound, AttemptPath path, int index, TargetNote target, ImmutableArray<ExtraNote>.Builder extras)
    {
        PathStep[] steps = [.. path.Of(index)];
        int noteFrames = steps.Where(s => s.Activity == Activity.Note).Sum(s => s.Frames);
        int otherFrames = steps.Where(s => s.Activity == Activity.Other).Sum(s => s.Frames);
        if (noteFrames < PathStep.LeastFrames && otherFrames < PathStep.LeastFrames)
        {
            return default;
        }

        bool outOfTune = steps.Where(s => s.Activity == Activity.Other).All(s => IsBeside(s, target.Midi));
        bool passing = noteFrames < PassingSeconds * sound.FramesPerSecond && noteFrames < (outOfTune ? PassingOutOfTuneShare : PassingShare) * otherFrames;
        bool overblown = steps.Where(s => OctaveTest.IsHigher(s, target.Midi)).Sum(s => s.Frames) > noteFrames; // its attack has the lower pitch, too
        bool right = noteFrames >= PathStep.LeastFrames && !passing && !overblown;
        PathStep main = right
            ? steps.First(s => s.Activity == Activity.Note)
            : steps.Where(s => s.Activity == Activity.Other).MaxBy(s => s.Frames);
        double pitch = right ? target.Midi : main.Midi;
        int first = steps.First(s => s.Sounds).FirstFrame;
        int end = steps.Last(s => s.Sounds).EndFrame;

        SteadyPitch steady = Pitch(sound, steps, right, main, pitch);
        double heard = steady.Midi;
        double firstPitch = steps.First(s => s.Sounds) is { Activity: Activity.Other } begins
            ? begins.Midi
            : heard;
        PathStep? before = SoundBefore(path, first);
        double rising = Onset(sound, before, first, end, firstPitch);
        (double onset, double? rise) = Bounded(sound, rising, before, first, end, firstPitch);
        bool tooShort = steady.TooShort || IsTooShort(onset, sound.SecondsOfFrame(end), pitch);
        if (!right)
        {
            return new MeasuredNote(onset, sound.SecondsOfFrame(first), sound.SecondsOfFrame(end), steady.SettledMidi, steady.DoubtCents, null, false, tooShort, rise);
        }

        // Another pitch that the frames show must be there in the samples too; one too short for the frames may be.
        double rate = sound.AnalysisRateHz;
        double? crackMs = null;
        double? breaks = null;
        if (Crack(sound, path, before, first, end, rising, heard) is { } crack)
        {
            crackMs = 1000 * (crack.End - crack.Start) / rate;
            onset = sound.SecondsOf(crack.Start);
        }
        else if (steps.Where(s => IsSureCrack(sound, path, s, heard)).Select(s => (PathStep?)s).MaxBy(s => s!.Value.Frames) is { } other)
        {
            crackMs = 1000 * other.Frames / sound.FramesPerSecond;
            breaks = sound.SecondsOfFrame(other.FirstFrame);
        }

        bool restruck = false;
        double begin = Math.Max(onset * sound.AnalysisRateHz, sound.AnalysisSampleOf(first));
        if ((StrokeFinder.Find(sound, begin, sound.AnalysisSampleOf(end - 1), heard) ?? AfterSilence(sound, steps, first, end, heard)) is { } again)
        {
            restruck = true;
            extras.Add(new ExtraNote(sound.SecondsOf(again), heard, index));
        }

        return new MeasuredNote(onset, sound.SecondsOfFrame(first), sound.SecondsOfFrame(end), steady.SettledMidi, steady.DoubtCents, crackMs, restruck, tooShort, rise, breaks);
    }

    /// <summary>Measures the pitch of a note once more, that turned out to last longer than it was heard to.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="note">What was measured of it.</param>
    /// <param name="pitch">The pitch that is written.</param>
    /// <param name="endSeconds">Where it ends.</param>
    /// <returns>The note with that pitch and end; null where the pitch is not held.</returns>
    public static MeasuredNote? WithEnd(RegionSound sound, MeasuredNote note, double pitch, double endSeconds)
    {
        int first = sound.FrameAt(note.FirstSeconds);
        int from = sound.FrameAt(note.OffsetSeconds ?? endSeconds);
        int until = sound.FrameAt(endSeconds);
        int added = until - from - (int)(EndingSeconds * sound.FramesPerSecond);
        if (added < 1 || IsTooShort(note.FirstSeconds, endSeconds, pitch))
        {
            return null;
        }

        double[] course = [.. Enumerable.Range(from, added).Select(t => (double)sound.Frames[t].Midi)];
        var whole = new PathStep(Activity.Note, 0, 0, first, until);
        SteadyPitch steady = Pitch(sound, [whole], right: true, whole, pitch);
        return steady.TooShort || course.Max() - course.Min() > MostGlide
            ? null
            : note with { HeardMidi = steady.SettledMidi, DoubtCents = steady.DoubtCents, SemitoneOnly = false, OffsetSeconds = endSeconds };
    }

    private static CrackFinder.Crack? Crack(RegionSound sound, AttemptPath path, PathStep? before, int first, int end, double onset, double heard)
    {
        double fps = sound.FramesPerSecond;
        double? Pitch(PathStep? step, int until, double seconds)
        {
            if (step is not { } last || until - last.EndFrame > seconds * fps)
            {
                return null;
            }

            double pitch = PitchOf(sound, path.Of(last.Index).Where(s => s.Sounds && s.EndFrame <= until).MaxBy(s => s.Frames)); // its main part
            return Math.Abs(pitch - heard) > SamePitchSemitones ? pitch : null;
        }

        PathStep? begins = before is { } any ? path.Of(any.Index).First(s => s.Sounds) : null;
        double? older = begins is { } start ? Pitch(SoundBefore(path, start.FirstFrame), start.FirstFrame, EchoSeconds) : null;
        double earliest = before is { } previous ? sound.AnalysisSampleOf(Math.Max(begins!.Value.FirstFrame + 4, previous.EndFrame - 30)) : 0;
        CrackFinder.Crack? crack = CrackFinder.Find(sound, onset * sound.AnalysisRateHz, earliest, sound.AnalysisSampleOf(end - 1), Pitch(before, first, NearSeconds), older, heard);
        return crack is { } found && sound.HoldsCue(sound.SecondsOf(found.Start), sound.SecondsOf(found.End)) ? null : crack;
    }

    /// <summary>Whether another pitch that the frames show is in the samples too.</summary>
    private static bool IsSureCrack(RegionSound sound, AttemptPath path, PathStep step, double heard)
    {
        if (step.Activity != Activity.Other || step.Frames < SureCrackSeconds * sound.FramesPerSecond)
        {
            return false;
        }

        double? old = SoundBefore(path, step.FirstFrame) is { } before ? PitchOf(sound, before) : null;
        return CrackFinder.Sounds(sound, sound.AnalysisSampleOf(step.FirstFrame), sound.AnalysisSampleOf(step.EndFrame), step.Midi, heard, old);
    }

    /// <summary>Where a note comes back after a silence within it; null when it has none.</summary>
    private static double? AfterSilence(RegionSound sound, PathStep[] steps, int first, int end, double pitch)
    {
        double smooth = Math.Max(0.008, 1.2 * PeriodOf(pitch));
        foreach (PathStep hole in steps.Where(s => s.Activity == Activity.Hole && s.Frames >= SilenceSeconds * sound.FramesPerSecond))
        {
            if (OnsetRefiner.GapDepthDb(sound, (hole.FirstFrame + hole.EndFrame) / 2, first, end, smooth) > SilenceDepthDb && IsQuiet(sound, hole, first, end))
            {
                return sound.AnalysisSampleOf(hole.EndFrame);
            }
        }

        return null;
    }

    /// <summary>Whether a hole is quiet for most of its length: a vibrato in a room swells and fades and has no silence.</summary>
    private static bool IsQuiet(RegionSound sound, PathStep hole, int first, int end) =>
        sound.MedianDbfs(hole.FirstFrame, hole.EndFrame) < Math.Min(sound.LoudestDbfs(first, hole.FirstFrame), sound.LoudestDbfs(hole.EndFrame, end)) - QuietDb;

    private static PathStep? SoundBefore(AttemptPath path, int first)
    {
        for (int k = path.Steps.Count - 1; k >= 0; k--)
        {
            if (path.Steps[k] is { Sounds: true } step && step.EndFrame <= first && path.Heard(step.Index))
            {
                return step;
            }
        }

        return null;
    }

    /// <summary>Holds an onset against the rise of the harmonics that only this note has.</summary>
    /// <returns>The onset, and where they begin to rise; null where that cannot be told. In seconds.</returns>
    private static (double Onset, double? Rise) Bounded(RegionSound sound, double onset, PathStep? before, int first, int end, double pitch)
    {
        if (before is not { } previous || first - previous.EndFrame > 0.3 * sound.FramesPerSecond)
        {
            return (onset, null);
        }

        double from = sound.AnalysisSampleOf(Math.Max(previous.FirstFrame + 5, previous.EndFrame - (0.12 * sound.FramesPerSecond)));
        double to = sound.AnalysisSampleOf(Math.Min(first + (0.06 * sound.FramesPerSecond), end - 3));
        if (PartialOnset.Find(sound, from, to, sound.AnalysisSampleOf(end - 2), pitch, PitchOf(sound, previous)) is not { ContrastDb: > SureRiseDb } rise)
        {
            return (onset, null);
        }

        // The end of the note before may be taken for the onset, and so may the moment at which its echo has died away.
        double tenth = sound.SecondsOf(rise.Tenth);
        double earliest = Math.Min(Math.Max(tenth - BeforeTenthSeconds, sound.SecondsOf(rise.Half) - BeforeHalfSeconds), onset + MostLaterSeconds);
        double latest = sound.SecondsOf(rise.Third) + AfterThirdSeconds;
        return (Math.Max(earliest, Math.Min(onset, latest)), tenth);
    }

    private static double Onset(RegionSound sound, PathStep? before, int first, int end, double pitch)
    {
        double period = PeriodOf(pitch);
        double smooth = Math.Max(0.008, 1.2 * period);
        double fps = sound.FramesPerSecond;
        if (before is not { } previous)
        {
            int quiet = Math.Max(0, first - 24);
            int afterCue = Array.FindLastIndex(sound.Frames, first, first - quiet + 1, frame => frame.Deaf) + 1; // a player may begin into the program's own cue
            return sound.SecondsOf(OnsetRefiner.Struck(sound, first, Math.Max(quiet, afterCue), end, smooth, null));
        }

        double oldPitch = PitchOf(sound, previous);
        bool same = Math.Abs(oldPitch - pitch) < 0.5;
        if (!same && first - previous.EndFrame < 0.15 * fps
            && OnsetRefiner.GapDepthDb(sound, (previous.EndFrame + first) / 2, previous.FirstFrame, end, smooth) < 6)
        {
            double from = Math.Max(previous.FirstFrame + (0.02 * fps), Math.Min(previous.EndFrame, first) - (0.10 * fps));
            double to = Math.Min(end - (0.02 * fps), first + (0.08 * fps));
            return sound.SecondsOf(OnsetRefiner.Crossing(sound, from, Math.Max(from + 1, to), PeriodOf(oldPitch), period));
        }

        int earliest = Math.Max(previous.FirstFrame, previous.EndFrame - (int)(0.06 * fps));
        return sound.SecondsOf(OnsetRefiner.Struck(sound, first, earliest, end, smooth, same ? null : PeriodOf(oldPitch)));
    }

    /// <summary>Whether another pitch that was heard is a note's own semitone or the one beside it: that of a note out of tune.</summary>
    /// <param name="other">The other pitch.</param>
    /// <param name="midi">That of the note.</param>
    public static bool IsBeside(PathStep other, double midi) => Math.Abs(other.Midi - midi) < BesideSemitones;

    private static bool IsTooShort(double onsetSeconds, double endSeconds, double pitch) =>
        endSeconds - onsetSeconds - AttackSeconds - EndingSeconds < Math.Max(LeastSteadySeconds, LeastSteadyPeriods * PeriodOf(pitch));

    private static double PeriodOf(double midi) => 1 / EqualTemperament.HzOf(midi);

    private static double PitchOf(RegionSound sound, PathStep step)
    {
        var values = new List<double>();
        for (int t = step.FirstFrame; t < step.EndFrame; t++)
        {
            if (sound.Frames[t].CandidateCount > 0)
            {
                values.Add(sound.Frames[t].Midi);
            }
        }

        values.Sort();
        return values.Count > 0 ? values[values.Count / 2] : step.Midi;
    }

    private static SteadyPitch Pitch(RegionSound sound, PathStep[] steps, bool right, PathStep main, double pitch)
    {
        float reach = right ? 0.95f : 0.8f;
        var values = new List<double>();
        foreach (PathStep step in steps)
        {
            bool part = right ? step.Activity is Activity.Note or Activity.Hole : step == main;
            if (!part)
            {
                continue;
            }

            int length = step.Frames;
            int from = step.FirstFrame + Math.Max(Math.Min((int)(0.06 * sound.FramesPerSecond), length / 3), length / 4);
            int to = step.EndFrame - Math.Min((int)(0.03 * sound.FramesPerSecond), length / 4);
            for (int t = from; t < to; t++)
            {
                ref readonly HeardFrame frame = ref sound.Frames[t];
                float best = float.NegativeInfinity;
                double at = double.NaN;
                for (int k = 0; k < frame.CandidateCount; k++)
                {
                    PitchCandidate candidate = frame.Candidates[k];
                    if (Math.Abs(candidate.Midi - pitch) < reach && candidate.Weight > best)
                    {
                        best = candidate.Weight;
                        at = candidate.Midi;
                    }
                }

                if (best > -3f)
                {
                    values.Add(at);
                }
            }
        }

        if (values.Count == 0)
        {
            return new SteadyPitch(pitch, pitch, 0, true); // the main part's in any case
        }

        double first = Median(values[..((values.Count + 1) / 2)]);
        double second = Median(values[(values.Count / 2)..]);
        values.Sort();
        double quartiles = values[3 * values.Count / 4] - values[values.Count / 4];
        double seconds = (steps[^1].EndFrame - steps[0].FirstFrame) / sound.FramesPerSecond;
        double wander = 50 * Math.Max(quartiles, Math.Abs(second - first));
        double unsettled = Math.Clamp((SettledSeconds - seconds) / (SettledSeconds - UnsettledSeconds), 0, 1);
        double strays = (WanderShare + (UnsettledWanderShare * unsettled)) * wander;
        double doubt = Math.Min(MostDoubtCents + (MostUnsettledCents * unsettled), strays + (SettlingCents * unsettled));
        double middle = values[values.Count / 2];
        return new SteadyPitch(middle, middle + Math.Clamp(unsettled * (second - middle), -MostSettling, MostSettling), doubt, false);
    }

    private static double Median(List<double> values)
    {
        values.Sort();
        return values[values.Count / 2];
    }

    /// <summary>The pitch of a note.</summary>
    /// <param name="Midi">In the middle of it.</param>
    /// <param name="SettledMidi">In its second half, the shorter it is: an attack is on its way to the pitch.</param>
    /// <param name="DoubtCents">How far it may be from what was played.</param>
    /// <param name="TooShort">Whether it is too short for more than its semitone.</param>
    private readonly record struct SteadyPitch(double Midi, double SettledMidi, double DoubtCents, bool TooShort);
}
