using System.Globalization;
using System.Text;
using FluentAssertions;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.ReferenceTests;

/// <summary>The listener beside aubio on the same sounds: share of gross pitch errors, and onsets at 50 and 25 ms.</summary>
/// <remarks>The listener is told the instrument's range, as in use; aubio has no such setting. Nothing else is known to either.</remarks>
public sealed class ComparisonTests(ITestOutputHelper output)
{
    private static readonly string[] _pitchMethods = ["default", "yinfast"];
    private static readonly string[] _onsetMethods = ["default", "specflux", "complex"];

    [Fact]
    public void IsolatedNotes_AreHeardBetterThanByAubio() => Compare("isolated notes of real instruments", LabelledSounds.IsolatedNotes(), withOnsets: false);

    [Fact]
    public void TubaSequences_AreHeardBetterThanByAubio() => Compare("sequences of a real tuba", LabelledSounds.TubaSequences(), withOnsets: true);

    [Fact]
    public void RenderedPassages_AreHeardBetterThanByAubio() => Compare("our passages, played by fluidsynth", LabelledSounds.RenderedPassages(), withOnsets: true);

    [Fact]
    public void CleanAttempts_AreHeardBetterThanByAubio() => Compare("our passages, in rooms, played by people's rules", LabelledSounds.CleanAttempts(), withOnsets: true);

    private void Compare(string what, IEnumerable<LabelledSound> sounds, bool withOnsets)
    {
        var own = new Tally();
        Dictionary<string, Tally> pitch = _pitchMethods.ToDictionary(m => m, _ => new Tally());
        Dictionary<string, Tally> onset = _onsetMethods.ToDictionary(m => m, _ => new Tally());
        string file = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.wav");
        try
        {
            foreach (LabelledSound labelled in sounds)
            {
                labelled.Sound.Write(file);
                Heard heard = Heard.In(labelled.Sound, labelled.LowestMidi, labelled.HighestMidi);
                own.AddPitches(heard.Pitches, labelled.Notes);
                own.AddOnsets(heard.Onsets, labelled.Notes);
                foreach ((string method, Tally tally) in pitch)
                {
                    tally.AddPitches(Aubio.Pitches(file, method), labelled.Notes);
                }

                foreach ((string method, Tally tally) in withOnsets ? onset : [])
                {
                    tally.AddOnsets(Aubio.Onsets(file, method), labelled.Notes);
                }
            }
        }
        finally
        {
            File.Delete(file);
        }

        Report(what, own, pitch, onset, withOnsets);
    }

    private void Report(string what, Tally own, Dictionary<string, Tally> pitch, Dictionary<string, Tally> onset, bool withOnsets)
    {
        var row = new StringBuilder();
        row.Append(CultureInfo.InvariantCulture, $"{what}: gross pitch errors: EarCoach {own.GrossShare:P2}");
        row.AppendJoin(string.Empty, pitch.Select(p => string.Create(CultureInfo.InvariantCulture, $", aubiopitch {p.Key} {p.Value.GrossShare:P2}")));
        if (withOnsets)
        {
            row.Append(CultureInfo.InvariantCulture, $"; onset F at 50 / 25 ms: EarCoach {own.F50:0.000} / {own.F25:0.000}");
            row.AppendJoin(string.Empty, onset.Select(o => string.Create(CultureInfo.InvariantCulture, $", aubioonset {o.Key} {o.Value.F50:0.000} / {o.Value.F25:0.000}")));
        }

        output.WriteLine(row.ToString());
        own.GrossShare.Should().BeLessThan(pitch.Values.Min(t => t.GrossShare), row.ToString());
        if (withOnsets)
        {
            own.F50.Should().BeGreaterThan(onset.Values.Max(t => t.F50), row.ToString());
            own.F25.Should().BeGreaterThan(onset.Values.Max(t => t.F25), row.ToString());
        }
    }

    private sealed class Tally
    {
        private int _wrong;
        private int _frames;
        private int _matches50;
        private int _matches25;
        private int _heard;
        private int _labelled;

        public double GrossShare => (double)_wrong / _frames;

        public double F50 => Measures.F(_matches50, _heard, _labelled);

        public double F25 => Measures.F(_matches25, _heard, _labelled);

        public void AddPitches(IEnumerable<PitchPoint> heard, IReadOnlyList<LabelledNote> notes)
        {
            (int wrong, int all) = Measures.GrossErrors(heard, notes);
            _wrong += wrong;
            _frames += all;
        }

        public void AddOnsets(IReadOnlyList<double> heard, IReadOnlyList<LabelledNote> notes)
        {
            double[] labelled = [.. notes.Select(n => n.OnsetSeconds)];
            _matches50 += Measures.Matches(heard, labelled, 0.050);
            _matches25 += Measures.Matches(heard, labelled, 0.025);
            _heard += heard.Count;
            _labelled += labelled.Length;
        }
    }
}
