using System.Globalization;
using FluentAssertions;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.ReferenceTests;

/// <summary>The tracer of pitch beside aubio on the same sounds: share of gross pitch errors.</summary>
/// <remarks>The tracer is told the instrument's range, as in use; aubio has no such setting. Nothing else is known to either.</remarks>
public sealed class ComparisonTests(ITestOutputHelper output)
{
    private static readonly string[] _pitchMethods = ["default", "yinfast"];

    [Fact]
    public void IsolatedNotes_AreHeardBetterThanByAubio() => Compare("isolated notes of real instruments", LabelledSounds.IsolatedNotes());

    [Fact]
    public void TubaSequences_AreHeardBetterThanByAubio() => Compare("sequences of a real tuba", LabelledSounds.TubaSequences());

    [Fact]
    public void RenderedPassages_AreHeardBetterThanByAubio() => Compare("our passages, played by fluidsynth", LabelledSounds.RenderedPassages());

    [Fact]
    public void CleanAttempts_AreHeardBetterThanByAubio() => Compare("our passages, in rooms, played by people's rules", LabelledSounds.CleanAttempts());

    private void Compare(string what, IEnumerable<LabelledSound> sounds)
    {
        var own = new Tally();
        Dictionary<string, Tally> pitch = _pitchMethods.ToDictionary(m => m, _ => new Tally());
        using var file = new TemporaryFile(".wav");
        foreach (LabelledSound labelled in sounds)
        {
            labelled.Sound.Write(file.Path);
            Heard heard = Heard.In(labelled.Sound, labelled.LowestMidi, labelled.HighestMidi);
            own.AddPitches(heard.Pitches, labelled.Notes);
            foreach ((string method, Tally tally) in pitch)
            {
                tally.AddPitches(Aubio.Pitches(file.Path, method), labelled.Notes);
            }
        }

        string row = string.Create(CultureInfo.InvariantCulture, $"{what}: gross pitch errors: EarCoach {own.GrossShare:P2}")
            + string.Concat(pitch.Select(p => string.Create(CultureInfo.InvariantCulture, $", aubiopitch {p.Key} {p.Value.GrossShare:P2}")));
        output.WriteLine(row);
        own.GrossShare.Should().BeLessThan(pitch.Values.Min(t => t.GrossShare), row);
    }

    private sealed class Tally
    {
        private int _wrong;
        private int _frames;

        public double GrossShare => (double)_wrong / _frames;

        public void AddPitches(IEnumerable<PitchPoint> heard, IReadOnlyList<LabelledNote> notes)
        {
            (int wrong, int all) = Measures.GrossErrors(heard, notes);
            _wrong += wrong;
            _frames += all;
        }
    }
}
