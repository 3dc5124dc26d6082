using EarCoach.Core.Passages;

namespace EarCoach.Core.Judging;

/// <summary>Turns a task into target notes: seconds at the asked tempo, pitch at the player's A.</summary>
internal static class TaskTargets
{
    public static TargetNote[] Of(JudgingTask task)
    {
        Passage passage = task.Passage;
        double scale = task.QuartersPerMinute is { } asked ? passage.Tempi[0].QuartersPerMinute / asked : 1;
        double tuning = 12 * Math.Log2(task.A4Hz / 440.0);
        double first = passage.Notes.Length > 0 ? SecondsAt(passage, passage.Notes[0].Onset.ToDouble()) : 0;
        var targets = new TargetNote[passage.Notes.Length];
        for (int i = 0; i < targets.Length; i++)
        {
            PassageNote note = passage.Notes[i];
            double on = SecondsAt(passage, note.Onset.ToDouble());
            double off = SecondsAt(passage, (note.Onset + note.Length).ToDouble());
            targets[i] = new TargetNote(note.MidiPitch + tuning, scale * (on - first), scale * (off - on), note.SlurredFromPrevious, note.Required);
        }

        return targets;
    }

    /// <summary>Seconds from the start of the passage at its own tempo marks.</summary>
    private static double SecondsAt(Passage passage, double quarters)
    {
        double seconds = 0;
        for (int i = 0; i < passage.Tempi.Length; i++)
        {
            double from = i == 0 ? 0 : passage.Tempi[i].At.ToDouble();
            double until = i + 1 < passage.Tempi.Length ? passage.Tempi[i + 1].At.ToDouble() : double.PositiveInfinity;
            if (quarters <= from)
            {
                break;
            }

            seconds += (Math.Min(quarters, until) - from) * 60 / passage.Tempi[i].QuartersPerMinute;
        }

        return seconds;
    }
}
