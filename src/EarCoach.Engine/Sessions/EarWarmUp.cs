using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;

namespace EarCoach.Engine.Sessions;

/// <summary>Lets the ear judge a few made-up attempts in the background, once a process, so that the player's first verdict need not wait
/// for the ear's code to be compiled.</summary>
public static class EarWarmUp
{
    private const int SampleRateHz = 44_100;
    private const int Attempts = 3;
    private const double NoteSeconds = 0.25;
    private static readonly int[] _pitches = [60, 64, 62, 67];
    private static readonly Lazy<Task> _once = new(() => Task.Factory.StartNew(Run, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default));

    /// <summary>Begins it, unless it was begun before.</summary>
    /// <returns>Ends when it is done.</returns>
    public static Task Start() => _once.Value;

    private static void Run()
    {
        Passage passage = new()
        {
            Title = "Warm-up",
            Tempi = [new TempoMark(Fraction.Zero, 60 / NoteSeconds)],
            Notes = [.. _pitches.Select((pitch, i) => new PassageNote { MidiPitch = pitch, Onset = i, Length = 1 })],
        };
        Ear ear = new(SampleRateHz, new JudgingTask(passage, QuartersPerMinute: null, new Tolerances()));
        float[] attempt = Tones();
        for (int i = 0; i < Attempts; i++)
        {
            ear.Hear(new AudioBlock(attempt, (long)i * attempt.Length));
        }

        while (ear.TryTake(out _))
        {
            // nobody is told
        }
    }

    private static float[] Tones()
    {
        int note = (int)(NoteSeconds * SampleRateHz);
        int sounding = note * 9 / 10;
        float[] samples = new float[(_pitches.Length * note) + SampleRateHz];
        for (int i = 0; i < _pitches.Length * note; i++)
        {
            int within = i % note;
            double hertz = EqualTemperament.HzOf(_pitches[i / note]);
            double gain = Math.Clamp(Math.Min(within, sounding - within) / (0.02 * SampleRateHz), 0, 1);
            for (int harmonic = 1; harmonic <= 5; harmonic++)
            {
                samples[(SampleRateHz / 4) + i] += (float)(0.1 * gain * Math.Sin(2 * Math.PI * hertz * harmonic * i / SampleRateHz) / harmonic);
            }
        }

        return samples;
    }
}
