using EarCoach.Core.Judging;

namespace EarCoach.App.Web.Practice;

/// <summary>Words for how onsets are judged: those of the command line.</summary>
internal static class TimingNames
{
    /// <summary>"off", "fitted", "strict" or "rhythm".</summary>
    public static string Of(TimingMode timing) => timing switch
    {
        TimingMode.Off => "off",
        TimingMode.Fitted => "fitted",
        TimingMode.Strict => "strict",
        TimingMode.Rhythm => "rhythm",
        _ => throw new ArgumentOutOfRangeException(nameof(timing), timing, "No such timing."),
    };

    /// <summary>Reads a word back; null where it is none of them.</summary>
    public static TimingMode? Parse(string? word) => word switch
    {
        "off" => TimingMode.Off,
        "fitted" => TimingMode.Fitted,
        "strict" => TimingMode.Strict,
        "rhythm" => TimingMode.Rhythm,
        _ => null,
    };
}
