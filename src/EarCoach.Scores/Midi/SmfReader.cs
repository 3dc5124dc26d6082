using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;

namespace EarCoach.Scores.Midi;

/// <summary>Takes a Standard MIDI File apart into chunks and hands each track to <see cref="SmfTrackReader"/>.</summary>
/// <remarks>Source of the rules: RP-001, Standard MIDI Files 1.0: header chunk of at least 6 bytes, format 0, 1 or 2, bit 15 of the division
/// tells SMPTE time from ticks per quarter, chunks of unknown type are skipped.</remarks>
internal static class SmfReader
{
    private const int MostBytes = 4 * 1024 * 1024;
    private const int ChunkHeaderBytes = 8;
    private const int HeaderBytes = 6;

    public static SmfFile Read(Stream stream)
    {
        byte[] bytes = BoundedStreamReading.ReadAll(stream, MostBytes, "MIDI file");
        RequireMidi(bytes);
        int headerLength = ChunkLength(bytes, 0);
        if (headerLength < HeaderBytes)
        {
            throw Malformed(4, $"The header chunk is {headerLength} bytes long; the standard asks for at least {HeaderBytes}. The file is damaged: export it again.");
        }

        int format = BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(8));
        int declaredTracks = BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(10));
        int division = BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(12));
        RequireReadable(format, division);
        ImmutableArray<SmfTrack> tracks = ReadTracks(bytes, ChunkHeaderBytes + headerLength);
        if (tracks.Length < declaredTracks)
        {
            throw new ScoreException(
                ScoreFailure.Truncated,
                At(bytes.Length),
                $"The header announces {declaredTracks} tracks, the file holds {tracks.Length}. It was cut off: copy or export it again.");
        }

        if (format == 0 && tracks.Length > 1)
        {
            throw Malformed(10, $"The file says format 0, which has one track, but holds {tracks.Length}. Export it again as format 1.");
        }

        return new SmfFile(format, division, tracks);
    }

    private static void RequireMidi(byte[] bytes)
    {
        if (bytes.Length == 0)
        {
            throw new ScoreException(ScoreFailure.NotThisFormat, At(0), "The file is empty. Choose a Standard MIDI File (.mid).");
        }

        if (bytes.Length < 4 || !bytes.AsSpan(0, 4).SequenceEqual("MThd"u8))
        {
            throw new ScoreException(
                ScoreFailure.NotThisFormat,
                At(0),
                "This is no Standard MIDI File: it does not begin with 'MThd'. Choose a .mid file, or export one from the notation program.");
        }

        if (bytes.Length < ChunkHeaderBytes + HeaderBytes)
        {
            throw new ScoreException(
                ScoreFailure.Truncated,
                At(bytes.Length),
                $"The file ends inside its header, which needs {ChunkHeaderBytes + HeaderBytes} bytes. It was cut off: copy or export it again.");
        }
    }

    private static void RequireReadable(int format, int division)
    {
        if (format > 1)
        {
            throw new ScoreException(
                ScoreFailure.Unsupported,
                At(8),
                string.Create(CultureInfo.InvariantCulture, $"The file is of format {format}; formats 0 and 1 are read. Export it again as format 1."));
        }

        if ((division & 0x8000) != 0)
        {
            int framesPerSecond = -(sbyte)(division >> 8);
            throw new ScoreException(
                ScoreFailure.Unsupported,
                At(12),
                $"The file counts time in film frames ({framesPerSecond} a second, SMPTE), not in parts of a quarter note, so bars and beats are not known. "
                + "Export it again with ticks per quarter note.");
        }

        if (division == 0)
        {
            throw Malformed(12, "The file has 0 ticks a quarter note; the standard asks for 1 to 32767. Export it again.");
        }
    }

    private static ImmutableArray<SmfTrack> ReadTracks(byte[] bytes, int position)
    {
        ImmutableArray<SmfTrack>.Builder tracks = ImmutableArray.CreateBuilder<SmfTrack>();
        while (position < bytes.Length)
        {
            if (bytes.Length - position < ChunkHeaderBytes)
            {
                // Less than a chunk header can be nothing but padding after the last chunk; a missing track is noticed by the caller.
                break;
            }

            int length = ChunkLength(bytes, position);
            if (bytes.AsSpan(position, 4).SequenceEqual("MTrk"u8))
            {
                using SmfTrackReader reader = new(bytes, position + ChunkHeaderBytes, length, tracks.Count + 1);
                tracks.Add(reader.Read());
            }

            position += ChunkHeaderBytes + length;
        }

        return tracks.ToImmutable();
    }

    private static int ChunkLength(byte[] bytes, int position)
    {
        uint length = BinaryPrimitives.ReadUInt32BigEndian(bytes.AsSpan(position + 4));
        if (length > bytes.Length - position - ChunkHeaderBytes)
        {
            throw new ScoreException(
                ScoreFailure.Truncated,
                At(position),
                $"A chunk of {length} bytes begins here, but only {bytes.Length - position - ChunkHeaderBytes} follow. "
                + "The file was cut off: copy or export it again.");
        }

        return (int)length;
    }

    private static ScoreException Malformed(int position, string reason) => new(ScoreFailure.Malformed, At(position), reason);

    private static string At(int position) => string.Create(CultureInfo.InvariantCulture, $"byte {position}");
}
