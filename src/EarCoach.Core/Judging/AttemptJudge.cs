using System.Collections.Immutable;

namespace EarCoach.Core.Judging;

/// <summary>Judges the attempts in a region of sound against a task.</summary>
internal sealed class AttemptJudge
{
    private const double OnsetDoubtMs = 20;    // 19 of 20 onsets are placed within this: README's table
    private const double OnsetDoubtShare = 0.3; // but strict limits stay strict
    private const double MostOutOfTuneCents = 88; // more is the semitone beside it
    private const int LeastWithoutCracks = 3;      // for a line through them
    private const float LeastAboveRoomDb = 8; // notes at 12 dB give 95 right verdicts of 100, at 7 dB 50
    private const double LossMarginSeconds = 0.25; // a note that was cut by the loss ends before it, or begins after it
    private readonly JudgingTask _task;
    private readonly TargetNote[] _targets;
    private readonly double _quartersPerMinute;
    private readonly EarlierAttempts _earlier;

    public AttemptJudge(JudgingTask task, EarlierAttempts earlier)
    {
        _earlier = earlier;
        _task = task;
        _quartersPerMinute = task.QuartersPerMinute ?? task.Passage.Tempi[0].QuartersPerMinute;
        _targets = TaskTargets.Of(task);
    }

    public IReadOnlyList<TargetNote> Targets => _targets;

    public EarlierAttempts Earlier => _earlier;

    /// <summary>How long the task lasts at the asked tempo.</summary>
    public double LengthSeconds => _targets[^1].OnsetSeconds + _targets[^1].LengthSeconds;

    /// <summary>The most frames that a region may have.</summary>
    public int MostFrames(double framesPerSecond) => new RegionDecoder(_targets, 0, framesPerSecond).MostFrames;

    /// <summary>Which attempts a region holds: what is heard beside the playing is none.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="usualDbfs">How loud the attempts before were; null where there are none.</param>
    public RegionAccount Account(RegionSound sound, double? usualDbfs)
    {
        RegionEvidence evidence = RegionEvidence.From(sound.Frames, sound.FramesPerSecond);
        var decoder = new RegionDecoder(_targets, 0, sound.FramesPerSecond);
        List<PathStep> steps = decoder.Decode(sound.Frames, evidence);
        List<AttemptPath> attempts = FalseStart.CutOff(AttemptPath.Split(steps, _targets.Length), _targets, sound, evidence);
        return new RegionAccount(evidence, OtherSound.LeaveOut(sound, attempts, _targets, usualDbfs));
    }

    public IReadOnlyList<AttemptResult> Judge(RegionSound sound, RegionAccount account)
    {
        var results = new List<AttemptResult>(account.Attempts.Count);
        OctaveTest[] octaves = [.. account.Attempts.Select(_ => new OctaveTest(sound, _targets, _earlier.Tone))];
        for (int i = 0; i < octaves.Length; i++)
        {
            results.Add(JudgeAttempt(sound, octaves[i].Settle(Reconsider(sound, account.Evidence, account.Attempts[i])), octaves[i]));
        }

        string?[] other = OtherPlaying.ReasonsFor(sound, account.Attempts, _targets);
        for (int i = 0; i < results.Count; i++)
        {
            string? reason = IsBroken(sound, results[i]) ? NotCountedReasons.Gap
                : i + 1 < results.Count && FalseStart.Is(results[i], results[i + 1]) ? NotCountedReasons.FalseStart
                : results[i].Verdict == Verdict.Missed && IsDrowned(sound, account.Attempts[i]) ? NotCountedReasons.RoomNoise
                : NoiseCover.ReasonFor(sound, results[i], _targets) ?? (results[i].Verdict == Verdict.Missed ? other[i] : null);
            results[i] = reason is null ? results[i] : results[i] with { Verdict = Verdict.NotCounted, Reason = reason };
            if (reason is null)
            {
                octaves[i].Learn(results[i].Notes);
            }
        }

        return results;
    }

    /// <summary>Whether samples were lost within an attempt, or so close to its ends that the loss may have cut them.</summary>
    private static bool IsBroken(RegionSound sound, AttemptResult attempt)
    {
        int from = (int)Math.Floor(sound.FrameOfSeconds(attempt.StartSeconds - LossMarginSeconds));
        int to = (int)Math.Ceiling(sound.FrameOfSeconds(attempt.EndSeconds + LossMarginSeconds));
        for (int t = Math.Max(0, from); t < Math.Min(to, sound.Frames.Length); t++)
        {
            if (sound.Frames[t].Broken)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Whether the playing stands so little above the noise of the room that what seems faulty in it may be the room's.</summary>
    private static bool IsDrowned(RegionSound sound, AttemptPath attempt) =>
        sound.MedianAboveFloorDb(attempt.Steps.Where(s => s.Activity == Activity.Note)) < LeastAboveRoomDb;

    /// <summary>Decodes an attempt once more, now that its tempo is known: notes of one pitch, or one that is missing, are told by when they are due.</summary>
    private AttemptPath Reconsider(RegionSound sound, RegionEvidence evidence, AttemptPath first)
    {
        int heard = Enumerable.Range(0, _targets.Length).Count(i => first.Of(i).Any(s => s.Sounds));
        if (heard < 3 || first.TempoOf(_targets, sound) is not { Stretch: > 0.6 and < 1.7 } line)
        {
            return first;
        }

        int margin = (int)(0.3 * sound.FramesPerSecond);
        int before = first.Heard(0) ? (int)(0.06 * sound.FramesPerSecond) : margin; // what sounds before the first note is none
        int from = Math.Max(0, Math.Max(first.Steps[0].FirstFrame, first.FirstFrame - before));
        int to = Math.Min(sound.Frames.Length, Math.Max(first.EndFrame + 1, Math.Min(first.Steps[^1].EndFrame, first.EndFrame + margin)));
        var decoder = new RegionDecoder(_targets, 0, sound.FramesPerSecond)
        {
            MayBeginAgain = false,
            ExpectedFrames = [.. _targets.Select(n => sound.FrameOfSeconds(line.At(n.OnsetSeconds)) - from)],
        };
        List<PathStep> steps = decoder.Decode(sound.Frames.AsSpan(from, to - from), evidence.Slice(from, to - from));
        List<AttemptPath> paths = AttemptPath.Split([.. steps.Select(s => s with { FirstFrame = s.FirstFrame + from, EndFrame = s.EndFrame + from })], _targets.Length);
        return paths.Count == 1 ? OtherSound.WithoutFaint(sound, paths[0]) : first;
    }

    private AttemptResult JudgeAttempt(RegionSound sound, AttemptPath path, OctaveTest octaves)
    {
        var attempt = MeasuredAttempt.Of(sound, path, _targets, octaves);
        MeasuredNote[] measured = attempt.Notes;
        double reference = _earlier.Tuning.Follow(measured, _targets);
        attempt.LookAtPitchAgain(reference, _task.Tolerances.Cents);
        double[] held = _task.Tolerances.Timing is TimingMode.Fitted or TimingMode.Rhythm
            ? HeldTime.Of(_task.Passage, [.. _targets.Select(n => n.OnsetSeconds)], [.. measured.Select(m => m.OnsetSeconds)])
            : new double[_targets.Length];
        TempoLine? line = FitTempo(measured, held);
        if (line is { } fitted && _task.Tolerances.Timing != TimingMode.Rhythm)
        {
            bool told = measured.Any(m => m.CrackMs is not null) && measured.Count(m => m is { OnsetSeconds: not null, CrackMs: null }) >= LeastWithoutCracks;
            TempoLine withoutCracks = (told ? FitTempo(measured, held, withCracks: false) : null) ?? fitted;
            attempt.LookAgain(fitted, withoutCracks, held, _task.Tolerances.OnsetMs);
            attempt.LookAtPitchAgain(reference, _task.Tolerances.Cents); // more of a note may be known now
        }

        attempt.TellLower();
        attempt.GiveBreaksToNext();
        attempt.GiveBeginningsBack(path);
        attempt.GiveStrokesToNext();
        ImmutableArray<ExtraNote> extras = [.. attempt.Extras.Where(extra => _targets[extra.AfterIndex].Required)];
        var notes = ImmutableArray.CreateBuilder<NoteResult>(_targets.Length);
        for (int i = 0; i < _targets.Length; i++)
        {
            notes.Add(ResultOf(i, measured[i], line, held[i], reference));
        }

        if (line is { } tempo && _task.Tolerances.Timing == TimingMode.Rhythm)
        {
            AddRhythmFaults(notes, extras, tempo);
        }

        return Conclude(sound, path, notes.ToImmutable(), extras, line, measured) with { TuningReferenceCents = reference };
    }

    private TempoLine? FitTempo(MeasuredNote[] measured, double[] held, bool withCracks = true)
    {
        if (_task.Tolerances.Timing == TimingMode.Off)
        {
            return null;
        }

        bool Counts(int i) => measured[i].OnsetSeconds is not null && _task.Passage.Notes[i].TimingJudged && (withCracks || measured[i].CrackMs is null);
        int[] heard = [.. Enumerable.Range(0, measured.Length).Where(Counts)];
        double[] due = [.. heard.Select(i => _targets[i].OnsetSeconds)];
        double[] onsets = [.. heard.Select(i => measured[i].OnsetSeconds!.Value - held[i])];
        return _task.Tolerances.Timing == TimingMode.Strict && heard.Length > 0
            ? new TempoLine(onsets[0] - due[0], 1)
            : TempoLine.Fit(due, onsets);
    }

    private NoteResult ResultOf(int index, MeasuredNote note, TempoLine? line, double held, double referenceCents)
    {
        int midi = _task.Passage.Notes[index].MidiPitch;
        if (note.OnsetSeconds is not { } onset)
        {
            ImmutableArray<NoteFault> gone = _targets[index].Required ? [NoteFault.Missing] : [];
            return new NoteResult { Index = index, MidiPitch = midi, Faults = gone };
        }

        bool required = _targets[index].Required; // an ornament may be left out, so it may also be played in any way
        var faults = ImmutableArray.CreateBuilder<NoteFault>();
        double? cents = note.HeardMidi is { } heard ? (100 * (heard - _targets[index].Midi)) - referenceCents : null;
        AddPitchFaults(faults, note, cents);
        if (note.CrackMs is { } crack && crack > _task.Tolerances.CrackMs)
        {
            faults.Add(NoteFault.Cracked);
        }

        if (note.Restruck)
        {
            faults.Add(NoteFault.Extra);
        }

        double? ms = null;
        if (line is { } tempo && _task.Passage.Notes[index].TimingJudged)
        {
            ms = 1000 * (onset - held - tempo.At(_targets[index].OnsetSeconds));

            // As with cents: what is not certainly beyond the limit is within it.
            double limit = _task.Tolerances.OnsetMs;
            double doubt = Math.Min(OnsetDoubtMs, OnsetDoubtShare * limit);
            if (Math.Abs(ms.Value) > limit + doubt && _task.Tolerances.Timing != TimingMode.Rhythm)
            {
                faults.Add(ms < 0 ? NoteFault.Early : NoteFault.Late);
            }
        }

        return new NoteResult
        {
            Index = index,
            MidiPitch = midi,
            OnsetSeconds = onset,
            OffsetSeconds = note.OffsetSeconds,
            HeardMidi = note.HeardMidi is { } h ? h - _targets[index].Midi + midi : null,
            CentsOff = note.SemitoneOnly && !faults.Contains(NoteFault.Flat) && !faults.Contains(NoteFault.Sharp) ? null : cents,
            MsOff = ms,
            CrackMs = note.CrackMs,
            SemitoneOnly = note.SemitoneOnly,
            Faults = required ? faults.ToImmutable() : [],
        };
    }

    private void AddRhythmFaults(ImmutableArray<NoteResult>.Builder notes, IReadOnlyCollection<ExtraNote> extras, TempoLine line)
    {
        var onsets = new List<RhythmOnset>(notes.Count);
        foreach (NoteResult note in notes)
        {
            // Ornaments have no class of their own; what comes between two other notes because of them is part of the first.
            bool isFollowed = extras.Any(extra => extra.AfterIndex == note.Index);
            if (!_targets[note.Index].Required || _task.Passage.Notes[note.Index].IsGrace)
            {
                if (isFollowed && onsets.Count > 0)
                {
                    onsets[^1] = onsets[^1] with { IsFollowedByExtra = true };
                }

                continue;
            }

            double? heard = note.Faults.Contains(NoteFault.WrongPitch) ? null : note.OnsetSeconds;
            onsets.Add(new RhythmOnset(note.Index, _task.Passage.Notes[note.Index].Onset, line.Stretch * _targets[note.Index].OnsetSeconds, heard, note.MsOff)
            {
                BeginsAnew = HeldTime.BeginsAnew(_task.Passage, note.Index),
                IsFollowedByExtra = isFollowed,
            });
        }

        foreach ((int index, NoteFault fault) in RhythmClasses.FaultsOf(onsets, _task.Tolerances))
        {
            notes[index] = notes[index] with { Faults = notes[index].Faults.Add(fault) };
        }
    }

    private void AddPitchFaults(ImmutableArray<NoteFault>.Builder faults, MeasuredNote note, double? cents)
    {
        if (cents is not { } off)
        {
            return;
        }

        double deviation = Math.Abs(off);
        bool isOther = deviation > note.OtherSemitoneCents;
        if (isOther)
        {
            faults.Add(NoteFault.WrongPitch);
        }

        // Between two semitones a note is both: nearer to another one, and this one out of tune. What is not certainly beyond the limit is
        // within it: the rule of ISO 14253-1 for proving that a limit is exceeded.
        if (_task.Tolerances.Cents is { } limit && (note.SemitoneOnly ? isOther : deviation > limit + note.DoubtCents) && deviation <= MostOutOfTuneCents)
        {
            faults.Add(off < 0 ? NoteFault.Flat : NoteFault.Sharp);
        }
    }

    private AttemptResult Conclude(
        RegionSound sound, AttemptPath path, ImmutableArray<NoteResult> notes, ImmutableArray<ExtraNote> extras, TempoLine? line, MeasuredNote[] measured)
    {
        int lastPlayed = -1;
        for (int i = 0; i < notes.Length; i++)
        {
            if (notes[i].OnsetSeconds is not null)
            {
                lastPlayed = i;
            }
        }

        bool faulty = extras.Length > 0 || notes.Any(n => n.Faults.Length > 0);
        string? reason = null;
        double? tempo = line is { } l ? _quartersPerMinute / l.Stretch : null;
        if (_targets[(lastPlayed + 1)..].Count(n => n.Required) >= 2)
        {
            reason = "stopped";
        }

        if (line is { } fitted && measured.Count(m => m.OnsetSeconds is not null) >= 3 && _task.Tolerances.Timing is TimingMode.Fitted or TimingMode.Rhythm
            && Math.Abs((1 / fitted.Stretch) - 1) > _task.Tolerances.TempoShare)
        {
            faulty = true;
            reason ??= "tempo";
        }

        double[] cents = [.. TuningFollower.Deviations(measured, _targets).Order()];
        double start = notes.Where(n => n.OnsetSeconds is not null).Select(n => n.OnsetSeconds!.Value).DefaultIfEmpty(sound.SecondsOfFrame(path.FirstFrame)).Min();
        double end = notes.Where(n => n.OffsetSeconds is not null).Select(n => n.OffsetSeconds!.Value).DefaultIfEmpty(sound.SecondsOfFrame(path.EndFrame)).Max();
        return new AttemptResult
        {
            StartSeconds = start,
            EndSeconds = end,
            Verdict = faulty ? Verdict.Missed : Verdict.Clean,
            Reason = reason,
            TempoQuartersPerMinute = tempo,
            TuningCents = cents.Length > 0 ? cents[cents.Length / 2] : null,
            Notes = notes,
            ExtraNotes = extras,
            Task = _task,
        };
    }
}
