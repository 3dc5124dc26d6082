using System.Globalization;
using System.Text;
using NAudio.Midi;

namespace EarCoach.Scores.Midi;

/// <summary>Reads the events of one track chunk with NAudio, event by event.</summary>
/// <remarks>NAudio reads single events only: its file reader takes an SMPTE division for ticks, searches all sounding notes for each end (a
/// minute for 100,000 notes that never end), and its meta events reserve whatever length the file claims. So lengths are checked here before
/// NAudio sees an event, and system exclusive messages, of which a passage needs none, are stepped over by their stated length.</remarks>
internal sealed class SmfTrackReader : IDisposable
{
    private const byte MetaStatus = 0xFF;
    private const int MostTicks = int.MaxValue;

    private readonly byte[] _bytes;
    private readonly int _end;
    private readonly int _trackNumber;
    private readonly MemoryStream _stream;
    private readonly BinaryReader _reader;
    private readonly SmfTrack _track = new();

    public SmfTrackReader(byte[] bytes, int start, int length, int trackNumber)
    {
        _bytes = bytes;
        _end = start + length;
        _trackNumber = trackNumber;
        _stream = new MemoryStream(bytes, 0, _end, writable: false) { Position = start };
        _reader = new BinaryReader(_stream);
    }

    public SmfTrack Read()
    {
        MidiEvent? lastChannelEvent = null;
        long tick = 0;
        while (_stream.Position < _end)
        {
            int position = (int)_stream.Position;
            EventHead head = ReadHead(position);
            tick += head.DeltaTicks;
            if (tick > MostTicks)
            {
                throw new ScoreException(ScoreFailure.TooLarge, At(position), $"The track goes on for more than {MostTicks} ticks. Cut the file down to the passage.");
            }

            if (head.Status is 0xF0 or 0xF7)
            {
                _stream.Position = head.ContentStart + head.ContentLength;
                continue;
            }

            if (head.Status < 0x80 && lastChannelEvent is null)
            {
                throw Malformed(position, $"Byte 0x{head.Status:X2} continues a status (running status), but none came before it. The file is damaged: export it again.");
            }

            MidiEvent midiEvent = ReadEvent(position, head.Status < 0x80 ? lastChannelEvent : null);
            if (head.Status != MetaStatus)
            {
                lastChannelEvent = midiEvent;
            }

            if (MidiEvent.IsEndTrack(midiEvent))
            {
                break;
            }

            Take(midiEvent, tick, position);
        }

        return _track;
    }

    public void Dispose()
    {
        _reader.Dispose();
        _stream.Dispose();
    }

    /// <summary>Looks at the next event without consuming it: its delta time, its status, and for messages of stated length their bounds.</summary>
    private EventHead ReadHead(int position)
    {
        int cursor = position;
        int delta = ReadVariableLength(ref cursor, position);
        byte status = ByteAt(cursor, position);
        if (status is > 0xF0 and not 0xF7 and not MetaStatus)
        {
            throw Malformed(position, $"Status byte 0x{status:X2} has no place in a MIDI file. The file is damaged: export it again.");
        }

        if (status is not (0xF0 or 0xF7 or MetaStatus))
        {
            return new EventHead(delta, status, 0, 0);
        }

        cursor += status == MetaStatus ? 2 : 1;
        int length = ReadVariableLength(ref cursor, position);
        return length <= _end - cursor
            ? new EventHead(delta, status, cursor, length)
            : throw Truncated(position, $"An event of {length} bytes begins here, but the track has only {_end - cursor} left.");
    }

    private int ReadVariableLength(ref int cursor, int position)
    {
        int value = 0;
        for (int count = 0; count < 4; count++)
        {
            byte next = ByteAt(cursor++, position);
            value = (value << 7) | (next & 0x7F);
            if (next < 0x80)
            {
                return value;
            }
        }

        throw Malformed(position, "A variable-length number has more than 4 bytes, the most the standard allows. The file is damaged: export it again.");
    }

    private byte ByteAt(int cursor, int position) =>
        cursor < _end ? _bytes[cursor] : throw Truncated(position, "The track ends inside this event.");

    private MidiEvent ReadEvent(int position, MidiEvent? running)
    {
        _stream.Position = position;
        try
        {
            return MidiEvent.ReadNextEvent(_reader, running);
        }
        catch (EndOfStreamException exception)
        {
            throw Truncated(position, "The track ends inside this event.", exception);
        }
        catch (Exception exception) when (exception is FormatException or ArgumentException or InvalidDataException or OverflowException)
        {
            throw new ScoreException(
                ScoreFailure.Malformed, At(position), $"This event breaks the MIDI standard ({exception.Message.TrimEnd('.')}). Export the file again.", exception);
        }
    }

    private void Take(MidiEvent midiEvent, long tick, int position)
    {
        switch (midiEvent)
        {
            case NoteOnEvent { Velocity: > 0 } note:
                _track.NoteOn(tick, note.Channel, note.NoteNumber);
                break;
            case NoteEvent { CommandCode: MidiCommandCode.NoteOn or MidiCommandCode.NoteOff } note:
                _track.NoteOff(tick, note.Channel, note.NoteNumber);
                break;
            case PatchChangeEvent program:
                _track.Programs.TryAdd(program.Channel, program.Patch + 1);
                break;
            case TempoEvent { MicrosecondsPerQuarterNote: <= 0 }:
                throw Malformed(position, "The tempo is 0 microseconds a quarter note, which is no tempo. Set a tempo mark in the notation program and export again.");
            case TempoEvent tempo:
                _track.Tempi.Add((tick, tempo.MicrosecondsPerQuarterNote));
                break;
            case TimeSignatureEvent { Numerator: < 1 } or TimeSignatureEvent { Denominator: > 6 or < 0 }:
                throw Malformed(position, MeterReason((TimeSignatureEvent)midiEvent));
            case TimeSignatureEvent meter:
                _track.Meters.Add((tick, meter.Numerator, 1 << meter.Denominator));
                break;
            case KeySignatureEvent { SharpsFlats: < -7 or > 7 } key:
                throw Malformed(position, $"The key signature has {key.SharpsFlats} sharps; -7 (flats) to 7 exist. Set the key in the notation program and export again.");
            case KeySignatureEvent key:
                _track.Keys.Add((tick, key.SharpsFlats));
                break;
            case TextEvent { MetaEventType: MetaEventType.SequenceTrackName } name when _track.Name is null:
                _track.Name = Decode(name.Data);
                break;
        }
    }

    private static string MeterReason(TimeSignatureEvent meter) => string.Create(
        CultureInfo.InvariantCulture,
        $"The metre is {meter.Numerator} over 2 to the power {meter.Denominator}; at least 1 beat, over 1 to 64, exists. Set the metre in the notation program and export again.");

    /// <summary>UTF-8 where the bytes are that, else Latin-1; the standard names no encoding.</summary>
    private static string? Decode(byte[] data)
    {
        string text;
        try
        {
            text = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(data);
        }
        catch (DecoderFallbackException)
        {
            text = Encoding.Latin1.GetString(data);
        }

        text = new string([.. text.Where(c => !char.IsControl(c))]).Trim();
        return text.Length > 0 ? text : null;
    }

    private string At(int position) => string.Create(CultureInfo.InvariantCulture, $"track {_trackNumber}, byte {position}");

    private ScoreException Malformed(int position, string reason) => new(ScoreFailure.Malformed, At(position), reason);

    private ScoreException Truncated(int position, string reason, Exception? inner = null) =>
        new(ScoreFailure.Truncated, At(position), reason + " The file was cut off: copy or export it again.", inner);

    /// <summary>The start of an event; the content bounds are set for meta and system exclusive events only.</summary>
    private readonly record struct EventHead(int DeltaTicks, byte Status, int ContentStart, int ContentLength);
}
