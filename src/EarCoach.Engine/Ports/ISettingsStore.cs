namespace EarCoach.Engine.Ports;

/// <summary>Small settings by name (theme, keys, cues, calibration), as text the caller understands. Any thread; durable on return.</summary>
public interface ISettingsStore
{
    /// <summary>The setting; null when it was never set.</summary>
    string? Read(string name);

    /// <summary>Sets it; null removes it.</summary>
    void Write(string name, string? value);
}
