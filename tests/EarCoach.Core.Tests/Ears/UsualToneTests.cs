using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Octaves that slip with a trace of the lower tone left, on tones made by arithmetic: what an attempt alone does not tell, those before it do.</summary>
/// <remarks>An octave too high is another note (common practice), and repeats at the right note's period as well.</remarks>
public sealed class UsualToneTests
{
    private const double LeadSeconds = 0.6;
    private const double BetweenSeconds = 5;
    private const double TraceDb = -24; // of what only the lower tone has: too much to say that there is none
    private const double ThinDb = -19.5;
    private const double ThinnestDb = -33;
    private const double NoiseAmplitude = 0.02;
    private static readonly int[] _pitches = [62, 66, 64, 69];

    [Fact]
    public void ATraceOfTheNote_UnderItsOctave_IsTheNote_WhereNothingElseIsKnown() => Judged("....", "..o.").Should().Equal("", "");

    [Fact]
    public void ATraceOfTheNote_UnderItsOctave_IsTheOctave_WhereTheNoteHadAFullTone() => Judged("....", "....", "..o.", "....").Should().Equal("", "", "2", "");

    [Fact]
    public void ATone_ThatIsThinInEachAttempt_IsTheNotes() => Judged("..o.", "..o.", "..o.", "..o.").Should().Equal("", "", "", "");

    // A mute, say: where the tone of all notes is another one, no note has slipped; and that tone is the usual one from then on.
    [Fact]
    public void AnotherToneInAllNotes_IsNoSlip() => Judged("....", "....", "oooo", "oooo", "oooo").Should().Equal("", "", "", "", "");

    // In doubt for the player: what one note sounds like time and again is its tone.
    [Fact]
    public void AnotherToneOfOneNote_ThreeTimesInARow_IsItsTone() => Judged("....", "....", "..o.", "..o.", "..o.", "..o.").Should().Equal("", "", "2", "2", "2", "");

    // In a room a harmonic comes and goes: where it was nearly as weak before, it is the note's.
    [Fact]
    public void AToneThatIsHardlyThinnerThanItOnceWas_IsTheNotes() => Judged("....", "....", "..w.", "..o.").Should().Equal("", "", "", "");

    // A low reed's own harmonics may be weaker than all noise between the others: as weak as ever, they are no octave's.
    [Theory]
    [InlineData("..t.", "")]
    [InlineData("....", "2")]
    public void AToneAsThinAsEver_InNoise_IsTheNotes(string before, string wrong) =>
        Judged(lostIn: null, noiseIn: 3, before, before, before, "..t.").Should().Equal("", "", "", wrong);

    // What does not count, for it was broken off by a loss of sound, teaches nothing.
    [Fact]
    public void AnAttemptThatDoesNotCount_TeachesNothing() =>
        Judged(lostIn: 1, noiseIn: null, "....", "....", "..o.").Should().Equal("", NotCountedReasons.Gap, "");

    /// <summary>What is wrong with some attempts: the notes of another pitch, by their numbers, or why an attempt is not counted.</summary>
    /// <param name="attempts">One letter for each note: o for one whose octave sounds with a trace of it, w and t for one whose own harmonics are weak, or very weak.</param>
    private static IEnumerable<string> Judged(params string[] attempts) => Judged(lostIn: null, noiseIn: null, attempts);

    private static IEnumerable<string> Judged(int? lostIn, int? noiseIn, params string[] attempts)
    {
        var playing = new Playing((attempts.Length * BetweenSeconds) + 1);
        for (int a = 0; a < attempts.Length; a++)
        {
            for (int i = 0; i < _pitches.Length; i++)
            {
                playing.Note(_pitches[i], Begins(a) + (i * Playing.QuarterSeconds), Playing.QuarterSeconds - 0.08, Amplitudes(attempts[a][i]));
            }
        }

        playing = noiseIn is { } noisy ? playing.Noise(NoiseAmplitude, Begins(noisy) - 0.5, BetweenSeconds - 1) : playing;
        Passage passage = Playing.Quarters(_pitches);
        (double, double)? lost = lostIn is { } broken ? (Begins(broken) + (2.4 * Playing.QuarterSeconds), 0.1) : null;
        List<AttemptResult> judged = playing.HeardAs(passage, lost: lost);
        judged.Should().HaveCount(attempts.Length);
        return judged.Select(attempt => attempt.Verdict == Verdict.NotCounted
            ? attempt.Reason!
            : string.Join(' ', attempt.Notes.Where(note => !note.Faults.IsEmpty).Select(note => note.Faults.Single() == NoteFault.WrongPitch ? $"{note.Index}" : $"{note.Index}?")));
    }

    private static double Begins(int attempt) => LeadSeconds + (attempt * BetweenSeconds);

    private static double[] Amplitudes(char tone)
    {
        double ownDb = tone switch { 'o' => TraceDb, 'w' => ThinDb, 't' => ThinnestDb, _ => 0 };
        return [.. Enumerable.Range(1, 8).Select(k => 0.1 / k * (k % 2 == 1 ? Math.Pow(10, ownDb / 20) : 1))];
    }
}
