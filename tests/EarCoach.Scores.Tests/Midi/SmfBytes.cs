using System.Buffers.Binary;

namespace EarCoach.Scores.Tests.Midi;

/// <summary>Builds Standard MIDI Files byte by byte from the standard's text (RP-001), independently of the reader and the writer.</summary>
internal sealed class SmfBytes
{
    private readonly List<byte> _track = [];

    public static byte[] File(int format, int division, params byte[][] tracks)
    {
        List<byte> bytes = [.. "MThd"u8, 0, 0, 0, 6, 0, (byte)format, 0, (byte)tracks.Length, (byte)(division >> 8), (byte)division];
        foreach (byte[] track in tracks)
        {
            bytes.AddRange(Chunk("MTrk", track));
        }

        return [.. bytes];
    }

    public static byte[] Chunk(string type, byte[] content)
    {
        byte[] length = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(length, content.Length);
        return [.. type.Select(c => (byte)c), .. length, .. content];
    }

    public static MemoryStream Open(byte[] bytes) => new(bytes, writable: false);

    public SmfBytes Raw(int delta, params byte[] bytes)
    {
        // Variable-length quantity: seven bits a byte, most significant first, all but the last with the top bit set.
        Stack<byte> digits = new([(byte)(delta & 0x7F)]);
        for (int rest = delta >> 7; rest > 0; rest >>= 7)
        {
            digits.Push((byte)((rest & 0x7F) | 0x80));
        }

        _track.AddRange(digits);
        _track.AddRange(bytes);
        return this;
    }

    public SmfBytes Tempo(int delta, int microseconds) =>
        Raw(delta, 0xFF, 0x51, 3, (byte)(microseconds >> 16), (byte)(microseconds >> 8), (byte)microseconds);

    public SmfBytes Meter(int delta, int beats, int power) => Raw(delta, 0xFF, 0x58, 4, (byte)beats, (byte)power, 24, 8);

    public SmfBytes Key(int delta, int sharps) => Raw(delta, 0xFF, 0x59, 2, (byte)(sbyte)sharps, 0);

    public SmfBytes Name(string name) => Raw(0, [0xFF, 0x03, (byte)name.Length, .. name.Select(c => (byte)c)]);

    public SmfBytes On(int delta, int pitch, int channel = 1) => Raw(delta, (byte)(0x90 | (channel - 1)), (byte)pitch, 80);

    public SmfBytes Off(int delta, int pitch, int channel = 1) => Raw(delta, (byte)(0x80 | (channel - 1)), (byte)pitch, 64);

    public SmfBytes Note(int pitch, int ticks, int rest = 0, int channel = 1) => On(rest, pitch, channel).Off(ticks, pitch, channel);

    public byte[] End(int delta = 0)
    {
        Raw(delta, 0xFF, 0x2F, 0);
        return [.. _track];
    }
}
