namespace EarCoach.Audio;

/// <summary>How one sample is stored. All little-endian.</summary>
public enum SampleFormat
{
    /// <summary>8 bits, unsigned, 128 is silence.</summary>
    Unsigned8,

    /// <summary>16 bits, signed.</summary>
    Signed16,

    /// <summary>24 bits, signed, packed in 3 bytes.</summary>
    Signed24,

    /// <summary>32 bits, signed.</summary>
    Signed32,

    /// <summary>32-bit IEEE 754 floating point.</summary>
    Real32,

    /// <summary>64-bit IEEE 754 floating point.</summary>
    Real64,
}
