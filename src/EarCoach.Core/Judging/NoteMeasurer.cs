using System.Collections.Immutable;
using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Measures one note of an attempt: onset, pitch, cracks, re-strikes.</summary>
internal static class NoteMeasurer
{
    private const int LeastFrames = 5;

    public static MeasuredNote Measure(
        RegionSound sound, RegionEvidence evidence, AttemptPath path, int index, TargetNote target, Tolerances tolerances, ImmutableArray<ExtraNote>.Builder extras)
    {
        _ = tolerances;
        PathStep[] steps = [.. path.Of(index)];
        int noteFrames = steps.Where(s => s.Activity == Activity.Note).Sum(s => s.EndFrame - s.FirstFrame);
        int otherFrames = steps.Where(s => s.Activity == Activity.Other).Sum(s => s.EndFrame - s.FirstFrame);
        if (noteFrames < LeastFrames && otherFrames < LeastFrames)
        {
            return default;
        }

        bool right = noteFrames >= LeastFrames;
        PathStep main = right
            ? steps.First(s => s.Activity == Activity.Note)
            : steps.Where(s => s.Activity == Activity.Other).MaxBy(s => s.EndFrame - s.FirstFrame);
        double pitch = right ? target.Midi : main.Midi;
        int first = steps.First(s => s.Activity is Activity.Note or Activity.Other).FirstFrame;
        int end = steps.Last(s => s.Activity is Activity.Note or Activity.Other).EndFrame;

        double? heard = Pitch(sound, steps, right, main, pitch);
        double crackMs = 0;
        bool restruck = false;
        if (right)
        {
            foreach (PathStep step in steps)
            {
                if (step.Activity == Activity.Other)
                {
                    crackMs = Math.Max(crackMs, 1000.0 * (step.EndFrame - step.FirstFrame) / sound.FramesPerSecond);
                }
                else if (step.Activity == Activity.Hole
                    && OnsetRefiner.StruckAgain(sound, step.EndFrame, first, end, PeriodOf(heard ?? pitch)) is { } again)
                {
                    restruck = true;
                    extras.Add(new ExtraNote(sound.SecondsOf(again), pitch, index));
                }
            }
        }

        double firstPitch = steps.First(s => s.Activity is Activity.Note or Activity.Other) is { Activity: Activity.Other } other
            ? other.Midi
            : heard ?? pitch;
        double onset = Onset(sound, path, first, end, firstPitch);
        return new MeasuredNote(onset, sound.SecondsOfFrame(end), heard, crackMs > 0 ? crackMs : null, restruck, false);
    }

    private static double Onset(RegionSound sound, AttemptPath path, int first, int end, double pitch)
    {
        // The sound before: the last note or other pitch that ends at or before this one's first frame.
        PathStep? before = null;
        foreach (PathStep step in path.Steps)
        {
            if (step.EndFrame <= first && step.Activity is Activity.Note or Activity.Other && step.EndFrame <= first)
            {
                before = step;
            }
        }

        double period = PeriodOf(pitch);
        double smooth = Math.Max(0.008, 1.2 * period);
        double fps = sound.FramesPerSecond;
        if (before is not { } previous)
        {
            return sound.SecondsOf(OnsetRefiner.Struck(sound, first, Math.Max(0, first - 24), end, smooth, null));
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

    private static double PeriodOf(double midi) => 1 / (440 * Math.Pow(2, (midi - 69) / 12));

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

    private static double? Pitch(RegionSound sound, PathStep[] steps, bool right, PathStep main, double pitch)
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

            int length = step.EndFrame - step.FirstFrame;
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
            return right ? pitch : main.Midi;
        }

        values.Sort();
        return values[values.Count / 2];
    }
}
