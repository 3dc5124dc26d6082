using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using System.Numerics;
using System.Text;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Midi;

/// <summary>Writes a passage as a Standard MIDI File whose ticks hold every onset and length exactly.</summary>
/// <remarks>Kept: pitch, onset, length, tempo (to the microsecond a quarter note that the format counts in), metre, key, pickup, title. Lost, because
/// the format has no place for them: slurs, articulations, spelling, bar numbers, the transposition (a program tells the family, not the key of a clarinet).
/// A pickup is written as notation programs do: a first bar of its own metre, or, where it is no such bar or longer than half of one, the metre
/// of the passage begun anew after it. Source of the rules: RP-001, Standard MIDI Files 1.0.</remarks>
public static class MidiPassageWriter
{
    private const int MostTicksPerQuarter = 32_767;
    private const int UsualTicksPerQuarter = 480;
    private const int SlowestMicroseconds = 0xFFFFFF;
    private const int NoteOffRank = 1;
    private const int NoteOnRank = 2;

    /// <summary>Writes the file. The stream is left open.</summary>
    /// <exception cref="ArgumentException">The passage breaks a rule of <see cref="PassageRules"/>, or an option is out of range.</exception>
    /// <exception cref="ScoreException">The format cannot hold the passage exactly.</exception>
    public static void Write(Passage passage, Stream stream, MidiWriteOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(stream);
        stream.Write(ToBytes(passage, options));
    }

    /// <summary>The bytes of the file.</summary>
    /// <exception cref="ArgumentException">The passage breaks a rule of <see cref="PassageRules"/>, or an option is out of range.</exception>
    /// <exception cref="ScoreException">The format cannot hold the passage exactly.</exception>
    public static byte[] ToBytes(Passage passage, MidiWriteOptions? options = null)
    {
        options ??= MidiWriteOptions.Default;
        PassageRules.ThrowIfBroken(passage);
        RequireRange(options.Format, 0, 1, "Format");
        RequireRange(options.Channel, 1, 16, "Channel");
        RequireRange(options.Velocity, 1, 127, "Velocity");
        RequireRange(options.Program ?? 1, 1, 128, "Program");

        int ticksPerQuarter = TicksFor(passage);
        SmfTrackWriter first = new();
        SmfTrackWriter notes = options.Format == 0 ? first : new SmfTrackWriter();
        AddMarks(first, passage, ticksPerQuarter);
        AddNotes(notes, passage, options, ticksPerQuarter);
        byte[][] tracks = options.Format == 0 ? [first.ToBytes()] : [first.ToBytes(), notes.ToBytes()];

        List<byte> bytes = [.. "MThd"u8, 0, 0, 0, 6, 0, (byte)options.Format, 0, (byte)tracks.Length, (byte)(ticksPerQuarter >> 8), (byte)ticksPerQuarter];
        foreach (byte[] track in tracks)
        {
            byte[] length = new byte[4];
            BinaryPrimitives.WriteInt32BigEndian(length, track.Length);
            bytes.AddRange([.. "MTrk"u8, .. length, .. track]);
        }

        return [.. bytes];
    }

    private static void AddMarks(SmfTrackWriter track, Passage passage, int ticksPerQuarter)
    {
        track.AddMeta(0, 0x03, Encoding.UTF8.GetBytes(passage.Title));
        track.AddMeta(0, 0x59, (byte)(sbyte)passage.KeyFifths, 0);
        foreach (MeterMark mark in MetersWithPickup(passage))
        {
            const int ClocksPerQuarter = 24;
            int clocksPerClick = Math.Min(byte.MaxValue, Math.Max(1, 4 * ClocksPerQuarter / mark.BeatType));
            track.AddMeta(Ticks(mark.At, ticksPerQuarter), 0x58, (byte)mark.Beats, (byte)BitOperations.Log2((uint)mark.BeatType), (byte)clocksPerClick, 8);
        }

        foreach (TempoMark mark in passage.Tempi)
        {
            double exact = Math.Round(60_000_000.0 / mark.QuartersPerMinute);
            if (exact is < 1 or > SlowestMicroseconds)
            {
                throw new ScoreException(
                    ScoreFailure.NotWritable,
                    new BarMap(passage).PositionOf(mark.At).ToString(),
                    string.Create(CultureInfo.InvariantCulture, $"A tempo of {mark.QuartersPerMinute} quarter notes a minute cannot be written in a MIDI file, which reaches from 3.58 to 60000000. Choose another tempo."));
            }

            int microseconds = (int)exact;
            track.AddMeta(Ticks(mark.At, ticksPerQuarter), 0x51, (byte)(microseconds >> 16), (byte)(microseconds >> 8), (byte)microseconds);
        }
    }

    private static void AddNotes(SmfTrackWriter track, Passage passage, MidiWriteOptions options, int ticksPerQuarter)
    {
        byte channel = (byte)(options.Channel - 1);
        if (options.Format == 1)
        {
            track.AddMeta(0, 0x03, Encoding.UTF8.GetBytes(passage.Title));
        }

        if ((options.Program ?? InstrumentTable.ById(passage.InstrumentId)?.GeneralMidiProgram) is { } program)
        {
            track.Add(0, 0, (byte)(0xC0 | channel), (byte)(program - 1));
        }

        foreach (PassageNote note in passage.Notes)
        {
            track.Add(Ticks(note.Onset, ticksPerQuarter), NoteOnRank, (byte)(0x90 | channel), (byte)note.MidiPitch, (byte)options.Velocity);
            track.Add(Ticks(note.Onset + note.Length, ticksPerQuarter), NoteOffRank, (byte)(0x80 | channel), (byte)note.MidiPitch, 64);
        }
    }

    private static ImmutableArray<MeterMark> MetersWithPickup(Passage passage)
    {
        if (passage.Pickup == Fraction.Zero)
        {
            return passage.Meters;
        }

        MeterMark usual = passage.Meters[0];
        bool isBarOfItsOwn = passage.Pickup * 2 <= usual.BarLength && passage.Pickup.Denominator is 1 or 2 or 4 or 8 or 16 && passage.Pickup.Numerator <= byte.MaxValue;
        MeterMark first = isBarOfItsOwn
            ? new MeterMark(Fraction.Zero, (int)passage.Pickup.Numerator, (int)(4 * passage.Pickup.Denominator))
            : usual;
        return [first, usual with { At = passage.Pickup }, .. passage.Meters.Skip(1)];
    }

    private static int TicksFor(Passage passage)
    {
        BigInteger ticks = BigInteger.One;
        IEnumerable<Fraction> places = passage.Notes.SelectMany(note => new[] { note.Onset, note.Onset + note.Length })
            .Concat(passage.Tempi.Select(mark => mark.At))
            .Concat(passage.Meters.Select(mark => mark.At))
            .Append(passage.Pickup);
        foreach (Fraction place in places)
        {
            ticks = ticks / BigInteger.GreatestCommonDivisor(ticks, place.Denominator) * place.Denominator;
            if (ticks > MostTicksPerQuarter)
            {
                throw new ScoreException(
                    ScoreFailure.NotWritable,
                    new BarMap(passage).PositionOf(place).ToString(),
                    $"The note values up to here need {ticks} parts of a quarter note; a MIDI file has at most {MostTicksPerQuarter}. Write MusicXML instead.");
            }
        }

        int least = (int)ticks;
        int times = Math.Max(1, (UsualTicksPerQuarter + least - 1) / least);
        return UsualTicksPerQuarter % least == 0 ? UsualTicksPerQuarter : Math.Min(times, MostTicksPerQuarter / least) * least;
    }

    private static long Ticks(Fraction place, int ticksPerQuarter) => (place * ticksPerQuarter).Numerator;

    private static void RequireRange(int value, int lowest, int highest, string name)
    {
        if (value < lowest || value > highest)
        {
            throw new ArgumentException($"{name} is {value}; {lowest} to {highest} exist.", nameof(value));
        }
    }
}
