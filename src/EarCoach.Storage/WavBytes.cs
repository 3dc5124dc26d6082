using System.Buffers.Binary;
using System.Runtime.InteropServices;
using EarCoach.Engine.Ports;

namespace EarCoach.Storage;

/// <summary>A clip as a WAV file: RIFF, one channel, 16-bit PCM.</summary>
/// <remarks>Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991), Waveform Audio File Format.</remarks>
internal static class WavBytes
{
    private const int HeaderBytes = 44;

    public static byte[] Of(AttemptClip clip)
    {
        int dataBytes = clip.Samples.Length * sizeof(short);
        byte[] wav = new byte[HeaderBytes + dataBytes];
        Span<byte> header = wav;
        "RIFF"u8.CopyTo(header);
        BinaryPrimitives.WriteInt32LittleEndian(header[4..], HeaderBytes - 8 + dataBytes);
        "WAVEfmt "u8.CopyTo(header[8..]);
        BinaryPrimitives.WriteInt32LittleEndian(header[16..], 16);
        BinaryPrimitives.WriteInt16LittleEndian(header[20..], 1); // PCM
        BinaryPrimitives.WriteInt16LittleEndian(header[22..], 1); // channels
        BinaryPrimitives.WriteInt32LittleEndian(header[24..], clip.SampleRateHz);
        BinaryPrimitives.WriteInt32LittleEndian(header[28..], clip.SampleRateHz * sizeof(short));
        BinaryPrimitives.WriteInt16LittleEndian(header[32..], sizeof(short));
        BinaryPrimitives.WriteInt16LittleEndian(header[34..], 16);
        "data"u8.CopyTo(header[36..]);
        BinaryPrimitives.WriteInt32LittleEndian(header[40..], dataBytes);
        Span<byte> data = header[HeaderBytes..];
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
