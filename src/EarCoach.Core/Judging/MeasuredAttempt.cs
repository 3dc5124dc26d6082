using System.Collections.Immutable;

namespace EarCoach.Core.Judging;

/// <summary>What was measured of an attempt's notes, with what only their neighbours or their time can settle.</summary>
internal sealed class MeasuredAttempt
{
    private const double LongestCrackSeconds = 0.15; // common practice: a longer one is a note of its own
    private const double SameStrokeSeconds = 0.03;
    private const double JoinedSeconds = 0.02;
    private const double SqueezedShare = 0.6;          // of the time between two notes: nobody plays a late one so short, and the next in time
    private const double RungSoonSeconds = 0.05;       // after its end a note's ring begins
    private const double LeastRestSeconds = 0.1;
    private const double LeastWrittenSeconds = 0.25;   // a shorter note may speak only when it is nearly over
    private const double LeastAgainSeconds = 0.09;     // what comes back for less before a note's end is the ring of the room, whose echoes beat
    private const double CrackOfLimit = 0.5;           // earlier than this share of the limit, a crack is the end of the note before
    private const double InTimeOfChange = 0.33;        // a stroke on the old pitch is in time where the change of pitch is not
    private const double PitchOfLimit = 0.5;           // a pitch is heard later than its note begins, in a hall by 0.07 s
    private const double RiseOfLimit = 0.8;            // its own harmonics rise where it begins, but for what is masked
    private const double LongestLookSeconds = 0.5;
    private const double RingingSeconds = 0.3;         // a longer note is heard by itself in its end
    private const double RingSeconds = 0.4;
    private const double MostPulledCents = 90;
    private const double LeastLineSeconds = 0.07;
    private const double LeastSemitoneSeconds = 0.04;  // enough to tell which semitone it is
    private const double SurelyRightCents = 30;
    private const double MostMixedCents = 1000;        // an octave off is told by which harmonics there are, not by where they lie
    private const double LongestMaskedSeconds = 0.2;   // a longer note is heard or missing
    private const double SamePitchSemitones = 0.5;     // what rings on of the note before has its pitch
    private const double OctaveSemitones = 12;
    private const float OneToneClarity = 0.98f;
    private const double OneToneSeconds = 0.06;
    private const double PlainBeforeSeconds = 0.06;
    private const double SlowSeconds = 0.04;           // of a bow that takes hold late
    private const float LeastFallDb = 3;
    private const int LeastForTempo = 4;               // notes, by which it is known when the first one was due
    private const double AnotherPitchSemitones = 0.9;  // nearer ones are out of tune
    private const double EchoSemitones = 1.3;          // so near to the note before, a pitch may be its echo and this note together
    private const double FarSemitones = 4.5;           // so far off, the common period of both
    private readonly RegionSound _sound;
    private readonly TargetNote[] _targets;
    private readonly OctaveTest _octaves;

    private MeasuredAttempt(RegionSound sound, TargetNote[] targets, OctaveTest octaves)
    {
        _sound = sound;
        _targets = targets;
        _octaves = octaves;
        Notes = new MeasuredNote[targets.Length];
    }

    /// <summary>One for each note of the task.</summary>
    public MeasuredNote[] Notes { get; }

    /// <summary>What was played beside them.</summary>
    public ImmutableArray<ExtraNote>.Builder Extras { get; } = ImmutableArray.CreateBuilder<ExtraNote>();

    /// <summary>Measures the notes of a decoded attempt.</summary>
    public static MeasuredAttempt Of(RegionSound sound, AttemptPath path, TargetNote[] targets, OctaveTest octaves)
    {
        var attempt = new MeasuredAttempt(sound, targets, octaves);
        for (int i = 0; i < targets.Length; i++)
        {
            attempt.Notes[i] = NoteMeasurer.Measure(sound, path, i, targets[i], attempt.Extras);
        }

        attempt.GiveCracksToNext();
        attempt.TellCracksFromStrokes(path);
        attempt.DropRing();
        attempt.DropUnplayed();
        return attempt;
    }

    /// <summary>Looks again at notes that seem out of time or missing, and takes back cracks that would have begun too early.</summary>
    /// <param name="line">The attempt's tempo.</param>
    /// <param name="withoutCracks">The tempo of those notes that no other pitch sounded before.</param>
    /// <param name="held">How long each note was held back with those before it, in seconds.</param>
    /// <param name="limitMs">The largest deviation that passes.</param>
    public void LookAgain(TempoLine line, TempoLine withoutCracks, double[] held, double limitMs)
    {
        double limit = limitMs / 1000;
        LeaveOutBefore(line.At(_targets[0].OnsetSeconds) + held[0], limit);
        for (int i = 0; i < Notes.Length; i++)
        {
            double due = line.At(_targets[i].OnsetSeconds) + held[i];
            double? dueNext = i + 1 < Notes.Length ? line.At(_targets[i + 1].OnsetSeconds) + held[i + 1] : null;
            if (IsNextAlone(i, due, dueNext, limit))
            {
                Notes[i + 1] = Notes[i + 1] with { OnsetSeconds = Notes[i].OnsetSeconds, FirstSeconds = Notes[i].FirstSeconds };
                Notes[i] = default;
            }

            if (i > 0 && Notes[i] is { OnsetSeconds: { } begun, CrackMs: { } crack } cracked)
            {
                double early = 1000 * (withoutCracks.At(_targets[i].OnsetSeconds) + held[i] - begun);
                if (early > CrackOfLimit * limitMs && Math.Abs(crack - early) < early)
                {
                    // Another pitch that sounded so long before the note was due, with the note itself in time, is the end of the one before.
                    Notes[i] = cracked with { OnsetSeconds = begun + (crack / 1000), CrackMs = null };
                }

                continue;
            }

            if (i > 0 && OnOldPitch(i, due, limit, isLate: false) is { } struck)
            {
                Notes[i] = struck;
                continue;
            }

            LookForStep(i, due, dueNext, limit);
            LookForMasked(i, due, dueNext);
            if (i > 0 && SecondLook.Onset(_sound, due, Notes[i], PitchOf(i), Notes[i - 1], PitchOf(i - 1)) is { } begins)
            {
                Notes[i] = Notes[i] with { OnsetSeconds = begins };
            }

            if (OtherStroke(i, due, dueNext) is { } stroke)
            {
                Notes[i] = Notes[i] with { OnsetSeconds = stroke, FirstSeconds = stroke };
                continue;
            }

            Notes[i] = HeldAgainstPitch(Notes[i], due, limit);
            double latest = due + limit;
            if (i > 0 && Notes[i].OnsetSeconds is { } late && late > latest && FaintNotes.EarliestOnset(_sound, late, due, PitchOf(i - 1), PitchOf(i)) is var earliest && earliest <= latest)
            {
                Notes[i] = Notes[i] with { OnsetSeconds = earliest };
            }

            if (i > 0 && Notes[i].OnsetSeconds > latest && OnOldPitch(i, due, limit, isLate: true) is { } changed)
            {
                Notes[i] = changed;
            }
        }
    }

    /// <summary>Measures the pitch of short notes once more that seem out of tune, or other ones: the notes before them may ring on.</summary>
    /// <param name="referenceCents">The player's own tuning.</param>
    /// <param name="limitCents">The largest deviation that passes; null where only the semitone is judged.</param>
    public void LookAtPitchAgain(double referenceCents, double? limitCents)
    {
        for (int i = 1; i < Notes.Length; i++)
        {
            if (Notes[i] is not { OnsetSeconds: { } onset, OffsetSeconds: { } end, HeardMidi: { } heard } note || end - onset > RingingSeconds)
            {
                continue;
            }

            double target = _targets[i].Midi;
            if (InOctaveOf(heard, target, PitchOf(i - 1), note.SemitoneOnly) is { } inOctave && !IsSurelyHigher(note, heard, inOctave))
            {
                heard = inOctave;
                note = note with { HeardMidi = heard };
                Notes[i] = note;
            }

            double Off(double pitch) => Math.Abs((100 * (pitch - target)) - referenceCents);
            bool pulled = !note.SemitoneOnly && Off(heard) <= MostPulledCents;
            double passes = note.SemitoneOnly ? MeasuredNote.HalfSemitoneCents : Math.Min(limitCents ?? double.PositiveInfinity, MeasuredNote.HalfSemitoneCents);
            if (Off(heard) > MostMixedCents || Off(heard) <= passes)
            {
                continue;
            }

            double[] earlier =
            [
                .. Enumerable.Range(Math.Max(0, i - 3), Math.Min(3, i)).Where(k => Notes[k].OffsetSeconds is { } ended && onset - ended < RingSeconds)
                    .Select(PitchOf).Where(pitch => Math.Abs(pitch - target) > 0.5),
            ];
            if (LinePitch.Of(_sound, onset, end, target, heard, earlier, pulled ? LeastLineSeconds : LeastSemitoneSeconds) is not { } lines)
            {
                continue;
            }

            if (earlier.Length > 0 && lines.AreElsewhere && Off(lines.Midi) < (pulled ? Off(heard) : SurelyRightCents))
            {
                Notes[i] = note with { HeardMidi = lines.Midi, SemitoneOnly = !pulled };
            }
            else if (note.SemitoneOnly && !lines.AreElsewhere && Off(lines.Midi) > MeasuredNote.HalfSemitoneCents)
            {
                Notes[i] = note with { LinesAgree = true };
            }
        }
    }

    /// <summary>A note breaks to no other pitch where that is heard, for the most part, only after the next one has begun: both together have it.</summary>
    public void GiveBreaksToNext()
    {
        for (int i = 0; i + 1 < Notes.Length; i++)
        {
            Notes[i] = BreaksInNext(Notes[i], Notes[i + 1]) ? Notes[i] with { CrackMs = null } : Notes[i];
        }
    }

    /// <summary>
    /// A note too short for its cents to be told may go on, out of tune, in what the decoder took for the beginning of the next one on another
    /// pitch, where that turned out to begin later.
    /// </summary>
    /// <param name="path">The decoder's account.</param>
    public void GiveBeginningsBack(AttemptPath path)
    {
        for (int i = 0; i + 1 < Notes.Length; i++)
        {
            if (Notes[i] is { SemitoneOnly: true, HeardMidi: not null, OffsetSeconds: { } end } && Notes[i + 1] is { CrackMs: null, OnsetSeconds: { } next }
                && path.Of(i + 1).FirstOrDefault() is { Activity: Activity.Other } begins && _sound.SecondsOfFrame(begins.FirstFrame) - end < JoinedSeconds
                && NoteMeasurer.IsBeside(begins, _targets[i].Midi))
            {
                Notes[i] = NoteMeasurer.WithEnd(_sound, Notes[i], _targets[i].Midi, Math.Min(next, _sound.SecondsOfFrame(begins.EndFrame))) ?? Notes[i];
            }
        }
    }

    /// <summary>
    /// What began when a note was due, and has hardly that note's pitch, may be the tone an octave or a twelfth below, for which the frames are deaf:
    /// its own harmonics tell.
    /// </summary>
    public void TellLower()
    {
        for (int i = 0; i < Notes.Length; i++)
        {
            if (Notes[i] is { SemitoneOnly: true, OnsetSeconds: { } onset, OffsetSeconds: { } end })
            {
                double until = i + 1 < Notes.Length ? Math.Max(end, Math.Min(Notes[i + 1].OnsetSeconds ?? end, onset + LongestLookSeconds)) : end;
                var sounds = new PathStep(Activity.Note, i, 0, _sound.FrameAt(onset), _sound.FrameAt(until));
                Notes[i] = _octaves.LowerIn(sounds, _targets[i].Midi) is { } lower ? Notes[i] with { HeardMidi = lower } : Notes[i];
            }
        }
    }

    /// <summary>A second stroke of a note at the moment at which the next begins is the next one's.</summary>
    public void GiveStrokesToNext()
    {
        for (int k = Extras.Count - 1; k >= 0; k--)
        {
            int index = Extras[k].AfterIndex;
            if (index + 1 < Notes.Length && Notes[index].Restruck && Notes[index + 1].OnsetSeconds is { } next && Extras[k].OnsetSeconds > next - SameStrokeSeconds)
            {
                TakeBack(k, next);
            }
        }
    }

    /// <summary>
    /// The pitch of a short note whose second harmonic is far the strongest, brought to its octave: where it is too short for its octave to be told,
    /// or where what was heard lies between the second harmonics of the note before, which rings on, and of itself, as no other tone does.
    /// </summary>
    /// <param name="heard">The pitch that was heard, as a MIDI note number with its fraction.</param>
    /// <param name="target">The note's own.</param>
    /// <param name="before">That of the note before.</param>
    /// <param name="semitoneOnly">Whether the note is too short for more than its semitone.</param>
    /// <returns>Null where it stands.</returns>
    internal static double? InOctaveOf(double heard, double target, double before, bool semitoneOnly)
    {
        double lower = heard - OctaveSemitones;
        bool isOctave = Math.Abs(lower - target) < SamePitchSemitones;
        bool isBetween = Math.Abs(before - target) < FarSemitones
            && lower > Math.Min(before, target) + FaintNotes.PlainSemitones && lower < Math.Max(before, target) - FaintNotes.PlainSemitones;
        return (isOctave && semitoneOnly) || isBetween ? lower : null;
    }

    /// <summary>Whether most of the pitch that a note breaks to comes after the beginning of the next.</summary>
    internal static bool BreaksInNext(MeasuredNote note, MeasuredNote next) =>
        note is { CrackMs: { } crack, BreakSeconds: { } breaks } && breaks + (crack / 2000) > next.OnsetSeconds;

    /// <summary>
    /// A note is out of time only where its pitch is too, and early only where its own harmonics are: what rises long before these, or before the
    /// pitch is heard, is the end of the note before, and what rises after it is not the note's beginning.
    /// </summary>
    /// <param name="note">What was measured.</param>
    /// <param name="due">When it was due, in seconds.</param>
    /// <param name="limit">The largest deviation that passes, in seconds.</param>
    internal static MeasuredNote HeldAgainstPitch(MeasuredNote note, double due, double limit)
    {
        if (note is not { OnsetSeconds: { } onset, CrackMs: null })
        {
            return note;
        }

        double off = onset - due;
        if (off < -limit && note.RiseSeconds is { } rise && Math.Abs(rise - due) < RiseOfLimit * limit)
        {
            return note with { OnsetSeconds = rise };
        }

        double pitchOff = note.FirstSeconds - due;
        bool early = off < -limit && pitchOff > -PitchOfLimit * limit;
        bool late = off > limit && pitchOff < limit;
        return (early || late) && Math.Abs(pitchOff) < Math.Abs(off) ? note with { OnsetSeconds = note.FirstSeconds } : note;
    }

    /// <summary>What sounds until the first note, and was taken for its beginning, is left out: a remark, a page turned.</summary>
    private void LeaveOutBefore(double due, double limit)
    {
        if (Notes.Count(note => note.OnsetSeconds is not null) < LeastForTempo || Notes[0].OnsetSeconds is not { } onset
            || FirstNote.AfterOther(_sound, onset, due, limit, PitchOf(0)) is not { } begins)
        {
            return;
        }

        Extras.RemoveAll(extra => extra.AfterIndex == 0 && extra.OnsetSeconds < begins + SameStrokeSeconds);
        Notes[0] = Notes[0] with { OnsetSeconds = begins, FirstSeconds = begins, CrackMs = null, Restruck = Extras.Any(extra => extra.AfterIndex == 0) };
    }

    /// <summary>Whether a late note is the beginning of the next one, of the same pitch and in time then: it was left out, and that one struck once.</summary>
    private bool IsNextAlone(int index, double due, double? dueNext, double limit)
    {
        if (dueNext is not { } following || Notes[index] is not { OnsetSeconds: { } onset, OffsetSeconds: { } end, CrackMs: null, Restruck: false }
            || Notes[index + 1] is not { OnsetSeconds: { } next, OffsetSeconds: { } last }
            || Math.Abs(PitchOf(index) - PitchOf(index + 1)) > SamePitchSemitones || Math.Abs(PitchOf(index) - _targets[index + 1].Midi) > SamePitchSemitones)
        {
            return false;
        }

        bool late = onset - due > limit && Math.Abs(onset - following) < limit;
        bool squeezed = next - end <= JoinedSeconds && next - onset <= SqueezedShare * (following - due);
        if (!late || !(squeezed || last - next < PlainPitch.LeastSeconds))
        {
            return false;
        }

        double rate = _sound.AnalysisRateHz;
        double? again = StrokeFinder.Find(_sound, onset * rate, last * rate, PitchOf(index + 1));
        return again is not { } at || Math.Abs(_sound.SecondsOf(at) - next) > SameStrokeSeconds;
    }

    /// <summary>A note that was struck in time on the pitch of the note before, and only then went to its own; null where it was not.</summary>
    /// <remarks>Holes in the note before are told from it by their time: they come before the note is due, which then has its pitch in time.</remarks>
    /// <param name="index">The note's.</param>
    /// <param name="due">When it was due, in seconds.</param>
    /// <param name="limit">The largest deviation that passes, in seconds.</param>
    /// <param name="isLate">Whether it is late whatever else is considered.</param>
    private MeasuredNote? OnOldPitch(int index, double due, double limit, bool isLate)
    {
        if (Notes[index] is not { OnsetSeconds: not null, HeardMidi: { } heard, FirstSeconds: var first, OffsetSeconds: { } end } note
            || Notes[index - 1] is not { OnsetSeconds: { } begun, OffsetSeconds: { } ended } || first - ended > LongestCrackSeconds)
        {
            return null;
        }

        double rate = _sound.AnalysisRateHz;
        if (OldPitchAttack.Find(_sound, first * rate, begun * rate, end * rate, PitchOf(index - 1), heard, isLate) is not { } old)
        {
            return null;
        }

        double stroke = _sound.SecondsOf(old.Start);
        double change = _sound.SecondsOf(old.End);
        return Math.Abs(stroke - due) < Math.Min(CrackOfLimit * limit, InTimeOfChange * Math.Abs(change - due))
            ? note with { OnsetSeconds = stroke, CrackMs = 1000 * (change - stroke) }
            : null;
    }

    /// <summary>A note that is missing a semitone from the one before, which sounds on, may have been played so far out of tune that it seems to be that.</summary>
    private void LookForStep(int index, double due, double? dueNext, double limit)
    {
        if (index == 0 || Notes[index].OnsetSeconds is not null || Notes[index - 1] is not { OnsetSeconds: { } begun, OffsetSeconds: { } end } before
            || end < due + limit)
        {
            return;
        }

        double interval = _targets[index].Midi - _targets[index - 1].Midi;
        double until = dueNext is { } next && Notes[index + 1].OnsetSeconds is null ? Math.Min(end, next) : end; // the next one may be in that sound, too
        if (Math.Abs(interval) is > 0.5 and < 1.5 && SmallStep.Find(_sound, begun, until, due, limit, PitchOf(index - 1), interval > 0) is { } step)
        {
            Notes[index - 1] = before with { HeardMidi = step.Before, OffsetSeconds = step.Seconds };
            Notes[index] = new MeasuredNote(step.Seconds, step.Seconds, end, step.After, 100 * step.Strays, null, Restruck: false, SemitoneOnly: false);
        }
    }

    /// <summary>Where a note of the same pitch as the one before was struck plainly at another time than its own, and not as late as the next one.</summary>
    private double? OtherStroke(int index, double due, double? dueNext)
    {
        if (index == 0 || Notes[index - 1].OnsetSeconds is not { } before || Math.Abs(PitchOf(index) - PitchOf(index - 1)) > 0.5)
        {
            return null;
        }

        double? stroke = SecondLook.OtherStroke(_sound, due, Notes[index], PitchOf(index), before);
        return stroke - due > dueNext - stroke ? null : stroke;
    }

    /// <summary>A short note that is missing, or was heard as another pitch, may have been masked.</summary>
    private void LookForMasked(int index, double due, double? dueNext)
    {
        bool follows = index == 0 || Notes[index - 1].OnsetSeconds is not null;
        double? pitchBefore = index > 0 ? PitchOf(index - 1) : null;
        bool instead = Notes[index].HeardMidi is { } heard && Math.Abs(heard - _targets[index].Midi) is var off
            && (off > FarSemitones || (off > AnotherPitchSemitones && pitchBefore is { } echo && Math.Abs(heard - echo) < EchoSemitones))
            && !IsPlain(Notes[index], heard) && !IsSurelyHigher(Notes[index], heard, _targets[index].Midi);
        if (!_targets[index].Required || !follows || !(instead || Notes[index].OnsetSeconds is null)
            || index + 1 >= Notes.Length || Notes[index + 1].OnsetSeconds is not { } next
            || Math.Min(next, dueNext ?? next) - due > LongestMaskedSeconds)
        {
            return;
        }

        double? before = index > 0 ? Notes[index - 1].OnsetSeconds : null;
        double earliest = Math.Max((before ?? double.NegativeInfinity) + JoinedSeconds, due - PlainBeforeSeconds);
        if (Math.Abs(_targets[index].Midi - pitchBefore ?? double.PositiveInfinity) < SamePitchSemitones)
        {
            if (!instead && FaintNotes.StruckAtLeast(_sound, earliest, due + SlowSeconds, next, LeastFallDb) is { } again)
            {
                Notes[index] = MaskedNote(again, next);
            }

            return;
        }

        if (!instead && pitchBefore is { } ringing && FaintNotes.IsRingAlone(_sound, due, next, ringing))
        {
            return;
        }

        double? masked = SecondLook.Masked(_sound, due, _targets[index].Midi, before, pitchBefore, next, Notes[index].HeardMidi);
        double until = Math.Max(next, Math.Min(dueNext ?? next, Notes[index + 1].FirstSeconds)); // where nothing was heard, the next one may seem early
        double? HeardAtAll() => FaintNotes.PlainlyHeard(_sound, _targets[index].Midi, earliest, Notes[index + 1].FirstSeconds)
            ?? FaintNotes.StruckAtLeast(_sound, earliest, due + SlowSeconds, until - JoinedSeconds);
        if ((masked ?? (instead ? null : HeardAtAll())) is { } begins)
        {
            Notes[index] = MaskedNote(begins, next);
        }
    }

    private static MeasuredNote MaskedNote(double begins, double ends) =>
        new(begins, begins, ends, HeardMidi: null, DoubtCents: 0, CrackMs: null, Restruck: false, SemitoneOnly: true);

    /// <summary>Whether another pitch that was heard is that of one of the note's harmonics, and surely not the note.</summary>
    private bool IsSurelyHigher(MeasuredNote note, double heard, double target) =>
        note.OffsetSeconds is { } ends
        && _octaves.IsSurelyHigher(new PathStep(Activity.Other, 0, (int)Math.Round(heard), _sound.FrameAt(note.FirstSeconds), _sound.FrameAt(ends)), target);

    /// <summary>Whether a note's pitch is as clear as that of one tone alone: no mixture of two has it.</summary>
    private bool IsPlain(MeasuredNote note, double heard) =>
        note.OffsetSeconds is { } ends
        && FaintNotes.FramesOf(_sound, note.FirstSeconds, ends, heard, OneToneClarity).Clear >= OneToneSeconds * _sound.FramesPerSecond;

    /// <summary>A second stroke was none: the note is one, and ends where it is said to.</summary>
    private void TakeBack(int extra, double endSeconds)
    {
        int index = Extras[extra].AfterIndex;
        Notes[index] = Notes[index] with { Restruck = false, OffsetSeconds = endSeconds };
        Extras.RemoveAt(extra);
    }

    private double PitchOf(int index) => Notes[index].HeardMidi ?? _targets[index].Midi;

    /// <summary>Another pitch at the end of a note is the beginning of the next, where that began on another pitch.</summary>
    private void GiveCracksToNext()
    {
        for (int i = 0; i + 1 < Notes.Length; i++)
        {
            if (Notes[i] is { CrackMs: not null, OnsetSeconds: { } begun, OffsetSeconds: { } end } && Notes[i + 1] is { CrackMs: not null, OnsetSeconds: { } next }
                && next < end && next > 0.5 * (begun + end))
            {
                Notes[i] = Notes[i] with { CrackMs = null, OffsetSeconds = next };
            }
        }
    }

    /// <summary>A second stroke at the very end of a note is none.</summary>
    private void DropRing()
    {
        for (int k = Extras.Count - 1; k >= 0; k--)
        {
            int index = Extras[k].AfterIndex;
            if (Notes[index] is { Restruck: true, OffsetSeconds: { } end } && end - Extras[k].OnsetSeconds < LeastAgainSeconds)
            {
                TakeBack(k, end);
            }
        }
    }

    /// <summary>
    /// What has the pitch of the note before, and is fainter and dies away, is that one's ring in the room, and no wrong note; a glimpse of a
    /// pitch before a rest is none either.
    /// </summary>
    private void DropUnplayed()
    {
        for (int i = 1; i < Notes.Length; i++)
        {
            double next = i + 1 < Notes.Length ? Notes[i + 1].OnsetSeconds ?? double.PositiveInfinity : double.PositiveInfinity;
            if (Notes[i] is not { HeardMidi: { } heard, FirstSeconds: var first, OffsetSeconds: { } end })
            {
                continue;
            }

            bool isGlimpse = _targets[i].LengthSeconds > LeastWrittenSeconds && end - first < PlainPitch.LeastSeconds && next - end > LeastRestSeconds;
            bool isRing = Notes[i - 1] is { OnsetSeconds: { } begun, OffsetSeconds: { } ended } && first - ended < RungSoonSeconds
                && Math.Abs(heard - _targets[i].Midi) > AnotherPitchSemitones && Math.Abs(heard - PitchOf(i - 1)) < SamePitchSemitones
                && FaintNotes.DiesAway(_sound, begun, ended, first, end);
            Notes[i] = isGlimpse || isRing ? default : Notes[i];
        }
    }

    /// <summary>A second stroke just before the next note, which is another pitch, is that note begun on the wrong one: a crack, not a stutter.</summary>
    private void TellCracksFromStrokes(AttemptPath path)
    {
        for (int k = Extras.Count - 1; k >= 0; k--)
        {
            int index = Extras[k].AfterIndex;
            if (index + 1 >= Notes.Length || !Notes[index].Restruck || Notes[index + 1] is not { OnsetSeconds: { } next, CrackMs: null } follower
                || _targets[index].Midi == _targets[index + 1].Midi)
            {
                continue;
            }

            double seconds = next - Extras[k].OnsetSeconds;
            PathStep begins = path.Of(index + 1).First();
            double gap = _sound.SecondsOfFrame(begins.FirstFrame) - (Notes[index].OffsetSeconds ?? next);
            if (seconds is > 0.03 and < LongestCrackSeconds && gap < 0.03)
            {
                Notes[index + 1] = follower with { OnsetSeconds = Extras[k].OnsetSeconds, CrackMs = 1000 * seconds };
                TakeBack(k, Extras[k].OnsetSeconds);
            }
        }
    }
}
