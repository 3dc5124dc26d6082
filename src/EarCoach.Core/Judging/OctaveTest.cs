using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Tells a note from the tone an octave, a twelfth or two octaves above it, which repeats at a part of the note's period.</summary>
/// <remarks>
/// Where some harmonics are weak, a short window repeats at half the period nearly as well as at the whole one, and at the whole one always
/// as well as at half. But only the lower tone has harmonics between those of the higher one, and over the length of a note even weak ones
/// stand out of what lies between them. Harmonics of its own that are heard make the lower tone sure; the higher one is sure when none is
/// heard although they would be, or where they are far weaker than they were when the same player played the note before: the loudest of them
/// keeps within 10 dB of its usual level against the strongest harmonic, from attempt to attempt, as a rule; where it does not, it must be weaker
/// still than it ever was. In between the decoder's word stands.
/// </remarks>
internal sealed class OctaveTest
{
    private const double SurelyPresent = 5;
    private const double PresentAsEver = 3;        // where they are as loud as in earlier attempts
    private const double PresentThroughout = 15;  // where for long the frames repeat at the higher one's period
    private const double LongSeconds = 0.25;
    private const double SurelyAbsent = 5;
    private const double GhostPresent = 18;       // a pitch truly played has several harmonics of its own, each well heard
    private const double GhostAudibleDb = -22;
    private const double LoudOwnDb = -10;         // own harmonics as loud as this need no proof
    private const double LoudLowDb = -8;          // and those of a tone that was not looked for must be so loud
    private const double PlainPresence = 20;
    private const double PlainLowDb = -5;
    private const double ClearerBy = 0.05;
    private const double LeftTimes = 3;           // what a period leaves unexplained, against the period of a tone that sounds
    private const double LeastLeft = 0.005;
    private const double NearlyAll = 0.9;         // of the frames
    private const double AudibleDb = -25;         // what lies between the harmonics must be so far below the strongest, or nothing is proved
    private const double LowAudibleDb = -30;      // beside its first two own harmonics, the strongest as a rule, which the echo of a note before may mask
    private const double WeakestDb = -55;         // below the strongest harmonic; weaker ones count for nothing
    private const double MostOverBackgroundDb = 15;
    private const double EchoDb = -8;             // harmonics so much weaker than before the note began may be an echo of the last one
    private const float FarLikelier = 2.75f;      // nats
    private const float NoisyDb = 10;             // above the room
    private const double MixedSeconds = 0.05;     // at either end of a note, where it may sound together with its neighbour
    private const double MixedShare = 0.15;
    private const int HighestTimes = 6;           // low reeds and strings have a fifth harmonic stronger than all others
    private const int HighestOfGhost = 12;        // harmonics that a ghost is asked for
    private const int LoudestOfGhost = 16;        // harmonics among which the strongest is sought
    private const double UnusualDb = -14;         // against the usual level,
    private const double WeakerStillDb = -5;      // and against the least there was: in a room a harmonic may come and go
    private const double WeakOwnDb = -12;
    private const int MostSlips = 2;              // where more notes than these, and than a third of all, are unusual, the tone is another one
    private const int MostTimes = 4;
    private readonly RegionSound _sound;
    private readonly TargetNote[] _targets;
    private readonly UsualTone _usual;
    private readonly Weight?[,] _weights; // of each note, by how many times shorter a period is
    private bool _toneIsNew;

    /// <summary>Makes a test for one attempt.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="targets">The task.</param>
    /// <param name="usual">How the player's notes sounded in earlier attempts.</param>
    public OctaveTest(RegionSound sound, TargetNote[] targets, UsualTone usual)
    {
        _sound = sound;
        _targets = targets;
        _usual = usual;
        _weights = new Weight?[targets.Length, MostTimes + 1];
    }

    /// <summary>Sets right the stretches of a path that are an octave off.</summary>
    public AttemptPath Settle(AttemptPath path)
    {
        // What was taken for another pitch may be a common period of the note before and of this one's octave: which of its harmonics there are is asked after.
        AttemptPath taken = path.With(TakeForTargets(path.Steps));
        PathStep[] longest = [.. Enumerable.Range(0, _targets.Length).Select(i => taken.Of(i).Where(s => s.Activity == Activity.Note).DefaultIfEmpty().MaxBy(s => s.Frames))];
        WeighNotes(longest);
        int?[] octave = [.. longest.Select((step, i) => step.EndFrame > step.FirstFrame ? OctaveOff(step, _targets[i].Midi) : null)];

        var steps = new List<PathStep>(taken.Steps.Count);
        foreach (PathStep step in taken.Steps)
        {
            AddJoined(steps, step.Activity == Activity.Note && octave[step.Index] is { } midi ? step with { Activity = Activity.Other, Midi = midi } : step);
        }

        GiveLowBeginningsToNext(steps);
        for (int i = 0; i < _targets.Length; i++)
        {
            AddLowNote(steps, i, _targets[i].Midi);
        }

        return path.With(steps);
    }

    /// <summary>Takes the tone of an attempt's notes into what is usual.</summary>
    /// <param name="notes">What an attempt that counts came to.</param>
    public void Learn(IReadOnlyList<NoteResult> notes)
    {
        if (_toneIsNew)
        {
            _usual.Forget();
        }

        for (int i = 0; i < _targets.Length; i++)
        {
            bool isRight = notes[i].HeardMidi is not null && !notes[i].Faults.Contains(NoteFault.WrongPitch) && !notes[i].Faults.Contains(NoteFault.Cracked);
            for (int times = 2; times <= MostTimes; times++)
            {
                if (_weights[i, times] is { } weight && IsUnusual(weight, _targets[i].Midi, times) is var isUnusual
                    && (isUnusual || (isRight && weight.Presence > PresentAsEver)))
                {
                    _usual.Learn(_targets[i].Midi, times, weight.LoudestDb, isUnusual, weight.Presence > PlainPresence);
                }
            }
        }
    }

    /// <summary>The steps, with those other pitches made notes that are these notes' own.</summary>
    private List<PathStep> TakeForTargets(IReadOnlyList<PathStep> path)
    {
        var steps = new List<PathStep>(path.Count);
        double? sounded = null;
        foreach (PathStep step in path)
        {
            bool isOwn = step.Activity == Activity.Other
                && (IsTarget(step, _targets[step.Index].Midi) || IsGhost(step, _targets[step.Index].Midi, sounded));
            PathStep settled = isOwn ? step with { Activity = Activity.Note, Midi = 0 } : step;
            sounded = settled.Activity switch
            {
                Activity.Note => _targets[settled.Index].Midi,
                Activity.Other => settled.Midi,
                _ => sounded,
            };
            AddJoined(steps, settled);
        }

        return steps;
    }

    /// <summary>Adds a step, or lengthens the last one where it is of the same kind.</summary>
    private static void AddJoined(List<PathStep> steps, PathStep step)
    {
        if (steps.Count > 0 && steps[^1] is var last && last.Index == step.Index && last.Activity == step.Activity && last.Midi == step.Midi)
        {
            steps[^1] = last with { EndFrame = step.EndFrame };
        }
        else
        {
            steps.Add(step);
        }
    }

    /// <summary>
    /// What follows a note in the noise of the room, an octave or a twelfth below the next one, which goes on from it: the next one's beginning.
    /// Noise hides a period before it hides twice or three times that period.
    /// </summary>
    private void GiveLowBeginningsToNext(List<PathStep> steps)
    {
        for (int k = 1; k + 1 < steps.Count; k++)
        {
            PathStep step = steps[k];
            PathStep next = steps[k + 1];
            if (step.Activity == Activity.Other && next.Activity == Activity.Note && next.Index == step.Index + 1 && next.FirstFrame == step.EndFrame
                && steps.Take(k).Any(s => s.Index == step.Index && s.Activity == Activity.Note)
                && _sound.MedianAboveFloorDb([step]) < NoisyDb
                && (step.Midi == Lower(_targets[next.Index].Midi, 2) || step.Midi == Lower(_targets[next.Index].Midi, 3)))
            {
                steps[k] = next with { FirstFrame = step.FirstFrame };
                steps.RemoveAt(k + 1);
            }
        }
    }

    /// <summary>Whether another pitch is that of one of a note's harmonics from the second to the sixth, and so repeats at the note's period too.</summary>
    /// <param name="step">Of a path that <see cref="Settle"/> has set right.</param>
    /// <param name="target">The note's pitch.</param>
    public static bool IsHigher(PathStep step, double target) => step.Activity == Activity.Other && TimesHigher(step, target) is not null;

    private static int? TimesHigher(PathStep step, double target) =>
        Enumerable.Range(2, HighestTimes - 1).Where(times => Math.Abs(step.Midi - target - SemitonesOf(times)) < 0.6).Select(times => (int?)times).FirstOrDefault();

    /// <summary>A note an octave or a twelfth too low has no place in the decoder's account: it is looked for where a note is missing.</summary>
    private void AddLowNote(List<PathStep> steps, int index, double target)
    {
        bool Sounds(PathStep s) => s.Sounds && (s.Index != index || s.Frames >= PathStep.LeastFrames);
        int at = steps.FindIndex(s => Sounds(s) && s.Index > index);
        int before = at < 0 ? steps.FindLastIndex(Sounds) : steps.FindLastIndex(Math.Max(0, at - 1), Sounds);
        if (before < 0 || steps[before].Index >= index || steps.Exists(s => Sounds(s) && s.Index == index))
        {
            return;
        }

        int first = steps[before].EndFrame;
        int end = at < 0 ? steps[^1].EndFrame : steps[at].FirstFrame;
        for (int times = 2; times <= 3; times++)
        {
            var step = new PathStep(Activity.Other, index, Lower(target, times), first, end);
            if (end > first && IsLower(step, EqualTemperament.HzOf(step.Midi), target, times))
            {
                steps.RemoveAll(s => s.FirstFrame >= first && s.EndFrame <= end && !Sounds(s));
                steps.Insert(before + 1, step);
                return;
            }
        }
    }

    private bool IsTarget(PathStep step, double target)
    {
        if (TimesHigher(step, target) is not { } times || Weigh(LinesOf(step, step.Midi, times), times) is not { } weight)
        {
            return false;
        }

        bool isLong = step.Frames >= LongSeconds * _sound.FramesPerSecond && IsSurer(step, step.Midi, target);
        return weight.Presence > (isLong ? PresentThroughout : SurelyPresent) || IsAsEver(weight, target, times);
    }

    /// <summary>Weighs the longest step of each note.</summary>
    private void WeighNotes(PathStep[] longest)
    {
        int known = 0, unusual = 0;
        for (int i = 0; i < longest.Length; i++)
        {
            HarmonicLines? lines = LinesOf(longest[i], _targets[i].Midi);
            for (int times = 2; times <= MostTimes; times++)
            {
                _weights[i, times] = Weigh(lines, times);
            }

            known += _usual.LoudestOwn(_targets[i].Midi, 2) is not null ? 1 : 0;
            unusual += _weights[i, 2] is { } weight && IsUnusual(weight, _targets[i].Midi, 2) ? 1 : 0;
        }

        _toneIsNew = unusual > MostSlips && 3 * unusual > known;
    }

    private int? OctaveOff(PathStep step, double target)
    {
        for (int times = MostTimes; times >= 2; times--)
        {
            if (_weights[step.Index, times] is { } weight
                && (IsUnusual(weight, target, times)
                    || (IsAbsent(step, weight, target, times) && !IsSurer(step, target, target + SemitonesOf(times)))))
            {
                return (int)Math.Round(target + SemitonesOf(times));
            }
        }

        return LowerIn(step, target);
    }

    /// <summary>The pitch an octave or a twelfth below a note that is heard in its place, as a MIDI note number; null where none is.</summary>
    /// <param name="step">Where the note should sound.</param>
    /// <param name="target">Its pitch.</param>
    public int? LowerIn(PathStep step, double target)
    {
        double hz = HeardHz(step, target) ?? EqualTemperament.HzOf(target);
        int mixed = (int)Math.Min(MixedSeconds * _sound.FramesPerSecond, MixedShare * step.Frames);
        PathStep alone = step with { FirstFrame = step.FirstFrame + mixed, EndFrame = step.EndFrame - mixed };
        for (int times = 2; times <= 3; times++)
        {
            // The decoder is deaf far below a note's pitch, where the common periods of two tones lie: the frames may know better.
            if (IsLower(alone, HeardHz(alone, target - SemitonesOf(times)) ?? (hz / times), target, times))
            {
                return Lower(target, times);
            }
        }

        return null;
    }

    /// <summary>Whether what was heard in a note's place is surely one of its harmonics alone: nothing is heard that only the note has, although it would be.</summary>
    /// <param name="heard">What was heard: another pitch.</param>
    /// <param name="target">The note's pitch.</param>
    public bool IsSurelyHigher(PathStep heard, double target) =>
        TimesHigher(heard, target) is { } times && times <= MostTimes
        && Weigh(LinesOf(heard, heard.Midi, times), times) is { } weight
        && (IsUnusual(weight, target, times) || IsAbsent(heard, weight, target, times));

    /// <summary>Whether the harmonics that only a note has are far weaker than they were in earlier attempts.</summary>
    private bool IsUnusual(Weight weight, double target, int times) =>
        !_toneIsNew && weight.LoudestDb < WeakOwnDb && _usual.LoudestOwn(target, times) is var (median, least)
        && weight.LoudestDb < Math.Min(median + UnusualDb, least + WeakerStillDb);

    /// <summary>Whether the harmonics that only a note has are heard, and as loud as in earlier attempts: of a low reed some are always weak.</summary>
    private bool IsAsEver(Weight weight, double target, int times) =>
        weight.Presence > PresentAsEver && _usual.IsAsLoudAsEver(target, times, weight.LoudestDb);

    /// <summary>Whether none of a note's harmonics is heard that a period so many times shorter would lack, although they would be.</summary>
    private bool IsAbsent(PathStep step, Weight weight, double target, int times) =>
        weight.Presence < SurelyAbsent && weight.LoudestDb < LoudOwnDb
        && weight.BackgroundDb < AudibleDb && weight.MaskedDb < LowAudibleDb && !IsAsEver(weight, target, times)
        && (weight.OwnIsEcho || !IsWhole(step, target, target + SemitonesOf(times)));

    /// <summary>Whether most frames of a step have one pitch far likelier than another: their periods tell what its harmonics do not.</summary>
    private bool IsSurer(PathStep step, double one, double other)
    {
        int surer = 0;
        for (int t = step.FirstFrame; t < step.EndFrame; t++)
        {
            ref readonly HeardFrame frame = ref _sound.Frames[t];
            surer += RegionEvidence.LogWeight(in frame, one) - RegionEvidence.LogWeight(in frame, other) > FarLikelier ? 1 : 0;
        }

        return 2 * surer > step.Frames;
    }

    /// <summary>How many semitones lie between two tones of which the one's period is so many times the other's.</summary>
    public static double SemitonesOf(int times) => 12 * Math.Log2(times);

    private static int Lower(double target, int times) => (int)Math.Round(target - SemitonesOf(times));

    /// <summary>Whether a fundamental so many times below a note has loud harmonics of its own: many, or a loud one where the frames say so too.</summary>
    private bool IsLower(PathStep step, double hz, double target, int times) =>
        Weigh(HarmonicLines.Of(_sound, step, hz), times) is { } weight
        && ((weight.Presence > 10 + (10 * times) && weight.LoudestDb > LoudLowDb)
            || (weight.Presence > PlainPresence && weight.LoudestDb > PlainLowDb && IsClearer(step, target - SemitonesOf(times), target)));

    /// <summary>Whether nearly all frames of a step that have a pitch repeat at one pitch's period better than at another's.</summary>
    private bool IsClearer(PathStep step, double one, double other) =>
        NearlyAllRepeat(step, one, other, (clarity, otherClarity) => clarity > otherClarity + ClearerBy);

    /// <summary>
    /// Whether nearly all frames leave far more unexplained by a higher pitch's period than by a lower one's: that one has harmonics of its own, if
    /// weak ones. A tone that repeats at the shorter period repeats no better at its multiples.
    /// </summary>
    private bool IsWhole(PathStep step, double lower, double higher) =>
        NearlyAllRepeat(step, lower, higher, (clarity, higherClarity) => 1 - higherClarity > LeastLeft + (LeftTimes * (1 - clarity)));

    private bool NearlyAllRepeat(PathStep step, double one, double other, Func<double, double, bool> isBetter)
    {
        static double ClarityAt(in HeardFrame frame, double midi)
        {
            double clarity = 0;
            for (int k = 0; k < frame.CandidateCount; k++)
            {
                clarity = Math.Abs(frame.Candidates[k].Midi - midi) < 0.8 ? Math.Max(clarity, frame.Candidates[k].Clarity) : clarity;
            }

            return clarity;
        }

        int clearer = 0, voiced = 0;
        for (int t = step.FirstFrame; t < step.EndFrame; t++)
        {
            ref readonly HeardFrame frame = ref _sound.Frames[t];
            voiced += frame.HasPitch ? 1 : 0;
            clearer += frame.HasPitch && isBetter(ClarityAt(in frame, one), ClarityAt(in frame, other)) ? 1 : 0;
        }

        return clearer > 0 && clearer >= NearlyAll * voiced;
    }

    /// <summary>
    /// Whether another pitch is only the common period of the note and the echo of the sound before it: it then has no harmonic that neither
    /// of the two has.
    /// </summary>
    private bool IsGhost(PathStep step, double target, double? before)
    {
        if (before is not { } last || Math.Abs(step.Midi - last) < 0.6 || HeardHz(step, step.Midi) is not { } hz || HarmonicLines.Of(_sound, step, hz) is not { } lines)
        {
            return false;
        }

        double strongest = 0;
        for (int k = 1; k <= Math.Min(lines.Highest, LoudestOfGhost); k++)
        {
            strongest = Math.Max(strongest, lines.Power(k));
        }

        int looked = 0;
        double presence = 0, between = 0;
        for (int k = 1; k <= Math.Min(lines.Highest, HighestOfGhost); k++)
        {
            if (IsHarmonic(k * hz, target) || IsHarmonic(k * hz, last))
            {
                continue;
            }

            double level = HarmonicLines.Db(lines.Power(k), strongest);
            double background = lines.BackgroundDb(k, strongest);
            presence += PresenceOf(level, level - background);
            between += background;
            looked++;
        }

        return looked >= 2 && presence < GhostPresent && between / looked < GhostAudibleDb;
    }

    private static bool IsHarmonic(double hz, double midi)
    {
        double times = hz / EqualTemperament.HzOf(midi);
        return times > 0.6 && Math.Abs(times - Math.Round(times)) < 0.035 * times;
    }

    /// <summary>How surely a stretch has harmonics that a period so many times shorter would lack; null when it is too short to tell.</summary>
    private static Weight? Weigh(HarmonicLines? lines, int times)
    {
        int highest = Math.Min(4 * times, lines?.Highest ?? 0);
        if (lines is null || highest < times)
        {
            return null;
        }

        double strongest = 0, loudestOwn = 0;
        int loudest = 1;
        for (int k = 1; k <= highest; k++)
        {
            strongest = Math.Max(strongest, lines.Power(k));
            (loudest, loudestOwn) = k % times != 0 && lines.Power(k) > loudestOwn ? (k, lines.Power(k)) : (loudest, loudestOwn);
        }

        double presence = 0, between = 0, masked = double.NegativeInfinity;
        int own = 0;
        for (int k = 1; k <= highest; k++)
        {
            if (k % times == 0)
            {
                continue;
            }

            double level = HarmonicLines.Db(lines.Power(k), strongest);
            double background = lines.BackgroundDb(k, strongest);
            presence += PresenceOf(level, Math.Min(level - background, level - lines.BeforeDb(k, strongest) - EchoDb));
            between += background;
            masked = own < 2 ? Math.Max(masked, background) : masked;
            own++;
        }

        double loudestDb = HarmonicLines.Db(loudestOwn, strongest);
        return new Weight(presence, loudestDb, between / own, masked, loudestDb - lines.BeforeDb(loudest, strongest) < EchoDb);
    }

    /// <summary>What one harmonic says for a pitch: how far it stands out, in dB, less when it is weak.</summary>
    private static double PresenceOf(double levelDb, double overDb) =>
        Math.Clamp(overDb, 0, MostOverBackgroundDb) * Math.Clamp((levelDb - WeakestDb) / 40, 0, 1);

    /// <summary>The lines of a step at a part of the frequency of a pitch that is heard in it.</summary>
    private HarmonicLines? LinesOf(PathStep step, double midi, int times = 1) =>
        HeardHz(step, midi) is { } hz ? HarmonicLines.Of(_sound, step, hz / times) : null;

    private double? HeardHz(PathStep step, double midi)
    {
        var values = new List<double>();
        for (int t = step.FirstFrame; t < step.EndFrame; t++)
        {
            for (int k = 0; k < _sound.Frames[t].CandidateCount; k++)
            {
                double heard = _sound.Frames[t].Candidates[k].Midi;
                if (Math.Abs(heard - midi) < 0.8)
                {
                    values.Add(heard);
                    break;
                }
            }
        }

        values.Sort();
        return values.Count == 0 ? null : EqualTemperament.HzOf(values[values.Count / 2]);
    }

    /// <summary>What speaks for the lower tone.</summary>
    /// <param name="Presence">Sum over its own harmonics of how far they stand out, in dB, weak ones counting less.</param>
    /// <param name="LoudestDb">The loudest of them against the loudest harmonic of all.</param>
    /// <param name="BackgroundDb">What lies between harmonics, likewise.</param>
    /// <param name="MaskedDb">What lies beside the more masked of its first two own harmonics, likewise.</param>
    /// <param name="OwnIsEcho">Whether the loudest of them may be an echo of what sounded before.</param>
    private readonly record struct Weight(double Presence, double LoudestDb, double BackgroundDb, double MaskedDb, bool OwnIsEcho);
}
