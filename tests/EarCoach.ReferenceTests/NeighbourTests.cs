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
