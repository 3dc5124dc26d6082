using System.Buffers.Binary;
using System.Runtime.InteropServices;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sound;

namespace EarCoach.Storage;

/// <summary>A clip as a WAV file.</summary>
internal static class WavBytes
{
    public static byte[] Of(AttemptClip clip)
    {
        byte[] wav = WavLayout.Begin(clip.Samples.Length, clip.SampleRateHz);
        Span<byte> data = wav.AsSpan(WavLayout.HeaderBytes);
        if (BitConverter.IsLittleEndian)
        {
            MemoryMarshal.AsBytes(clip.Samples.Span).CopyTo(data);
            return wav;
        }

        for (int i = 0; i < clip.Samples.Length; i++)
        {
            BinaryPrimitives.WriteInt16LittleEndian(data[(i * 2)..], clip.Samples.Span[i]);
        }

        return wav;
    }
}
