using System.Buffers.Binary;
using EarCoach.Engine.Sound;

namespace EarCoach.Audio;

/// <summary>Writes short mono clips as 16-bit WAV.</summary>
public static class WavClipWriter
{
    /// <summary>The bytes of a WAV file with these samples.</summary>
    /// <param name="samples">Mono, in [-1, 1]; beyond that they are cut to full scale, and what is no number becomes 0.</param>
    /// <param name="sampleRateHz">More than 0.</param>
    public static byte[] ToBytes(ReadOnlySpan<float> samples, int sampleRateHz)
    {
        byte[] bytes = WavLayout.Begin(samples.Length, sampleRateHz);
        Span<byte> at = bytes.AsSpan(WavLayout.HeaderBytes);
        for (int i = 0; i < samples.Length; i++)
        {
            float sample = float.IsFinite(samples[i]) ? samples[i] : 0;
            BinaryPrimitives.WriteInt16LittleEndian(at[(2 * i)..], (short)Math.Clamp(MathF.Round(sample * 32_768f), short.MinValue, short.MaxValue));
        }

        return bytes;
    }

    /// <summary>Writes a WAV file: first beside it, then moved into place, so that nobody ever sees half a clip.</summary>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be written to.</exception>
    public static void Write(string path, ReadOnlySpan<float> samples, int sampleRateHz)
    {
        string partial = path + ".partial";
        File.WriteAllBytes(partial, ToBytes(samples, sampleRateHz));
        File.Move(partial, path, overwrite: true);
    }
}
