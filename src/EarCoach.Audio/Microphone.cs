using EarCoach.Engine;

namespace EarCoach.Audio;

/// <summary>Opens the computer's microphone by whatever way the system has.</summary>
public static class Microphone
{
    /// <summary>Opens the default microphone: on Windows through its sound system, elsewhere through a recorder program.</summary>
    /// <param name="sampleRateHz">Asked of a recorder program; Windows gives its device's own rate.</param>
    /// <exception cref="AudioException">There is no microphone, or nothing that can record from it.</exception>
    public static IAudioSource Open(int sampleRateHz = 48_000) =>
        OperatingSystem.IsWindows() ? WindowsCaptureSource.Open() : RecorderProcessSource.Open(sampleRateHz);
}
