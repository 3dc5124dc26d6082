using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Tells whether every fault of an attempt lies under a loud sound without pitch: a cough, a slammed door. Then nobody can know.</summary>
/// <remarks>
/// Such a sound is at least as loud as the notes beside it, has no clear period, and fills the spectrum instead of standing in lines (spectral
/// flatness by octaves, after Johnston 1988, IEEE J. Sel. Areas Commun. 6, 314-323). So neither an echo nor a cracked tone is one.
/// A single fault anywhere else, and the attempt is missed as it would be without the noise.
/// </remarks>
internal sealed class NoiseCover
{
    private const double LeastShare = 0.6;         // of a note's span, or of the moments around an onset
    private const double SoundingShare = 0.8;      // of a note's written length: the rest may be silent in any style of playing
    private const double AroundOnsetSeconds = 0.06;
    private const float UnclearBelow = 0.55f;
    private const float LeastAboveFloorDb = 7f;
    private const double LeastFlatness = 0.35;     // white noise over five windows 0.9, a tone of harmonics below 0.1
    private const double OverdrivenDbfs = -6;      // peaks of a noise stand some 12 dB over its level: above this they are cut off
    private readonly RegionSound _sound;
    private readonly AttemptResult _attempt;
    private readonly TargetNote[] _targets;
    private readonly TempoLine _line;
    private readonly List<float> _levels = [];

    private NoiseCover(RegionSound sound, AttemptResult attempt, TargetNote[] targets, TempoLine line)
    {
        _sound = sound;
        _attempt = attempt;
        _targets = targets;
        _line = line;
    }

    /// <summary>"noise" or "clipping" where the attempt cannot be judged for it, else null.</summary>
    public static string? ReasonFor(RegionSound sound, AttemptResult attempt, TargetNote[] targets)
    {
        if (attempt.Verdict != Verdict.Missed || attempt.Reason is not null)
        {
            return null;
        }

        NoteResult[] heard = [.. attempt.Notes.Where(n => n.OnsetSeconds is not null)];
        double[] due = [.. heard.Select(n => targets[n.Index].OnsetSeconds)];
        double[] onsets = [.. heard.Select(n => n.OnsetSeconds!.Value)];
        return heard.Length >= 2 && TempoLine.Fit(due, onsets) is { } line ? new NoiseCover(sound, attempt, targets, line).Reason() : null;
    }

    private string? Reason()
    {
        bool hidden = _attempt.Notes.All(n => n.Faults.All(fault => IsHidden(n, fault)))
            && _attempt.ExtraNotes.All(extra => IsCovered(extra.OnsetSeconds - AroundOnsetSeconds, extra.OnsetSeconds + AroundOnsetSeconds, extra.AfterIndex));
        if (!hidden || _levels.Count == 0)
        {
            return null;
        }

        _levels.Sort();
        return _levels[_levels.Count / 2] > OverdrivenDbfs ? NotCountedReasons.Clipping : NotCountedReasons.Noise;
    }

    private bool IsHidden(NoteResult note, NoteFault fault)
    {
        double due = _line.At(_targets[note.Index].OnsetSeconds);
        double onset = note.OnsetSeconds ?? due;
        return fault switch
        {
            NoteFault.Extra => _attempt.ExtraNotes.Any(extra => extra.AfterIndex == note.Index), // held against the extra notes themselves
            NoteFault.Early or NoteFault.Late => IsCovered(Math.Min(due, onset) - AroundOnsetSeconds, Math.Max(due, onset), note.Index),
            NoteFault.Cracked => IsCovered(onset, onset + ((note.CrackMs ?? 0) / 1000), note.Index),
            _ => IsCovered(due, due + (SoundingShare * _line.Stretch * _targets[note.Index].LengthSeconds), note.Index),
        };
    }

    private bool IsCovered(double fromSeconds, double toSeconds, int index)
    {
        if (LevelBeside(index) is not { } beside)
        {
            return false;
        }

        int from = (int)Math.Floor(_sound.FrameOfSeconds(fromSeconds));
        int to = Math.Max(from + 1, (int)Math.Ceiling(_sound.FrameOfSeconds(toSeconds)));
        int first = -1, last = -1, noisy = 0;
        for (int t = Math.Max(0, from); t < Math.Min(to, _sound.Frames.Length); t++)
        {
            ref readonly HeardFrame frame = ref _sound.Frames[t];
            if (frame.Clarity < UnclearBelow && frame.LevelDbfs >= beside && frame.AboveFloorDb > LeastAboveFloorDb && !frame.Deaf)
            {
                first = first < 0 ? t : first;
                last = t;
                noisy++;
                _levels.Add(frame.LevelDbfs);
            }
        }

        return noisy >= LeastShare * (to - from) && Flatness(first, last) > LeastFlatness;
    }

    /// <summary>Median level of the louder of the notes next to one; null when none was heard.</summary>
    private float? LevelBeside(int index)
    {
        NoteResult?[] beside =
        [
            _attempt.Notes.LastOrDefault(n => n.Index < index && n is { OnsetSeconds: not null, Faults.Length: 0 }),
            _attempt.Notes.FirstOrDefault(n => n.Index > index && n is { OnsetSeconds: not null, Faults.Length: 0 }),
        ];
        float? loudest = null;
        foreach (NoteResult note in beside.OfType<NoteResult>())
        {
            int from = Math.Clamp((int)_sound.FrameOfSeconds(note.OnsetSeconds!.Value), 0, _sound.Frames.Length - 1);
            int to = Math.Clamp((int)_sound.FrameOfSeconds(note.OffsetSeconds!.Value), from + 1, _sound.Frames.Length);
            loudest = Math.Max(loudest ?? float.NegativeInfinity, _sound.MedianDbfs(from, to));
        }

        return loudest;
    }

    private double Flatness(int firstFrame, int lastFrame)
    {
        const double LowestHz = 160;
        const double HighestHz = 5_120;
        const double StepHz = 20;
        double rate = _sound.AnalysisRateHz;
        double from = _sound.AnalysisSampleOf(firstFrame);
        double to = _sound.AnalysisSampleOf(lastFrame);
        int half = (int)Math.Min(0.03 * rate, 0.5 * (to - from));
        if (half < 0.015 * rate)
        {
            return 0;
        }

        var spectrum = new StretchSpectrum(_sound, from, to, half, 5);
        double weighted = 0, total = 0;
        for (double octave = LowestHz; octave < HighestHz; octave *= 2)
        {
            double sum = 0, logs = 0;
            int count = 0;
            for (double hz = octave; hz < Math.Min(2 * octave, 0.45 * rate); hz += StepHz)
            {
                double power = spectrum.MeanPower(hz) + 1e-16;
                sum += power;
                logs += Math.Log(power);
                count++;
            }

            weighted += sum * (Math.Exp(logs / count) / (sum / count));
            total += sum;
        }

        return weighted / total;
    }
}
