namespace EarCoach.Core.Judging;

/// <summary>The one set of words for faults and verdicts, everywhere.</summary>
public static class FaultNames
{
    /// <summary>For example "wrong-pitch".</summary>
    public static string Of(NoteFault fault) => fault switch
    {
        NoteFault.WrongPitch => "wrong-pitch",
        NoteFault.Cracked => "cracked",
        NoteFault.Missing => "missing",
        NoteFault.Extra => "extra",
        NoteFault.Flat => "flat",
        NoteFault.Sharp => "sharp",
        NoteFault.Early => "early",
        NoteFault.Late => "late",
        _ => throw new ArgumentOutOfRangeException(nameof(fault), fault, "No such fault."),
    };

    /// <summary>"clean", "missed" or "not-counted".</summary>
    public static string Of(Verdict verdict) => verdict switch
    {
        Verdict.Clean => "clean",
        Verdict.Missed => "missed",
        Verdict.NotCounted => "not-counted",
        _ => throw new ArgumentOutOfRangeException(nameof(verdict), verdict, "No such verdict."),
    };
}
