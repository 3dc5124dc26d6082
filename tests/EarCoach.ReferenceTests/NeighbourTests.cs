using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;
using FluentAssertions;
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
        var wrong = new List<string>();
        int tried = 0;
        foreach (Passage passage in Places.Passages())
        {
            foreach (int index in Enumerable.Range(1, passage.Notes.Length - 1).Where(i => Math.Abs(passage.Notes[i].MidiPitch - passage.Notes[i - 1].MidiPitch) == 1))
            {
                tried++;
                int up = passage.Notes[index - 1].MidiPitch - passage.Notes[index].MidiPitch;
                AttemptResult attempt = Fluidsynth.Render(Bent(passage, index, up * BentSemitones)).LongestJudgedAs(passage);
                if (!attempt.Notes[index].Faults.Contains(up < 0 ? NoteFault.Flat : NoteFault.Sharp))
                {
                    wrong.Add($"{passage.Title}, note {index}: {string.Join(" and ", attempt.Notes[index].Faults)}");
                }
            }
        }

        tried.Should().BeGreaterThan(12);
        wrong.Count.Should().BeLessThanOrEqualTo((int)((1 - LeastShare) * tried), string.Join("; ", wrong));
    }

    [Fact]
    public void OfTwoNotesOfOnePitch_TheFirstLeftOut_IsSaidToBeMissing()
    {
        var wrong = new List<string>();
        int tried = 0;
        foreach (Passage passage in Places.Passages())
        {
            foreach (int index in Enumerable.Range(1, FirstOfEach))
            {
                tried++;
                Passage twice = passage with { Notes = [.. passage.Notes.Select((n, i) => i == index ? n with { MidiPitch = passage.Notes[i + 1].MidiPitch } : n)] };
                Passage played = twice with { Notes = twice.Notes.RemoveAt(index) };
                AttemptResult attempt = Fluidsynth.Render(MidiPassageWriter.ToBytes(played)).LongestJudgedAs(twice);
                if (!attempt.Notes[index].Faults.SequenceEqual([NoteFault.Missing]) || !attempt.Notes[index + 1].Faults.IsEmpty)
                {
                    wrong.Add($"{passage.Title}, note {index}: {string.Join(" and ", attempt.Notes[index].Faults)}, then {string.Join(" and ", attempt.Notes[index + 1].Faults)}");
                }
            }
        }

        wrong.Count.Should().BeLessThanOrEqualTo((int)((1 - LeastShare) * tried), string.Join("; ", wrong));
    }

    // A repeated note 0.2 s late, or early, with the one before it held until the tongue stops it: that it is due is no sign that it is struck.
    [Theory]
    [InlineData(0.2, NoteFault.Late)]
    [InlineData(-0.2, NoteFault.Early)]
    public void OfTwoNotesOfOnePitch_TheSecondOutOfTime_IsSaidToBeSo(double seconds, NoteFault fault)
    {
        var wrong = new List<string>();
        int tried = 0;
        foreach (Passage passage in Places.Passages().Where(p => p.Title != RingsOn))
        {
            Fraction Quarters(double duration) => new((long)Math.Round(duration * TicksOfQuarter * passage.Tempi[0].QuartersPerMinute / 60), TicksOfQuarter);
            Fraction by = Quarters(seconds);
            Fraction gap = Quarters(GapSeconds);
            Fraction shortest = (by < 0 ? Fraction.Zero - by : by) + new Fraction(1, 4);
            foreach (int index in Enumerable.Range(1, passage.Notes.Length - 2).Where(i => passage.Notes[i - 1].Length > shortest && passage.Notes[i].Length > shortest))
            {
                tried++;
                Passage twice = passage with { Notes = [.. passage.Notes.Select((n, i) => i == index ? n with { MidiPitch = passage.Notes[i - 1].MidiPitch } : n)] };
                PassageNote before = twice.Notes[index - 1];
                PassageNote note = twice.Notes[index];
                Passage played = twice with
                {
                    Notes = twice.Notes.SetItem(index - 1, before with { Length = before.Length + by - gap }).SetItem(index, note with { Onset = note.Onset + by, Length = note.Length - by }),
                };
                AttemptResult attempt = Fluidsynth.Render(MidiPassageWriter.ToBytes(played)).LongestJudgedAs(twice);
                if (!attempt.Notes[index].Faults.Contains(fault))
                {
                    wrong.Add($"{passage.Title}, note {index}: {string.Join(" and ", attempt.Notes[index].Faults)}");
                }
            }
        }

        tried.Should().BeGreaterThan(8);
        wrong.Count.Should().BeLessThanOrEqualTo((int)((1 - LeastShare) * tried), $"of {tried} {string.Join("; ", wrong)}");
    }

    /// <summary>The passage as a MIDI file, with one note bent.</summary>
    private static byte[] Bent(Passage passage, int index, double semitones)
    {
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.mid");
        try
        {
            File.WriteAllBytes(path, MidiPassageWriter.ToBytes(passage));
            MidiEventCollection events = new MidiFile(path, strictChecking: true).Events;
            IList<MidiEvent> track = events.Single(t => t.OfType<NoteOnEvent>().Any());
            NoteOnEvent[] notes = [.. track.OfType<NoteOnEvent>().Where(n => n.OffEvent is not null)];
            foreach ((int at, double bend) in new[] { (index, semitones), (index + 1, 0) }.Where(change => change.Item1 < notes.Length))
            {
                int wheel = (int)Math.Round(Bend * (1 + (bend / BendSemitones)));
                track.Insert(track.IndexOf(notes[at]), new PitchWheelChangeEvent(notes[at].AbsoluteTime, notes[at].Channel, wheel));
            }

            MidiFile.Export(path, events);
            return File.ReadAllBytes(path);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
