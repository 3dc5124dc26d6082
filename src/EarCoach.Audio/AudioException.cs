namespace EarCoach.Audio;

/// <summary>Sound could not be had: a kind to branch on, and a sentence that gives the value, the rule and the next step.</summary>
public sealed class AudioException : Exception
{
    /// <summary>Makes one.</summary>
    public AudioException(AudioFailure failure, string message, Exception? cause = null)
        : base(message, cause)
    {
        Failure = failure;
    }

    /// <summary>The kind.</summary>
    public AudioFailure Failure { get; }
}
