using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;
using NAudio.Midi;
using Xunit;

namespace EarCoach.ReferenceTests;

/// <summary>
/// The project's passages played by fluidsynth, an independent renderer, with a note that is easily taken for its neighbour: far out of tune
/// towards the one before it, or left out before another of its own pitch.
/// </summary>
public sealed class NeighbourTests
{
    private const double BentSemitones = 0.74;
    private const double LeastShare = 0.9;
    private const int Bend = 8_192;          // no bend, in a pitch wheel message
    private const double BendSemitones = 2;  // the whole way: General MIDI level 1
    private const int TicksOfQuarter = 96;
    private const string RingsOn = "violin-loom-study"; // the sound font's violin sounds on for longer than the gap
    private const double GapSeconds = 0.06;  // common practice: so long a tongue leaves the sound
    private const int FirstOfEach = 5;       // of each passage

    // Common practice: so far off it is nearer to the other pitch, and yet it was played.
    [Fact]
    public void ANoteFarOutOfTuneTowardsTheOneBefore_IsSaidToBeFlatOrSharp()
    {
        IEnumerable<string?> trials =
            from passage in Places.Passages()
            from index in Enumerable.Range(1, passage.Notes.Length - 1)
            let towards = passage.Notes[index - 1].MidiPitch - passage.Notes[index].MidiPitch
            where Math.Abs(towards) == 1
            let attempt = Fluidsynth.Render(Bent(passage, index, towards * BentSemitones)).LongestJudgedAs(passage)
            select attempt.Notes[index].Faults.Contains(towards < 0 ? NoteFault.Flat : NoteFault.Sharp) ? null : Said(passage, attempt.Notes[index]);
        trials.ShouldMostlyBeRight(LeastShare, moreThan: 12);
    }

    [Fact]
    public void OfTwoNotesOfOnePitch_TheFirstLeftOut_IsSaidToBeMissing()
    {
        IEnumerable<string?> trials =
            from passage in Places.Passages()
            from index in Enumerable.Range(1, FirstOfEach)
            let twice = passage.WithPitch(index, passage.Notes[index + 1].MidiPitch)
            let attempt = Fluidsynth.Render(MidiPassageWriter.ToBytes(twice with { Notes = twice.Notes.RemoveAt(index) })).LongestJudgedAs(twice)
            select attempt.Notes[index].Faults.SequenceEqual([NoteFault.Missing]) && attempt.Notes[index + 1].Faults.IsEmpty
                ? null
                : $"{Said(passage, attempt.Notes[index])}, then {Said(passage, attempt.Notes[index + 1])}";
        trials.ShouldMostlyBeRight(LeastShare, moreThan: 20);
    }

    // A repeated note 0.2 s late, or early, with the one before it held until the tongue stops it: that it is due is no sign that it is struck.
    [Theory]
    [InlineData(0.2, NoteFault.Late)]
    [InlineData(-0.2, NoteFault.Early)]
    public void OfTwoNotesOfOnePitch_TheSecondOutOfTime_IsSaidToBeSo(double seconds, NoteFault fault)
    {
        IEnumerable<string?> trials =
            from passage in Places.Passages()
            where passage.Title != RingsOn
            let shortest = Quarters(passage, Math.Abs(seconds)) + new Fraction(1, 4)
            from index in Enumerable.Range(1, passage.Notes.Length - 2)
            where passage.Notes[index - 1].Length > shortest && passage.Notes[index].Length > shortest
            let twice = passage.WithPitch(index, passage.Notes[index - 1].MidiPitch)
            let attempt = Fluidsynth.Render(MidiPassageWriter.ToBytes(Moved(twice, index, seconds))).LongestJudgedAs(twice)
            select attempt.Notes[index].Faults.Contains(fault) ? null : Said(passage, attempt.Notes[index]);
        trials.ShouldMostlyBeRight(LeastShare, moreThan: 8);
    }

    private static string Said(Passage passage, NoteResult note) => $"{passage.Title}, note {note.Index}: {string.Join(" and ", note.Faults)}";

    private static Fraction Quarters(Passage passage, double seconds) =>
        new((long)Math.Round(seconds * TicksOfQuarter * passage.Tempi[0].QuartersPerMinute / 60), TicksOfQuarter);

    /// <summary>The passage with one note begun at another time, and the one before it held until then but for the gap.</summary>
    private static Passage Moved(Passage passage, int index, double seconds)
    {
        Fraction by = Quarters(passage, seconds);
        PassageNote before = passage.Notes[index - 1];
        PassageNote note = passage.Notes[index];
        return passage with
        {
            Notes = passage.Notes.SetItem(index - 1, before with { Length = before.Length + by - Quarters(passage, GapSeconds) })
                .SetItem(index, note with { Onset = note.Onset + by, Length = note.Length - by }),
        };
    }

    /// <summary>The passage as a MIDI file, with one note bent.</summary>
    private static byte[] Bent(Passage passage, int index, double semitones)
    {
        using var file = new TemporaryFile(".mid");
        File.WriteAllBytes(file.Path, MidiPassageWriter.ToBytes(passage));
        MidiEventCollection events = new MidiFile(file.Path, strictChecking: true).Events;
        IList<MidiEvent> track = events.Single(t => t.OfType<NoteOnEvent>().Any());
        NoteOnEvent[] notes = [.. track.OfType<NoteOnEvent>().Where(n => n.OffEvent is not null)];
        foreach ((int at, double bend) in new[] { (index, semitones), (index + 1, 0) }.Where(change => change.Item1 < notes.Length))
        {
            int wheel = (int)Math.Round(Bend * (1 + (bend / BendSemitones)));
            track.Insert(track.IndexOf(notes[at]), new PitchWheelChangeEvent(notes[at].AbsoluteTime, notes[at].Channel, wheel));
        }

        MidiFile.Export(file.Path, events);
        return File.ReadAllBytes(file.Path);
    }
}
