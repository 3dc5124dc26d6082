using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Listening;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Playing made by arithmetic: notes of six harmonics in a room that is not digitally silent, and an ear that hears them.</summary>
internal sealed class Playing
{
    public const int RateHz = 44_100;
    private readonly float[] _sound;

    /// <summary>A room in which nobody plays yet.</summary>
    public Playing(double seconds)
    {
        _sound = Tones.Noise(0.0003, seconds, RateHz);
    }

    public float[] Sound => _sound;

    /// <summary>A passage of quarter notes, 90 a minute.</summary>
    public static Passage Quarters(params int[] pitches) => new()
    {
        Title = "Quarters",
        Tempi = [new TempoMark(Fraction.Zero, 90)],
        Notes = [.. pitches.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })],
    };

    /// <summary>Length of a quarter note at 90 a minute.</summary>
    public const double QuarterSeconds = 60.0 / 90;

    /// <summary>A passage of notes from one moment to the next, in quarters, 90 a minute.</summary>
    public static Passage Written(int[] pitches, params Fraction[] moments) => Quarters(pitches) with
    {
        Notes = [.. pitches.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = moments[i], Length = moments[i + 1] - moments[i] })],
    };

    /// <summary>How long that is.</summary>
    public static double SecondsOf(Fraction quarters) => quarters.ToDouble() * QuarterSeconds;

    /// <summary>A note, softly begun and ended.</summary>
    public Playing Note(double midi, double atSeconds, double seconds, double amplitude = 0.1) =>
        Note(midi, atSeconds, seconds, [.. Enumerable.Range(1, 6).Select(k => amplitude / k)]);

    /// <summary>The same with harmonics of other amplitudes.</summary>
    public Playing Note(double midi, double atSeconds, double seconds, double[] amplitudes)
    {
        float[] tone = Tones.Harmonic(Tones.Hz(midi), seconds, RateHz, amplitudes);
        for (int i = 0; i < tone.Length; i++)
        {
            double within = (double)i / RateHz;
            tone[i] *= (float)Math.Clamp(Math.Min(within / 0.02, (seconds - within) / 0.03), 0, 1);
        }

        return Add(tone, atSeconds);
    }

    /// <summary>Quarter notes at 90 a minute, one after the other, each sounding 0.08 s less than its length.</summary>
    public Playing Quarters(double atSeconds, params int[] pitches) => FaintQuarters(atSeconds, db: 0, pitches);

    /// <summary>The same, softer.</summary>
    public Playing FaintQuarters(double atSeconds, double db, params int[] pitches)
    {
        for (int i = 0; i < pitches.Length; i++)
        {
            Note(pitches[i], atSeconds + (i * QuarterSeconds), QuarterSeconds - 0.08, 0.1 * Math.Pow(10, db / 20));
        }

        return this;
    }

    /// <summary>A note of a moving pitch, softly begun and ended.</summary>
    /// <param name="midi">Its pitch at each moment after its beginning.</param>
    /// <param name="atSeconds">Where it begins.</param>
    /// <param name="seconds">How long it sounds.</param>
    /// <param name="isBright">Whether it has twelve strong harmonics, not six that weaken.</param>
    public Playing Moving(Func<double, double> midi, double atSeconds, double seconds, bool isBright = false)
    {
        double turns = 0;
        var tone = new float[(int)(seconds * RateHz)];
        for (int i = 0; i < tone.Length; i++)
        {
            double within = (double)i / RateHz;
            turns += Tones.Hz(midi(within)) / RateHz;
            double level = 0.1 * Math.Clamp(Math.Min(within / 0.02, (seconds - within) / 0.03), 0, 1);
            tone[i] = (float)(level * Enumerable.Range(1, isBright ? 12 : 6).Sum(k => Math.Sin(2 * Math.PI * k * turns) / (isBright ? 2 * Math.Sqrt(k) : k)));
        }

        return Add(tone, atSeconds);
    }

    /// <summary>Noise between plus and minus the amplitude.</summary>
    public Playing Noise(double amplitude, double atSeconds, double seconds) => Add(Tones.Noise(amplitude, seconds, RateHz, seed: 4_711), atSeconds);

    /// <summary>The same, limited to what a recording can hold.</summary>
    public Playing Clipped()
    {
        for (int i = 0; i < _sound.Length; i++)
        {
            _sound[i] = Math.Clamp(_sound[i], -1f, 1f);
        }

        return this;
    }

    /// <summary>The same in a hall.</summary>
    public Playing InHall(double reverberationSeconds)
    {
        Hall.AddEcho(_sound, reverberationSeconds, seed: 815);
        return this;
    }

    public List<AttemptResult> HeardAs(Passage passage, Tolerances? tolerances = null, int blockLength = 1_024, (double At, double Seconds)? lost = null, Action<RegionSound, RegionAccount>? closed = null, Action<Ear, int>? before = null)
    {
        var ear = new Ear(RateHz, new JudgingTask(passage, null, tolerances ?? new Tolerances())) { RegionClosed = closed };
        long from = (long)((lost?.At ?? double.MaxValue / 1e12) * RateHz);
        long until = from + (long)((lost?.Seconds ?? 0) * RateHz);
        for (int at = 0; at < _sound.Length;)
        {
            int length = Math.Min(blockLength, _sound.Length - at);
            length = at < from ? (int)Math.Min(length, from - at) : length;
            if (at < from || at >= until)
            {
                before?.Invoke(ear, at);
                ear.Hear(new AudioBlock(_sound.AsSpan(at, length), at, followsGap: at == until));
            }

            at += length;
            at = at == from ? (int)until : at;
        }

        ear.Finish();
        return Taken(ear);
    }

    public static List<AttemptResult> Taken(Ear ear)
    {
        var attempts = new List<AttemptResult>();
        while (ear.TryTake(out AttemptResult? attempt))
        {
            attempts.Add(attempt!);
        }

        return attempts;
    }

    public static string Describe(IEnumerable<AttemptResult> attempts) => string.Join('\n', attempts.Select(a => string.Create(
        CultureInfo.InvariantCulture,
        $"{a.StartSeconds:R} {a.EndSeconds:R} {a.Verdict} {a.Reason} {string.Join(' ', a.Notes.Select(n => $"{n.OnsetSeconds:R}/{n.HeardMidi:R}/{string.Join('+', n.Faults)}"))}")));

    public static ImmutableArray<string> Words(IEnumerable<AttemptResult> attempts) =>
        [.. attempts.Select(a => FaultNames.Of(a.Verdict) + (a.Reason is { } reason ? " " + reason : string.Empty))];

    /// <summary>Adds a sound.</summary>
    public Playing Add(float[] tone, double atSeconds)
    {
        int at = (int)(atSeconds * RateHz);
        for (int i = 0; i < tone.Length && at + i < _sound.Length; i++)
        {
            _sound[at + i] += tone[i];
        }

        return this;
    }
}
