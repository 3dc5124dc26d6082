using EarCoach.Core.Judging;
using EarCoach.Engine.Wording;

namespace EarCoach.App.Commands;

/// <summary>Says what attempts are judged by.</summary>
internal static class ToleranceSentence
{
    /// <summary>One sentence with every limit that is in force.</summary>
    public static string Of(JudgingTask task, double askedQuartersPerMinute)
    {
        Tolerances limits = task.Tolerances;
        string pitch = limits.Cents is { } cents ? Text($"pitch within {cents:0.#} cents (A is {task.A4Hz:0.#} Hz)") : "the right semitone";
        string tempo = VerdictWording.TempoOf(task.Passage, askedQuartersPerMinute);
        string timing = limits.Timing switch
        {
            TimingMode.Off => "timing not judged",
            TimingMode.Fitted => Text($"starts within {limits.OnsetMs:0} ms of a steady tempo, which is within {limits.TempoShare * 100:0} % of {tempo}"),
            TimingMode.Rhythm => Text($"{RhythmWording.LimitsOf(limits)}, at a steady tempo within {limits.TempoShare * 100:0} % of {tempo}"),
            _ => Text($"starts within {limits.OnsetMs:0} ms of {tempo}"),
        };
        return Text($"Judged by: {pitch}; {timing}; cracks up to {limits.CrackMs:0} ms forgiven.");
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
