using System.Buffers.Binary;
using System.Globalization;
using NAudio.Wave;

namespace EarCoach.Audio;

/// <summary>What can be told from the first bytes of a file, in sentences a person can act on.</summary>
internal static class WavHeader
{
    private static readonly (byte[] Mark, string Kind)[] _otherKinds =
    [
        ("fLaC"u8.ToArray(), "a FLAC file"),
        ("OggS"u8.ToArray(), "an Ogg file"),
        ("ID3"u8.ToArray(), "an MP3 file"),
        ([0xFF, 0xFB], "an MP3 file"),
        ("FORM"u8.ToArray(), "an AIFF file"),
        ("MThd"u8.ToArray(), "a MIDI file (the passage comes first, the recording second)"),
        ("RIFX"u8.ToArray(), "a big-endian RIFX file"),
        ("PK"u8.ToArray(), "a zip archive"),
    ];

    /// <summary>Opens the file for shared reading.</summary>
    public static FileStream OpenFile(string path)
    {
        try
        {
            return new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, bufferSize: 1 << 16, FileOptions.SequentialScan);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            throw new AudioException(AudioFailure.NotFound, $"There is no file '{path}'. Check the path of the recording.", e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw new AudioException(AudioFailure.Unreadable, $"'{path}' could not be opened ({e.Message}). Give a WAV file that you may read.", e);
        }
    }

    /// <summary>Lets a file that begins like a WAV pass, and leaves the file at its start.</summary>
    public static void CheckLeadingBytes(string name, FileStream file)
    {
        Span<byte> head = stackalloc byte[12];
        int got = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        file.Position = 0;
        head = head[..got];
        if (got == 0)
        {
            throw new AudioException(AudioFailure.Empty, $"'{name}' is empty (0 bytes). Record again, or give another file.");
        }

        bool riff = head.StartsWith("RIFF"u8) || head.StartsWith("RF64"u8) || head.StartsWith("BW64"u8);
        if (riff && got == 12 && head[8..].SequenceEqual("WAVE"u8))
        {
            return;
        }

        if (riff && got < 12)
        {
            throw new AudioException(AudioFailure.Malformed, Broken(name, $"it ends after {got} bytes"));
        }

        string kind = "something else";
        foreach ((byte[] mark, string other) in _otherKinds)
        {
            if (head.StartsWith(mark))
            {
                kind = other;
                break;
            }
        }

        throw new AudioException(AudioFailure.NotWav,
            $"'{name}' is not a WAV file but {kind}. Give a WAV file, or convert it first, for example with: ffmpeg -i INPUT OUTPUT.wav");
    }

    /// <summary>Reads the header by the library; whatever it throws becomes one kind of failure.</summary>
    public static WaveFileReader Parse(string name, FileStream file)
    {
        try
        {
            var reader = new WaveFileReader(file);
            reader.Position = 0; // moves the file to the first sample
            return reader;
        }
        catch (Exception e) when (e is FormatException or InvalidDataException or IOException or ArgumentException or InvalidOperationException
            or NotSupportedException or ArithmeticException or IndexOutOfRangeException or InvalidCastException or OutOfMemoryException)
        {
            throw new AudioException(AudioFailure.Malformed, Broken(name, "its 'fmt ' or 'data' part is missing or damaged"), e);
        }
    }

    /// <summary>How the samples are stored, from a plain or an extensible header.</summary>
    public static SampleFormat SampleFormatOf(string name, WaveFormat format)
    {
        WaveFormat plain = Plain(name, format);
        SampleFormat? stored = (plain.Encoding, format.BitsPerSample) switch
        {
            (WaveFormatEncoding.Pcm, 8) => SampleFormat.Unsigned8,
            (WaveFormatEncoding.Pcm, 16) => SampleFormat.Signed16,
            (WaveFormatEncoding.Pcm, 24) => SampleFormat.Signed24,
            (WaveFormatEncoding.Pcm, 32) => SampleFormat.Signed32,
            (WaveFormatEncoding.IeeeFloat, 32) => SampleFormat.Real32,
            (WaveFormatEncoding.IeeeFloat, 64) => SampleFormat.Real64,
            _ => null,
        };
        if (plain.Encoding == WaveFormatEncoding.Extensible)
        {
            throw new AudioException(AudioFailure.Malformed, Broken(name, "its extensible header is cut off or names a coding that is not known"));
        }

        if (stored is not { } known)
        {
            throw new AudioException(AudioFailure.UnsupportedFormat, string.Create(CultureInfo.InvariantCulture,
                $"'{name}' holds {format.BitsPerSample}-bit {plain.Encoding}; PCM of 8, 16, 24 or 32 bits and floating point of 32 or 64 bits are read. Convert it to 16-bit PCM."));
        }

        if (format.Channels < 1 || format.BlockAlign != SampleDecoder.BytesOf(known) * format.Channels)
        {
            throw new AudioException(AudioFailure.Malformed, Broken(name, string.Create(CultureInfo.InvariantCulture,
                $"it says {format.Channels} channels of {format.BitsPerSample} bits in frames of {format.BlockAlign} bytes")));
        }

        return known;
    }

    /// <summary>The bytes of sound that the header promises; null where it leaves that open.</summary>
    /// <remarks>The file stands at its first sample, and stands there again afterwards. A program that wrote into a pipe puts a length of 2 GiB
    /// or more as a placeholder; one that was stopped early leaves 0 there, and a RIFF size that has nothing behind the data.</remarks>
    public static long? PromisedBytes(FileStream file, WaveFileReader reader)
    {
        long first = file.Position;
        long held = file.Length - first;
        uint riffBytes = ReadUInt32(file, 4);
        uint dataBytes = ReadUInt32(file, first - 4);
        file.Position = first;
        return dataBytes switch
        {
            0 when held > 0 && riffBytes + 8L <= first => null,
            >= 0x7FFF_0000 when reader.Length < dataBytes => reader.Length < held ? reader.Length : null, // RF64 has its length elsewhere
            _ => dataBytes,
        };
    }

    private static WaveFormat Plain(string name, WaveFormat format)
    {
        try
        {
            return format.AsStandardWaveFormat();
        }
        catch (Exception e) when (e is ArgumentException or InvalidOperationException or NotSupportedException or IndexOutOfRangeException)
        {
            throw new AudioException(AudioFailure.Malformed, Broken(name, "its extensible header is damaged"), e);
        }
    }

    private static uint ReadUInt32(FileStream file, long at)
    {
        Span<byte> bytes = stackalloc byte[4];
        file.Position = at;
        file.ReadExactly(bytes);
        return BinaryPrimitives.ReadUInt32LittleEndian(bytes);
    }

    private static string Broken(string name, string how) =>
        $"'{name}' begins like a WAV file, but {how}. Export or record it again.";
}
