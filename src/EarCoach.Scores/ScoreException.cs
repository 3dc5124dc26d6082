namespace EarCoach.Scores;

/// <summary>A score could not be read or written. The message names the place, the value, the rule and what to do next.</summary>
public sealed class ScoreException : Exception
{
    /// <summary>A failure with its place and reason.</summary>
    /// <param name="failure">What a caller branches on.</param>
    /// <param name="place">Where, as a person looks for it: "bar 3, beat 2", "line 4, column 7", "byte 22".</param>
    /// <param name="reason">A sentence or two: the value, the rule, the next step.</param>
    /// <param name="inner">What a library threw, if one did.</param>
    public ScoreException(ScoreFailure failure, string place, string reason, Exception? inner = null)
        : base($"{place}: {reason}", inner)
    {
        Failure = failure;
        Place = place;
        Reason = reason;
    }

    /// <summary>What went wrong, to branch on.</summary>
    public ScoreFailure Failure { get; }

    /// <summary>Where in the score.</summary>
    public string Place { get; }

    /// <summary>The sentence without the place.</summary>
    public string Reason { get; }
}
