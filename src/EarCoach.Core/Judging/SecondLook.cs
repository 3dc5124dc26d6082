namespace EarCoach.Core.Judging;

/// <summary>Looks again at a note that seems to be out of time, now that it is known when it was due.</summary>
/// <remarks>
/// In the echo of the note before, the new one may be plain only after a while; or a breath, or the echo itself, is taken for it before it
/// comes. But its own harmonics rise once, where it sets in. Of the moments that could be this one the likeliest is taken, and players are
/// more often in time than not; a note that is truly late leaves the moment at which it was due empty.
/// </remarks>
internal static class SecondLook
{
    private const double SuspectSeconds = 0.025;   // nearer to its time there is no doubt to settle
    private const double SpreadSeconds = 0.020;    // how far players stray
    private const double MostAgainst = 4;          // nats: any moment is possible
    private const double LeastEvidence = 3;        // nats
    private const double LeastStrokeEvidence = 10; // a gap has two edges, and every harmonic counts
    private const double LeastStrokeEvidenceOfFew = 6;
    private const double StrokeEvidenceOfEach = 1.6;
    private const double PlainStrokeEvidence = 24; // nats; so much speaks for a stroke only where there is one,
    private const double PlainerTimes = 3;         // if it is so many times what speaks for one elsewhere
    private const double MuchPlainerTimes = 5;     // or so many times what speaks for one when it was due,
    private const double SomewhatPlainerTimes = 1.5; // and is plainer than that elsewhere all the same,
    private const double ApartSeconds = 0.06;      // which is not the same stroke
    private const double EdgeShare = 0.25;         // of what one edge of a stroke explains the other must explain: a tone that only swells has one
    private const double BesideShare = 0.3;
    private const double FarSeconds = 0.35;        // so far from its time a note may come, and the others in theirs
    private const double FarShare = 0.6;           // of what must speak for a stroke in time, if the note was said to set in farther off
    private const double AfterOnsetSeconds = 0.06;
    private const double BeforeEndSeconds = 0.04;
    private const double LeastBetter = 2;          // nats that another moment must explain beyond what the measured one does
    private const double LeastMaskedEvidence = 8;  // nats
    private const int OtherSemitones = 4;          // to either side of a note: a rise of everything is no rise of one pitch
    private const double OtherShare = 0.5;         // of what another pitch's rise explains, a note that was not heard must explain so much
    private const double HeardShare = 1.2;         // and one that was heard as another pitch so much
    private const double ReachSeconds = 0.15;
    private const double NearSeconds = 0.045;
    private const double EchoShare = 0.42;         // what a later notch in the echo may explain of itself as well
    private const double EarlyShare = 1.4;         // a plain earlier one is the note's own, unless the one in time is plainer still
    private const double StrokeRiseSeconds = 0.02; // from where a note begins to where the gap before it explains most

    /// <summary>Where a note sets in.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="due">When it was due, in seconds.</param>
    /// <param name="note">What was measured of it.</param>
    /// <param name="pitch">Its pitch.</param>
    /// <param name="before">What was measured of the note before.</param>
    /// <param name="pitchBefore">The pitch of that.</param>
    /// <returns>In seconds; null when what was measured stands.</returns>
    public static double? Onset(RegionSound sound, double due, MeasuredNote note, double pitch, MeasuredNote before, double pitchBefore)
    {
        if (note is not { OnsetSeconds: { } onset, OffsetSeconds: { } end } || before.OnsetSeconds is not { } begun || Math.Abs(onset - due) < SuspectSeconds)
        {
            return null;
        }

        double from = Math.Max(begun + 0.03, Math.Min(onset, due) - ReachSeconds);
        double to = Math.Min(end - 0.02, Math.Max(onset, due) + ReachSeconds);
        bool same = Math.Abs(pitchBefore - pitch) < 0.5;
        if (OwnHarmonics.Measure(sound, from, to, pitch, same ? null : pitchBefore) is not { } power)
        {
            return null;
        }

        double? found = same ? Stroke(power, from, onset, due) : Rise(OnsetLikelihood.OfRise(power), from, onset, due);
        return found is { } begins && Math.Abs(begins - due) < Math.Min(3 * SpreadSeconds, Math.Abs(onset - due)) ? begins : null;
    }

    /// <summary>
    /// Where a note of the same pitch as the one before was struck plainly at another time than where it was said to set in, for it was due there,
    /// but where hardly anything speaks for a stroke.
    /// </summary>
    /// <param name="sound">The region.</param>
    /// <param name="due">When it was due, in seconds.</param>
    /// <param name="note">What was measured of it.</param>
    /// <param name="pitch">Its pitch.</param>
    /// <param name="begun">Where the note before sets in.</param>
    /// <returns>In seconds; null where no other stroke is so much plainer.</returns>
    public static double? OtherStroke(RegionSound sound, double due, MeasuredNote note, double pitch, double begun)
    {
        if (note is not { OnsetSeconds: { } onset, OffsetSeconds: { } end })
        {
            return null;
        }

        double from = Math.Max(begun + AfterOnsetSeconds, due - FarSeconds);
        double to = Math.Min(end - BeforeEndSeconds, due + FarSeconds);
        if (OwnHarmonics.Measure(sound, from, to, pitch, null) is not { } power)
        {
            return null;
        }

        double[] gain = OnsetLikelihood.OfStroke(power);
        int there = Enumerable.Range(0, gain.Length).MaxBy(t => gain[t]);
        double stroke = BeginOfStroke(from, there);
        if (!(gain[there] > PlainStrokeEvidence) || !HasTwoEdges(power, there))
        {
            return null;
        }

        // A long gap explains something at moments beside its end, too: nearer than a third of the way nothing else is looked for.
        double? At(double seconds, double reach) => BestStroke(gain, from, seconds, reach) is var t && t >= 0 ? gain[t] : null;
        double? Beside(double seconds) => At(seconds, Math.Min(NearSeconds, BesideShare * Math.Abs(stroke - seconds)));
        bool plainer = gain[there] > PlainerTimes * (At(onset, NearSeconds) ?? 0);
        bool nothingInTime = Math.Abs(stroke - onset) > ApartSeconds && Beside(due) is { } inTime && gain[there] > MuchPlainerTimes * inTime
            && gain[there] > SomewhatPlainerTimes * (Beside(onset) ?? 0);
        return plainer || nothingInTime ? stroke : null;
    }

    /// <summary>
    /// Where a short note sets in that nothing was heard of, or another pitch: between louder ones in the echo, or with a slow attack, its pitch may
    /// be plain only when it is over. But its own harmonics rise when it was due, and in a room where nothing is played nothing rises.
    /// </summary>
    /// <param name="sound">The region.</param>
    /// <param name="due">When it was due, in seconds.</param>
    /// <param name="pitch">Its pitch.</param>
    /// <param name="before">When the note before it set in; null where it is the first.</param>
    /// <param name="pitchBefore">The pitch of that; null where it is the first.</param>
    /// <param name="next">When the next note sets in.</param>
    /// <param name="heard">The other pitch that was heard in its place; null where nothing was.</param>
    /// <returns>In seconds; null when what was heard stands.</returns>
    public static double? Masked(RegionSound sound, double due, double pitch, double? before, double? pitchBefore, double next, double? heard = null)
    {
        double old = pitchBefore ?? double.NegativeInfinity;
        double from = Math.Max((before ?? double.NegativeInfinity) + 0.03, due - ReachSeconds);
        double to = Math.Min(next - 0.01, due + ReachSeconds);
        (int at, double own) = RiseNear(sound, from, to, due, pitch, pitchBefore);
        if (!(own > LeastMaskedEvidence))
        {
            return null;
        }

        // An attack is noisy: everything rises with it. But where another pitch was heard, no other may rise nearly as much.
        double share = heard is null ? OtherShare : HeardShare;
        IEnumerable<double> others = Enumerable.Range(-OtherSemitones, (2 * OtherSemitones) + 1).Where(off => off != 0).Select(off => pitch + off);
        others = heard is { } instead ? others.Append(instead) : others;
        bool isOther = others.Any(other => Math.Abs(other - old) > 0.5 && share * RiseNear(sound, from, to, due, other, pitchBefore).Gain >= own);
        return isOther ? null : from + (at * OwnHarmonics.StepSeconds);
    }

    private static (int At, double Gain) RiseNear(RegionSound sound, double from, double to, double due, double pitch, double? before)
    {
        if (OwnHarmonics.Measure(sound, from, to, pitch, before) is not { } power)
        {
            return (-1, double.NegativeInfinity);
        }

        double[] gain = OnsetLikelihood.OfRise(power);
        int best = Best(gain, from, due, NearSeconds);
        return (best, best < 0 ? double.NegativeInfinity : gain[best]);
    }

    private static double? Rise(double[] gain, double from, double onset, double due)
    {
        int best = -1;
        double most = double.NegativeInfinity;
        for (int t = 0; t < gain.Length; t++)
        {
            double off = (from + (t * OwnHarmonics.StepSeconds) - due) / SpreadSeconds;
            double likely = gain[t] - Math.Min(MostAgainst, 0.5 * off * off);
            (best, most) = likely > most ? (t, likely) : (best, most);
        }

        int measured = Best(gain, from, onset, Math.Min(NearSeconds, 0.4 * Math.Abs(onset - due)));
        double doubt = measured >= 0 ? gain[measured] + LeastBetter : 0;
        return best >= 0 && gain[best] > Math.Max(LeastEvidence, doubt) ? from + (best * OwnHarmonics.StepSeconds) : null;
    }

    /// <summary>What must speak for a stroke in time, in nats: of a high note fewer harmonics are heard.</summary>
    private static double LeastForStroke(int harmonics) => Math.Clamp(StrokeEvidenceOfEach * harmonics, LeastStrokeEvidenceOfFew, LeastStrokeEvidence);

    /// <summary>Whether the sound falls before a stroke as well as it rises at it.</summary>
    private static bool HasTwoEdges(OwnHarmonics power, int moment)
    {
        (double fall, double rise) = OnsetLikelihood.EdgesOfStroke(power, moment);
        return Math.Min(fall, rise) > EdgeShare * Math.Max(fall, rise);
    }

    private static double? Stroke(OwnHarmonics power, double from, double onset, double due)
    {
        double[] gain = OnsetLikelihood.OfStroke(power);
        int inTime = BestStroke(gain, from, due, NearSeconds);
        int measured = BestStroke(gain, from, onset, NearSeconds);
        double least = LeastForStroke(power.Harmonics) * (Math.Abs(onset - due) > FarSeconds ? FarShare : 1);
        if (inTime < 0 || measured < 0 || gain[inTime] < least)
        {
            return null;
        }

        bool isPlainer = gain[inTime] >= (onset > due ? EchoShare : EarlyShare) * gain[measured];
        return isPlainer || !HasTwoEdges(power, measured) ? BeginOfStroke(from, inTime) : null;
    }

    /// <summary>Where a note begins that a gap explains best which ends at a moment, in seconds.</summary>
    private static double BeginOfStroke(double from, int moment) => from + (moment * OwnHarmonics.StepSeconds) - StrokeRiseSeconds;

    /// <summary>The moment that explains most of a stroke near a time; less than 0 where none is.</summary>
    private static int BestStroke(double[] gain, double from, double seconds, double reach) => Best(gain, from, seconds + (0.5 * StrokeRiseSeconds), reach);

    private static int Best(double[] gain, double from, double seconds, double reach)
    {
        int best = -1;
        int first = Math.Max(0, (int)((seconds - reach - from) / OwnHarmonics.StepSeconds));
        int last = Math.Min(gain.Length - 1, (int)((seconds + reach - from) / OwnHarmonics.StepSeconds));
        for (int t = first; t <= last; t++)
        {
            best = best < 0 || gain[t] > gain[best] ? t : best;
        }

        return best;
    }
}
