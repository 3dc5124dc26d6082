namespace EarCoach.App.Web.Messages;

/// <summary>By which tolerance an attempt is judged.</summary>
internal sealed record PageLimits(double? Cents, double OnsetMs, double CrackMs, double TempoShare, string Timing, double LongRatio, double EvenShare);
