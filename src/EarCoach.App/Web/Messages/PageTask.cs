namespace EarCoach.App.Web.Messages;

/// <summary>What is to be played now.</summary>
internal sealed record PageTask
{
    public required string Sentence { get; init; }

    /// <summary>Address of the notation that is shown.</summary>
    public required string Score { get; init; }

    /// <summary>The first note of the task among the notes shown, from 0.</summary>
    public required int ShownFirst { get; init; }

    public required int ShownCount { get; init; }

    public required int ShownTotal { get; init; }

    public required double BeatsPerMinute { get; init; }

    public required int BeatsPerBar { get; init; }

    /// <summary>Sounding pitch of the first note.</summary>
    public required int FirstMidi { get; init; }

    public required PageLimits Limits { get; init; }
}
