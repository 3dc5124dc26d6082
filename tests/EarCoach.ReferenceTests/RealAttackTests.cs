using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.ReferenceTests;

/// <summary>Isolated notes of real instruments, played one after the other: how they set in is no crack.</summary>
/// <remarks>Source: University of Iowa Musical Instrument Samples (INDEX.tsv), notes that were played rightly. Some real horns' set in a semitone low and slide up.</remarks>
public sealed class RealAttackTests
{
    private const double QuartersPerMinute = 90;
    private const double SoundsForSeconds = (60 / QuartersPerMinute) - 0.05;
    private const double FadeSeconds = 0.03;
    private const double Level = 0.05; // root mean square
    private const int WidestStep = 4;  // semitones
    private const double LowCutHz = 150; // common practice: what the small microphone of a laptop hears little below

    // F sharp 2 holds E2 and a half for 0.1 s, B flat 1 another pitch for as long: cracked by any definition.
    private static readonly string[] _cracked = ["french-horn-042.wav", "french-horn-034.wav"];

    [Fact]
    public void RealNotesInTurn_AreNotCracked()
    {
        LabelledSound[] notes = [.. LabelledSounds.IsolatedNotes().Where(note => !_cracked.Contains(Path.GetFileName(note.Name))).OrderBy(note => note.Name, StringComparer.Ordinal)];
        var trials = notes.Zip(notes.Skip(1)).Where(pair => AreNeighbours(pair.First, pair.Second)).ToArray();
        string[] cracked =
        [
            .. from pair in trials
               let attempt = Played(pair.First, pair.Second, pair.First, pair.Second)
               where attempt.Notes.Any(note => note.Faults.Contains(NoteFault.Cracked))
               select $"{pair.First.Name} and {pair.Second.Name} ({string.Join(", ", attempt.Notes.Select(note => note.CrackMs))})",
        ];
        trials.Should().HaveCountGreaterThan(60);
        string.Join("; ", cracked).Should().BeEmpty();
    }

    private static bool AreNeighbours(LabelledSound one, LabelledSound other) =>
        Path.GetDirectoryName(one.Name) == Path.GetDirectoryName(other.Name) && Math.Abs(MidiOf(one) - MidiOf(other)) is > 0 and <= WidestStep;

    private static int MidiOf(LabelledSound note) => (int)Math.Round(note.Notes[0].Midi);

    private static AttemptResult Played(params LabelledSound[] notes)
    {
        var passage = new Passage
        {
            Title = "In turn",
            Tempi = [new TempoMark(Fraction.Zero, QuartersPerMinute)],
            Notes = [.. notes.Select((note, i) => new PassageNote { MidiPitch = MidiOf(note), Onset = i, Length = 1 })],
        };
        int rate = notes[0].Sound.SampleRateHz;
        int quarter = (int)(60 / QuartersPerMinute * rate);
        float[] samples = new float[notes.Length * quarter];
        foreach ((int i, LabelledSound note) in notes.Index())
        {
            int first = (int)(note.Notes[0].OnsetSeconds * rate);
            float[] part = note.Sound.Samples[first..Math.Min(note.Sound.Samples.Length, first + (int)(SoundsForSeconds * rate))];
            double power = Math.Sqrt(part.Average(x => (double)x * x));
            float[] faded = (note.Sound with { Samples = part }).Framed(0, FadeSeconds).Samples;
            for (int t = 0; t < faded.Length; t++)
            {
                samples[(i * quarter) + t] = (float)(faded[t] * Level / power);
            }
        }

        for (int order = 0; order < 2; order++)
        {
            CutLow(samples, rate);
        }

        return new Sound(samples, rate).LongestJudgedAs(passage, new Tolerances { Cents = null, OnsetMs = 100 });
    }

    /// <summary>A high-pass filter of the first order.</summary>
    private static void CutLow(float[] samples, int rate)
    {
        float keep = (float)Math.Exp(-2 * Math.PI * LowCutHz / rate);
        float low = 0;
        for (int t = 0; t < samples.Length; t++)
        {
            low = (keep * low) + ((1 - keep) * samples[t]);
            samples[t] -= low;
        }
    }
}
