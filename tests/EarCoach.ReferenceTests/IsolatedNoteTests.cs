using System.Globalization;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.ReferenceTests;

/// <summary>Isolated tones of real instruments, labelled by people outside this project.</summary>
public sealed class IsolatedNoteTests(ITestOutputHelper output)
{
    private const double LouderThanDb = -20; // of a tone's loudest moment: what counts as its steady part

    // Source: University of Iowa Musical Instrument Samples; sounding MIDI numbers by the projects that carry them, fundamentals in INDEX.tsv by an
    // autocorrelation outside this project.
    [Fact]
    public void EveryNote_NearestSemitoneIsRight_AndCentsAgree()
    {
        var wrong = new List<string>();
        var errors = new List<double>();
        foreach (string[] row in Places.Table("INDEX.tsv"))
        {
            int midi = int.Parse(row[2], CultureInfo.InvariantCulture);
            double labelled = 69 + (12 * Math.Log2(double.Parse(row[3], CultureInfo.InvariantCulture) / 440));
            double heard = MedianMidi(row[0], LabelledSounds.InstrumentOf(row[1]));
            if (!(Math.Abs(heard - midi) < 0.5))
            {
                wrong.Add(string.Create(CultureInfo.InvariantCulture, $"{row[0]}: heard {heard:0.00}, labelled {midi}"));
            }

            errors.Add(100 * Math.Abs(heard - labelled));
        }

        double within = (double)errors.Count(e => e <= 5) / errors.Count;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{errors.Count - wrong.Count} of {errors.Count} nearest semitones right; median cents within 5 of the label for {within:P1}, mean {errors.Average():0.00}"));
        errors.Should().HaveCount(80);
        wrong.Should().BeEmpty();
        within.Should().BeGreaterThanOrEqualTo(0.95);
    }

    private static double MedianMidi(string file, Instrument instrument)
    {
        Heard heard = Heard.In(Sound.Read(Places.Recording(file)).Framed(0.5, 0.03), instrument.EarLowest, instrument.EarHighest);
        double loudest = heard.Pitches.Max(p => p.LevelDbfs);
        double[] steady = [.. heard.Pitches.Where(p => p.Midi is not null && p.LevelDbfs > loudest + LouderThanDb).Select(p => p.Midi!.Value).Order()];
        return steady.Length == 0 ? double.NaN : steady[steady.Length / 2];
    }
}
