namespace EarCoach.App.Commands;

/// <summary>The command asks for something that cannot be meant; the message says what to write instead.</summary>
internal sealed class UsageException(string message) : Exception(message);
