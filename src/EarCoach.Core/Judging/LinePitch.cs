using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Measures the pitch of a short note by the lines of its spectrum, apart from those of the sounds before it, which may ring on.</summary>
/// <remarks>
/// A period is that of all that sounds: two tones a whole tone apart, the one an echo of the note before, have a common period somewhere between
/// them that beats to and fro. Over the whole note the spectrum has a line for each.
/// </remarks>
internal static class LinePitch
{
    private const double AttackSeconds = 0.015;
    private const double EndingSeconds = 0.005;
    private const double LongestSeconds = 0.3;
    private const double ReachSemitones = 0.95;
    private const double StepSemitones = 0.03;
    private const double LobeWidths = 1.25;       // of half the main lobe: so far apart lines of two tones must lie
    private const double HighestHz = 5000;
    private const int MostHarmonics = 12;
    private const double MostShareOfHeard = 0.75; // where the period lies between two tones there is no line

    /// <summary>Measures a note.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="onsetSeconds">Where it begins.</param>
    /// <param name="endSeconds">Where it ends.</param>
    /// <param name="midi">The pitch near which it is looked for.</param>
    /// <param name="heard">The pitch that its period told.</param>
    /// <param name="earlier">The pitches of sounds before it that may ring on.</param>
    /// <param name="leastSeconds">So much of it, without its attack, is asked for: the shorter, the broader the lines.</param>
    /// <returns>Where its lines are; null where none stands apart.</returns>
    public static Lines? Of(RegionSound sound, double onsetSeconds, double endSeconds, double midi, double heard, IReadOnlyList<double> earlier, double leastSeconds)
    {
        double from = onsetSeconds + AttackSeconds;
        double seconds = Math.Min(LongestSeconds, endSeconds - EndingSeconds - from);
        if (seconds < leastSeconds)
        {
            return null;
        }

        double rate = sound.AnalysisRateHz;
        int half = (int)(0.5 * seconds * rate);
        double apart = LobeWidths * 2 / seconds;
        double hz = EqualTemperament.HzOf(midi);
        int kinds = Math.Min(MostHarmonics, (int)(Math.Min(HighestHz, 0.42 * rate) / hz));
        int[] own = [.. Enumerable.Range(1, kinds).Where(k => earlier.All(e => OwnHarmonics.StandsApart(k * hz, e, apart)))];
        if (own.Length == 0)
        {
            return null;
        }

        var spectrum = new StretchSpectrum(sound, from * rate, (from * rate) + (2 * half), half, 1);
        int reach = (int)(ReachSemitones / StepSemitones);
        double HeightAt(double pitch) => own.Sum(k => Math.Sqrt(spectrum.MeanPower(k * EqualTemperament.HzOf(pitch))));
        double[] heights = [.. Enumerable.Range(-reach, (2 * reach) + 1).Select(i => HeightAt(midi + (i * StepSemitones)))];
        int best = Array.IndexOf(heights, heights.Max());
        if (best == 0 || best == heights.Length - 1)
        {
            return null;
        }

        (float shift, _) = PeakList.Parabola((float)heights[best - 1], (float)heights[best], (float)heights[best + 1]);
        return new Lines(midi + ((best - reach + shift) * StepSemitones), HeightAt(heard) <= MostShareOfHeard * heights[best]);
    }

    /// <summary>Where the lines of a note are.</summary>
    /// <param name="Midi">Its pitch by them.</param>
    /// <param name="AreElsewhere">Whether they stand plainly above what is at the pitch that its period told.</param>
    internal readonly record struct Lines(double Midi, bool AreElsewhere);
}
