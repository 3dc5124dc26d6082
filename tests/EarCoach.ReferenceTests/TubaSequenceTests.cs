using System.Globalization;
using EarCoach.Core.Transcription;
using FluentAssertions;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.ReferenceTests;

/// <summary>Chromatic sequences of a real tuba, heard without a score.</summary>
public sealed class TubaSequenceTests(ITestOutputHelper output)
{
    private const double NearSeconds = 0.20; // the same note, however its beginning is placed

    // Source: University of Iowa Musical Instrument Samples; onsets marked by people, pitches from the files' names (SEQUENCES.tsv).
    // The marks lie 30 to 60 ms after the level has risen to half in the loud sequence and up to 100 ms before any sound in the softest one, so that
    // no rule places all onsets within 50 ms of them: the share that is reached is printed, and held from falling.
    [Fact]
    public void EveryMarkedNote_IsHeardOnce_AndNothingElse()
    {
        int marked = 0;
        int added = 0;
        int within50 = 0;
        var problems = new List<string>();
        foreach (LabelledSound labelled in LabelledSounds.TubaSequences())
        {
            List<HeardNote> left = [.. HeardNotes.In(labelled.Sound, labelled.LowestMidi, labelled.HighestMidi)];
            foreach (LabelledNote note in labelled.Notes)
            {
                marked++;
                HeardNote[] near = [.. left.Where(h => Math.Abs(Seconds(h, labelled) - note.OnsetSeconds) <= NearSeconds && Math.Abs(h.Midi - note.Midi) < 0.5)];
                if (near.Length == 0)
                {
                    problems.Add(string.Create(CultureInfo.InvariantCulture, $"{labelled.Name}: nothing at {note.OnsetSeconds:0.000} s, MIDI {note.Midi:0.00}"));
                    continue;
                }

                left.Remove(near[0]);
                within50 += Math.Abs(Seconds(near[0], labelled) - note.OnsetSeconds) <= 0.050 ? 1 : 0;
            }

            added += left.Count;
            output.WriteLine(string.Join(' ', left.Select(h => string.Create(CultureInfo.InvariantCulture, $"{labelled.Name}: added {Seconds(h, labelled):0.000} s MIDI {h.Midi:0.00}"))));
        }

        output.WriteLine($"{marked} marked, {problems.Count} missed, {added} added, {within50} within 50 ms of the mark");
        problems.Should().BeEmpty();
        added.Should().Be(0);
        within50.Should().BeGreaterThanOrEqualTo(20);
    }

    private static double Seconds(HeardNote note, LabelledSound labelled) => (double)note.OnsetSample / labelled.Sound.SampleRateHz;
}
