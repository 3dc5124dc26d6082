using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>Plays whatever task a session shows, exactly, by arithmetic: tones of eight harmonics at equal temperament (A4 = 440 Hz, ISO 16:1975).</summary>
internal sealed class RobotPlayer(PracticeSession session, int rateHz)
{
    private const double RestSeconds = 1.2;
    private long _played;

    public RobotPlayer Begin()
    {
        session.OpenStream(rateHz);
        Hear(new float[rateHz]);
        return this;
    }

    /// <summary>One attempt at the task shown now, and a rest after it.</summary>
    /// <param name="tempoFactor">1: the asked tempo.</param>
    /// <param name="isEven">True: every note equally long, whatever the rhythm asked for.</param>
    /// <param name="moved">Where a place of the task is played, both in quarter notes from its first note; null: where it is written.</param>
    /// <param name="wrongNote">A note of the task to play a semitone too high, or null.</param>
    public void PlayTask(double tempoFactor = 1, bool isEven = false, Func<double, double>? moved = null, int? wrongNote = null)
    {
        JudgingTask task = session.View.Task!;
        double quarter = 60 / ((task.QuartersPerMinute ?? task.Passage.Tempi[0].QuartersPerMinute) * tempoFactor);
        Fraction start = task.Passage.Notes[0].Onset;
        Func<Fraction, double> secondsOf = place => (moved ?? (p => p))((place - start).ToDouble()) * quarter;
        double total = secondsOf(task.Passage.Notes[^1].End);
        float[] sound = new float[(int)((total + RestSeconds) * rateHz)];
        int count = task.Passage.Notes.Length;
        for (int n = 0; n < count; n++)
        {
            PassageNote note = task.Passage.Notes[n];
            double onset = isEven ? total * n / count : secondsOf(note.Onset);
            double length = 0.92 * (isEven ? total / count : secondsOf(note.End) - secondsOf(note.Onset));
            AddTone(sound, note.MidiPitch + (n == wrongNote ? 1 : 0), (int)(onset * rateHz), (int)(length * rateHz));
        }

        Hear(sound);
    }

    private void AddTone(float[] sound, int midi, int from, int length)
    {
        double hertz = 440 * Math.Pow(2, (midi - 69) / 12.0);
        double edge = 0.012 * rateHz;
        for (int i = 0; i < length; i++)
        {
            double envelope = Math.Min(1, Math.Min(i / edge, (length - i) / edge));
            double sample = Enumerable.Range(1, 8).Sum(h => Math.Sin(2 * Math.PI * hertz * h * i / rateHz) / h);
            sound[from + i] += (float)(0.15 * envelope * sample);
        }
    }

    private void Hear(float[] sound)
    {
        session.Hear(new AudioBlock(sound, _played));
        _played += sound.Length;
    }
}
