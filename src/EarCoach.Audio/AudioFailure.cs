namespace EarCoach.Audio;

/// <summary>Why sound could not be had: something to branch on.</summary>
public enum AudioFailure
{
    /// <summary>There is no such file.</summary>
    NotFound,

    /// <summary>It is there, but it could not be read (rights, a folder, a broken disk).</summary>
    Unreadable,

    /// <summary>The file has 0 bytes.</summary>
    Empty,

    /// <summary>The file is something other than a WAV.</summary>
    NotWav,

    /// <summary>It starts like a WAV, but its header is broken.</summary>
    Malformed,

    /// <summary>It is a WAV without a single sample.</summary>
    NoSamples,

    /// <summary>A coding other than linear PCM or floating point.</summary>
    UnsupportedFormat,

    /// <summary>A sample rate outside 16,000 to 192,000 Hz.</summary>
    UnsupportedRate,

    /// <summary>No microphone, or no program that can record from it.</summary>
    NoRecorder,

    /// <summary>The microphone stopped working.</summary>
    CaptureFailed,
}
