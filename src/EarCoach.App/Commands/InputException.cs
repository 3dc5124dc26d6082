namespace EarCoach.App.Commands;

/// <summary>The input cannot be used; the message gives the value, the rule and the next step.</summary>
internal sealed class InputException(string message, Exception? cause = null) : Exception(message, cause);
