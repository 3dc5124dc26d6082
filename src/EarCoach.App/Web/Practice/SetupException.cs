namespace EarCoach.App.Web.Practice;

/// <summary>What was chosen cannot be played; the message says why and what to do.</summary>
internal sealed class SetupException(string message) : Exception(message);
