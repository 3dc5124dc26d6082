using System.Text.Json;
using EarCoach.Core.Drills;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Engine.Json;
using EarCoach.Engine.Ports;

namespace EarCoach.Engine.Sessions;

/// <summary>Plays a few made-up attempts to a session in the background, once a process, so that the player's first verdict need not wait
/// for the code of ear, drill and wording to be compiled. The attempts are made so that most of the ear is needed: they ring on, and they hold
/// one of every fault. Nothing is kept and nobody is told.</summary>
public static class EarWarmUp
{
    private const int SampleRateHz = 44_100;
    private const int Harmonics = 8;
    private const double NoteSeconds = 0.25;
    private const double LevelOfTone = 0.1;
    private const double LevelOfNoise = 0.0005;
    private const double QuietSeconds = 0.5;
    private const double CrackSeconds = 0.07;
    private const double HoleSeconds = 0.03;
    private const double EchoSeconds = 0.061;
    private const float EchoGain = 0.6f;

    /// <summary>What is written, and how it is played where faults are wanted: some notes repeat and some are slurred, as in music.</summary>
    private static readonly Played[] _notes =
    [
        new(48), new(48), new(52), new(55, Slurred: true), new(60), new(60), new(59), new(57, Slurred: true), new(55), new(60),
        new(64, CrackedFrom: 60), new(62, CentsOff: 45), new(60, CentsOff: -1200), new(64, LateSeconds: 0.1), new(67, LateSeconds: -0.1), new(65, Struck: true),
        new(64, Missing: true), new(62, CentsOff: 200), new(60), new(60),
    ];

    private static readonly Lazy<Task> _once = new(() => Task.Factory.StartNew(() => Rehearse(new ForgetfulStore()), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default));

    /// <summary>Begins it, unless it was begun before.</summary>
    /// <returns>Ends when it is done.</returns>
    public static Task Start() => _once.Value;

    /// <summary>Plays the attempts.</summary>
    /// <param name="store">Is told what was judged.</param>
    internal static void Rehearse(IAttemptStore store)
    {
        Passage passage = new()
        {
            Title = "Warm-up",
            Tempi = [new TempoMark(Fraction.Zero, 60 / NoteSeconds)],
            Notes = [.. _notes.Select((note, i) => new PassageNote { MidiPitch = note.MidiPitch, Onset = i, Length = 1 })],
        };
        PracticeSession session = PracticeSession.Begin(
            [new SessionPassage(Guid.Empty, passage)], new ProofPlan(), store, new SessionFeed(), TimeProvider.System);
        session.OpenStream(SampleRateHz);
        long heard = 0;
        foreach (bool withFaults in new[] { true, false })
        {
            float[] attempt = Attempt(withFaults);
            session.Hear(new AudioBlock(attempt, heard));
            heard += attempt.Length;
        }

        session.CloseStream();
    }

    /// <summary>The sound of one attempt with a quiet before and after it.</summary>
    private static float[] Attempt(bool withFaults)
    {
        float[] samples = new float[(int)(((_notes.Length * NoteSeconds) + (4 * QuietSeconds)) * SampleRateHz)];
        for (int i = 0; i < _notes.Length; i++)
        {
            Played note = withFaults ? _notes[i] : new(_notes[i].MidiPitch, _notes[i].Slurred);
            if (note.Missing)
            {
                continue;
            }

            double start = QuietSeconds + (i * NoteSeconds) + note.LateSeconds;
            double end = start + (NoteSeconds * (i + 1 < _notes.Length && _notes[i + 1].Slurred ? 1 : 0.9));
            double hertz = EqualTemperament.HzOf(note.MidiPitch + (note.CentsOff / 100));
            if (note.CrackedFrom is { } other)
            {
                AddTone(samples, start, start + CrackSeconds, EqualTemperament.HzOf(other));
                start += CrackSeconds;
            }

            if (note.Struck)
            {
                AddTone(samples, start, (start + end) / 2, hertz);
                start = ((start + end) / 2) + HoleSeconds;
            }

            AddTone(samples, start, end, hertz);
        }

        AddRoom(samples);
        return samples;
    }

    private static void AddTone(float[] samples, double startSeconds, double endSeconds, double hertz)
    {
        int start = (int)(startSeconds * SampleRateHz);
        int end = (int)(endSeconds * SampleRateHz);
        for (int i = start; i < end; i++)
        {
            double gain = LevelOfTone * Math.Clamp(Math.Min(i - start, end - i) / (0.01 * SampleRateHz), 0, 1);
            for (int harmonic = 1; harmonic <= Harmonics; harmonic++)
            {
                samples[i] += (float)(gain * Math.Sin(2 * Math.PI * hertz * harmonic * (i - start) / SampleRateHz) / harmonic);
            }
        }
    }

    private static void AddRoom(float[] samples)
    {
        int delay = (int)(EchoSeconds * SampleRateHz);
        Random noise = new(1);
        for (int i = 0; i < samples.Length; i++)
        {
            samples[i] += (float)(LevelOfNoise * ((2 * noise.NextDouble()) - 1)) + (i >= delay ? EchoGain * samples[i - delay] : 0);
        }
    }

    private sealed record Played(
        int MidiPitch, bool Slurred = false, int? CrackedFrom = null, double CentsOff = 0, double LateSeconds = 0, bool Struck = false, bool Missing = false);

    /// <summary>Writes down what a store would, and throws it away.</summary>
    private sealed class ForgetfulStore : IAttemptStore
    {
        private string _start = "";

        public void Begin(SessionStart start) => _start = JsonSerializer.Serialize(start, EngineJson.Options);

        public void Append(Guid sessionId, LoggedInput entry) => _ = JsonSerializer.Serialize(entry.Input, EngineJson.Options);

        public void Append(Guid sessionId, LoggedInput entry, JudgedAttempt attempt)
        {
            Append(sessionId, entry);
            _ = JsonSerializer.Serialize(attempt, EngineJson.Options);
            _ = JsonSerializer.Deserialize<SessionStart>(_start, EngineJson.Options);
        }

        public void Close(Guid sessionId, DateTimeOffset at)
        {
        }

        public SessionRecord? Find(Guid sessionId) => null;

        public SessionRecord? NewestUnfinished() => null;

        public IReadOnlyList<JudgedAttempt> AttemptsOf(Guid sessionId) => [];

        public byte[]? ClipOf(Guid sessionId, int number) => null;

        public double PlayedSecondsOn(DateOnly day) => 0;

        public bool WasPlayedOn(Guid passageId, DateOnly day) => false;
    }
}
