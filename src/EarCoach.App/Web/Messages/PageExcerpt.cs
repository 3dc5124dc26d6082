namespace EarCoach.App.Web.Messages;

/// <summary>Some notes to be cut out as a passage of their own.</summary>
/// <param name="First">First note, from 0.</param>
/// <param name="Last">Last note, included.</param>
/// <param name="Title">What it is called; null or "": after the part and its bars.</param>
internal sealed record PageExcerpt(int First, int Last, string? Title);
