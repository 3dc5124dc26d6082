using System.Collections.Immutable;
using CsCheck;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Tests.Passages;

/// <summary>Random sound passages: one line, with rests, triplets and quintuplets, changes of tempo and metre, and pickups.</summary>
internal static class PassageGen
{
    private static readonly Gen<Fraction> _length = Gen.OneOf(new Fraction[]
    {
        new(1, 4), new(1, 2), new(3, 4), new(1, 3), new(2, 3), new(1, 6), new(1, 5), new(1, 8), new(1, 1), new(3, 2), new(2, 1), new(3, 1), new(4, 1), new(5, 2),
    });

    private static readonly Gen<(int Beats, int BeatType)> _meter = Gen.OneOf((4, 4), (3, 4), (2, 4), (6, 8), (9, 8), (2, 2), (5, 8), (7, 16), (3, 2));

    /// <summary>Rhythms of one or two beats, as printed music has them; in quarter notes.</summary>
    private static readonly Gen<Fraction[]> _cell = Gen.OneOf(new Fraction[][]
    {
        [1],
        [2],
        [new(1, 2), new(1, 2)],
        [new(3, 4), new(1, 4)],
        [new(1, 4), new(3, 4)],
        [new(1, 3), new(1, 3), new(1, 3)],
        [new(2, 3), new(1, 3)],
        [new(1, 5), new(1, 5), new(1, 5), new(1, 5), new(1, 5)],
        [new(1, 4), new(1, 4), new(1, 4), new(1, 4)],
        [new(1, 2), new(1, 4), new(1, 4)],
        [new(1, 8), new(1, 8), new(1, 4), new(1, 2)],
        [new(3, 2), new(1, 2)],
        [new(1, 2), 1, new(1, 2)],
    });

    /// <summary>Passages with what a Standard MIDI File can hold and nothing else.</summary>
    public static Gen<Passage> Plain { get; } =
        from notes in Gen.Select(Gen.Int[28, 100], _length, Gen.OneOf(Gen.Const(Fraction.Zero), Gen.Const(Fraction.Zero), _length)).Array[1, 24]
        from meters in _meter.Array[1, 3]
        from tempi in Gen.Int[250_000, 2_000_000].Array[1, 3]
        from pickup in Gen.OneOf(Gen.Const(Fraction.Zero), _length)
        from key in Gen.Int[-7, 7]
        from title in Gen.Char["ABCdef äß€-7"].Array[1, 12].Where(c => c[0] != ' ' && c[^1] != ' ')
        select Make(notes, meters, tempi, pickup, key, new string(title));

    /// <summary>Passages in rhythms that printed music has, in a simple metre of crotchets, with slurs and articulations.</summary>
    public static Gen<Passage> Printed { get; } =
        from cells in Gen.Select(_cell, Gen.Int[0, 5], Gen.Int[48, 84].Array[5], Gen.Select(Gen.Bool, Gen.Int[0, 31]).Array[5]).Array[1, 10]
        from beats in Gen.Int[2, 5]
        from pickup in Gen.Int[0, 1]
        from tempo in Gen.Int[40, 180]
        from key in Gen.Int[-5, 5]
        from instrument in Gen.Int[0, InstrumentTable.All.Length - 1]
        select Print(cells, beats, pickup, tempo, key, InstrumentTable.All[instrument].Id);

    /// <summary>Passages with all that a printed part can hold: slurs, articulations, ornaments, spans of free time, crooks.</summary>
    public static Gen<Passage> Marked { get; } =
        from plain in Plain
        from marks in Gen.Select(Gen.Bool, Gen.Int[0, 31], Gen.Int[0, 9], Gen.Int[0, 9]).Array[24]
        from instrument in Gen.OneOf([.. InstrumentTable.All.Select(i => (string?)i.Id), null])
        from firstBar in Gen.Int[1, 200]
        select plain with
        {
            InstrumentId = instrument,
            FirstBarNumber = firstBar,
            Notes = [.. plain.Notes.Select((note, index) => note with
            {
                SlurredFromPrevious = index > 0 && marks[index].Item1 && plain.Notes[index - 1].End == note.Onset,
                Articulations = (Articulations)marks[index].Item2,
                Required = marks[index].Item3 > 0,
                TimingJudged = marks[index].Item4 > 0,
            })],
        };

    private static Passage Make(
        (int Pitch, Fraction Length, Fraction Silence)[] notes, (int Beats, int BeatType)[] meters, int[] tempi, Fraction pickup, int key, string title)
    {
        ImmutableArray<PassageNote>.Builder line = ImmutableArray.CreateBuilder<PassageNote>();
        Fraction now = Fraction.Zero;
        foreach ((int pitch, Fraction length, Fraction rest) in notes)
        {
            line.Add(new PassageNote { MidiPitch = pitch, Onset = now + rest, Length = length });
            now += rest + length;
        }

        // Half of a bar is the longest pickup that a file of another author would write as a bar of its own.
        Fraction firstBar = new(4L * meters[0].Beats, meters[0].BeatType);
        Fraction usedPickup = pickup * 2 <= firstBar && pickup < now ? pickup : Fraction.Zero;
        List<MeterMark> meterMarks = [new(Fraction.Zero, meters[0].Beats, meters[0].BeatType)];
        Fraction barLine = usedPickup + (firstBar * 2);
        foreach ((int beats, int beatType) in meters.Skip(1).TakeWhile(_ => barLine < now))
        {
            meterMarks.Add(new MeterMark(barLine, beats, beatType));
            barLine += new Fraction(4L * beats, beatType);
        }

        List<TempoMark> tempoMarks = [];
        for (int index = 0; index < tempi.Length && new Fraction(3 * index, 2) < now; index++)
        {
            tempoMarks.Add(new TempoMark(new Fraction(3 * index, 2), 60_000_000.0 / tempi[index]));
        }

        return new Passage
        {
            Title = title,
            Notes = line.ToImmutable(),
            Meters = [.. meterMarks],
            Tempi = [.. tempoMarks],
            Pickup = usedPickup,
            KeyFifths = key,
        };
    }

    private static Passage Print(
        (Fraction[] Lengths, int Kind, int[] Pitches, (bool Slur, int Marks)[] Marks)[] cells, int beats, int pickup, int tempo, int key, string instrument)
    {
        const int SilentKind = 0;
        ImmutableArray<PassageNote>.Builder line = ImmutableArray.CreateBuilder<PassageNote>();
        Fraction now = Fraction.Zero;
        foreach ((Fraction[] lengths, int kind, int[] pitches, (bool Slur, int Marks)[] marks) in cells)
        {
            for (int index = 0; index < lengths.Length; index++)
            {
                bool isSilent = kind == SilentKind && now > Fraction.Zero && (index == 0 || lengths[index] == 1);
                if (!isSilent)
                {
                    line.Add(new PassageNote
                    {
                        MidiPitch = pitches[index],
                        Onset = now,
                        Length = lengths[index],
                        SlurredFromPrevious = marks[index].Slur && line.Count > 0 && line[^1].End == now,
                        Articulations = (Articulations)marks[index].Marks & ~Articulations.Fermata,
                    });
                }

                now += lengths[index];
            }
        }

        return new Passage
        {
            Title = "Study",
            InstrumentId = instrument,
            Notes = line.ToImmutable(),
            Meters = [new MeterMark(Fraction.Zero, beats, 4)],
            Tempi = [new TempoMark(Fraction.Zero, tempo)],
            Pickup = pickup < now ? pickup : 0,
            KeyFifths = key,
        };
    }
}
