using System.Globalization;
using EarCoach.Core.Transcription;
using FluentAssertions;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.ReferenceTests;

/// <summary>Notes heard without a score beside aubioonset on the same sounds: F of the onsets at 50 and 25 ms.</summary>
/// <remarks>The tracer is told the instrument's range, as in use; aubio has no such setting. Nothing else is known to either. The row of aubio is
/// the best of its methods, for each window anew.</remarks>
public sealed class OnsetComparisonTests(ITestOutputHelper output)
{
    private static readonly string[] _methods = ["default", "energy", "specflux", "kl"];

    [Fact]
    public void IsolatedNotes_AreFoundBetterThanByAubio() => Compare("isolated notes of real instruments", LabelledSounds.IsolatedNotes());

    [Fact]
    public void TubaSequences_AreFoundBetterThanByAubio() => Compare("sequences of a real tuba", LabelledSounds.TubaSequences());

    [Fact]
    public void RenderedPassages_AreFoundBetterThanByAubio() => Compare("our passages, played by fluidsynth", LabelledSounds.RenderedPassages(), keysNotSounds: true);

    [Fact]
    public void CleanAttempts_AreFoundBetterThanByAubio() => Compare("our passages, in rooms, played by people's rules", LabelledSounds.CleanAttempts());

    /// <param name="what">The row's name.</param>
    /// <param name="sounds">What is heard.</param>
    /// <param name="keysNotSounds">Whether the labels say when a key goes down, which the sound of each instrument follows by its own delay: then every
    /// program's own median lateness in a file is subtracted.</param>
    private void Compare(string what, IEnumerable<LabelledSound> sounds, bool keysNotSounds = false)
    {
        var own = new Tally();
        Dictionary<string, Tally> aubio = _methods.ToDictionary(m => m, _ => new Tally());
        using var file = new TemporaryFile(".wav");
        foreach (LabelledSound labelled in sounds)
        {
            labelled.Sound.Write(file.Path);
            double[] onsets = [.. labelled.Notes.Select(n => n.OnsetSeconds)];
            IReadOnlyList<HeardNote> heard = HeardNotes.In(labelled.Sound, labelled.LowestMidi, labelled.HighestMidi);
            own.Add([.. heard.Select(n => (double)n.OnsetSample / labelled.Sound.SampleRateHz)], onsets, keysNotSounds);
            foreach ((string method, Tally tally) in aubio)
            {
                tally.Add(Aubio.Onsets(file.Path, method), onsets, keysNotSounds);
            }
        }

        (string At50, double F50) = aubio.Select(a => (a.Key, a.Value.F50)).MaxBy(a => a.F50);
        (string At25, double F25) = aubio.Select(a => (a.Key, a.Value.F25)).MaxBy(a => a.F25);
        string row = string.Create(CultureInfo.InvariantCulture,
            $"{what}: onset F at 50 ms: EarCoach {own.F50:0.000}, aubioonset {At50} {F50:0.000}; at 25 ms: EarCoach {own.F25:0.000}, aubioonset {At25} {F25:0.000} ({own})");
        output.WriteLine(row);
        own.F50.Should().BeGreaterThan(F50, row);
        own.F25.Should().BeGreaterThan(F25, row);
    }

    private sealed class Tally
    {
        private int _within50;
        private int _within25;
        private int _heard;
        private int _labelled;

        public double F50 => Measures.F(_within50, _heard, _labelled);

        public double F25 => Measures.F(_within25, _heard, _labelled);

        public void Add(IReadOnlyList<double> heard, double[] labelled, bool keysNotSounds)
        {
            double late = keysNotSounds ? Lateness(heard, labelled) : 0;
            heard = [.. heard.Select(onset => onset - late)];
            _within50 += Measures.Matches(heard, labelled, 0.050);
            _within25 += Measures.Matches(heard, labelled, 0.025);
            _heard += heard.Count;
            _labelled += labelled.Length;
        }

        private static double Lateness(IReadOnlyList<double> heard, double[] labelled)
        {
            double[] late = [.. labelled.SelectMany(label => heard.Select(onset => onset - label).Where(d => Math.Abs(d) <= 0.1)).Order()];
            return late.Length == 0 ? 0 : late[late.Length / 2];
        }

        public override string ToString() => $"{_heard} heard, {_labelled} labelled, {_within50} within 50 ms";
    }
}
