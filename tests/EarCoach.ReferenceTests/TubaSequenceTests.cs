using System.Globalization;
using FluentAssertions;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.ReferenceTests;

/// <summary>Chromatic sequences of a real tuba, whose onsets were marked by people outside this project.</summary>
public sealed class TubaSequenceTests(ITestOutputHelper output)
{
    // Source: University of Iowa Musical Instrument Samples, onsets verified by the people of the project that carries them (SEQUENCES.tsv).
    [Fact]
    public void Onsets_AgreeWithThePeoplesMarks_NoneMissedNoneAdded()
    {
        var far = new List<string>();
        int labelled = 0;
        int heardInAll = 0;
        foreach (LabelledSound sequence in LabelledSounds.TubaSequences())
        {
            IReadOnlyList<double> heard = Heard.In(sequence.Sound, sequence.LowestMidi, sequence.HighestMidi).Onsets;
            labelled += sequence.Notes.Count;
            heardInAll += heard.Count;
            foreach (double onset in sequence.Notes.Select(n => n.OnsetSeconds))
            {
                double nearest = heard.Count == 0 ? double.PositiveInfinity : heard.MinBy(h => Math.Abs(h - onset)) - onset;
                if (!(Math.Abs(nearest) <= 0.050))
                {
                    far.Add(string.Create(CultureInfo.InvariantCulture, $"{sequence.Name} at {onset:0.000} s: nearest {1000 * nearest:0} ms away"));
                }
            }
        }

        output.WriteLine($"{labelled - far.Count} of {labelled} onsets within 50 ms, {heardInAll} heard. Far: {string.Join("; ", far)}");
        labelled.Should().Be(49);
        heardInAll.Should().Be(labelled, "none may be missed and none added");
        ((double)(labelled - far.Count) / labelled).Should().BeGreaterThanOrEqualTo(0.98, string.Join("; ", far));
    }
}
