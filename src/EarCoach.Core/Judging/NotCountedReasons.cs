namespace EarCoach.Core.Judging;

/// <summary>Why an attempt is not counted, in the words of <see cref="AttemptResult.Reason"/>.</summary>
public static class NotCountedReasons
{
    /// <summary>Samples were lost on the way from the microphone while it was played.</summary>
    public const string Gap = "gap";

    /// <summary>One or two notes, at once begun again.</summary>
    public const string FalseStart = "false-start";

    /// <summary>A loud sound without pitch lay over each note that would be faulty.</summary>
    public const string Noise = "noise";

    /// <summary>The same, and the sound was beyond what the recording can hold.</summary>
    public const string Clipping = "clipping";

    /// <summary>The playing hardly stood above the noise of the room, and something in it seemed faulty.</summary>
    public const string RoomNoise = "room-noise";

    /// <summary>The passage went on where the task had ended.</summary>
    public const string PlayedOn = "played-on";

    /// <summary>Another tune, or a scale: it has hardly a note of the task.</summary>
    public const string SomethingElse = "something-else";

    /// <summary>Notes from within the task, tried for themselves.</summary>
    public const string FromWithin = "from-within";
}
