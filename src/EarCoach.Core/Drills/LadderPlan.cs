namespace EarCoach.Core.Drills;

/// <summary>Tempo ladder: from a share of the goal tempo up in notches; clean attempts climb, misses step down.</summary>
/// <remarks>Sources of the defaults: start ten metronome notches below the goal (120 to 80, two thirds) and go on after three perfect in a row:
/// M. Estrin, dansr.com/vandoren/resources/how-to-master-technical-passages-for-woodwind-players. The notch: the steps of the traditional
/// metronome scale are 3.4 to 5.6 %. The step down after two misses in three: our choice.</remarks>
public sealed record LadderPlan : DrillPlan
{
    /// <inheritdoc/>
    public override DrillKind Kind => DrillKind.TempoLadder;

    /// <summary>The first tempo as a share of the goal.</summary>
    public double StartShare { get; init; } = 0.67;

    /// <summary>How much quicker a notch is, as a share; the notches are evened out so that the last one is the goal.</summary>
    public double NotchShare { get; init; } = 0.04;

    /// <summary>Notches above the goal.</summary>
    public int NotchesBeyond { get; init; }

    /// <summary>How many clean attempts running climb one notch.</summary>
    public int CleanInARow { get; init; } = 3;

    /// <summary>So many misses among the newest <see cref="DropWindow"/> attempts at this tempo step one notch down; 0: never.</summary>
    public int DropMisses { get; init; } = 2;

    /// <summary>How many attempts at this tempo are looked at for the step down.</summary>
    public int DropWindow { get; init; } = 3;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        IEnumerable<string> problems =
        [
            .. base.Problems(),
            .. OutOfRange("The first tempo's share of the goal", StartShare, 0.2, 1.0),
            .. OutOfRange("The notch", NotchShare, 0.005, 0.25),
            .. OutOfRange("Notches beyond the goal", NotchesBeyond, 0, 10),
            .. OutOfRange("Clean in a row", CleanInARow, 1, 50),
            .. OutOfRange("Misses that step down", DropMisses, 0, 30),
            .. OutOfRange("Attempts looked at for the step down", DropWindow, 1, 30),
        ];
        return DropMisses > DropWindow
            ? problems.Append($"{DropMisses} misses among {DropWindow} attempts can never be; give a window of at least {DropMisses}.")
            : problems;
    }
}
