namespace EarCoach.Engine.Ports;

/// <summary>The store could not be read or written. The message names the file, what went wrong and the next step.</summary>
public sealed class StoreException(string message, Exception? inner = null) : Exception(message, inner);
