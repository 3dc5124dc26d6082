namespace EarCoach.App.Web.Messages;

/// <summary>A rest that is proposed.</summary>
internal sealed record PageRest(string Reason, string Sentence, DateTimeOffset? EndsAt);
