using System.Numerics;
using EarCoach.Core.Listening;
using MathNet.Numerics.Statistics;

namespace EarCoach.Core.Judging;

/// <summary>Finds where a note is struck again: its harmonics break off together for a few hundredths of a second and come back.</summary>
/// <remarks>
/// A swell is smooth, a beat between two sounds hollows out some harmonics and lifts others, and a tone that flickers does so all the
/// time. In a room the echo fills the hole, so the level may hardly fall; but the echo does not have the tone's own phase, and the tone's
/// part breaks off and comes back in steps. A vibrato swells and fades in a room, the more so the fewer harmonics share the sound. The nearer to an end of the note, the more it can be its attack or the next note; the longer the
/// note, the more chances there are to be wrong. How these signs are weighed is a logistic regression over some 100,000 notes of nine instruments
/// in eight rooms, 1,500 of them struck again: by a hole of 35 ms in the middle, by a hole of 30 to 55 ms anywhere, or by ending and attacking
/// anew with 45 to 85 ms between; made tones of four sound fonts and recorded ones, a third of all with vibrato, scoops and swells. Each of
/// thirty-two sets was foretold from the others: 92, 80 and 53 of 100 were heard, with one false alarm in 5,000 notes; since then a little more is
/// asked, and of 16,700 notes of seven later sets 3 instead of 9 were false alarms, and 66 instead of 68 of 76 strokes were heard. What the vibrato
/// weighs was set by tones of few harmonics that swing in a room.
/// </remarks>
internal static class StrokeFinder
{
    private const double StepSeconds = 0.002;
    private const double LeastSeconds = 0.24;      // a shorter note has no room for a second stroke
    private const double AfterOnsetSeconds = 0.045;
    private const double BeforeEndSeconds = 0.02;
    private const double ApartSeconds = 0.06;
    private const double NearSeconds = 0.009;
    private const double LeastHoleSeconds = 0.018; // a shorter one is a fault of the line, not of the tongue: browsers lose 10 ms now and then
    private const double LeastWeight = 2;
    private const double LeastWeightInEcho = 3;    // where the hole is to be seen in the phase alone
    private const double HoleWeight = 5.85;
    private const int FewHarmonics = 5;            // so few swing in a room, or in the vibrato, as one: only a break of the tone's own phase tells
    private const double LeastGainOfOne = 0.5;
    private const double LessGainForEach = 0.05;
    private const double EdgeSeconds = 0.08;       // an attack is uneven, and the next note begins in the end of this one
    private const int HoleSteps = 10;              // from the centre of a hole to the sound beside it
    private const int SideSteps = 12;
    private const double GainPerDb = 4;            // what a unit of Gain counts in the search, in dB
    private const double VibratoSeconds = 0.15;    // to either side: a whole swing of the slowest
    private const double NearHoleSeconds = 0.012;
    private static readonly StrokeShape[] _shapes = [new(2, 7, 10), new(5, 7, 10), new(8, 7, 10), new(14, 7, 10), new(20, 7, 10)];
    private static readonly double[] _holeSeconds = [0.012, 0.025, 0.045, 0.07];

    /// <summary>Looks for a second stroke.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="onset">Where the note begins, on the clock of the analysed samples.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="midi">Its pitch.</param>
    /// <returns>Where the harmonics have come half-way back, on that clock; null when there is none.</returns>
    public static double? Find(RegionSound sound, double onset, double end, double midi)
    {
        double rate = sound.AnalysisRateHz;
        if (end - onset < LeastSeconds * rate)
        {
            return null;
        }

        double from = onset + (AfterOnsetSeconds * rate);
        double step = StepSeconds * rate;
        int count = (int)((end - (BeforeEndSeconds * rate) - from) / step);
        HarmonicTracks tracks = HarmonicTracks.Of(sound, from, step, count, midi);
        StrokeReading[] readings = Readings(tracks, count);
        double[] search = [.. readings.Select(r => r.FallDb + (GainPerDb * Math.Clamp(r.Gain, -1, 3)))];
        int best = Array.IndexOf(search, search.Max());
        if (double.IsNegativeInfinity(search[best]))
        {
            return null;
        }

        int near = (int)(NearSeconds / StepSeconds);
        StrokeReading reading = readings[Math.Max(0, best - near)..Math.Min(count, best + near + 1)].Aggregate((a, b) => a.Or(b));
        if (tracks.Weights.Length <= FewHarmonics && reading.Gain < LeastGainOfOne - (LessGainForEach * (tracks.Weights.Length - 1)))
        {
            return null;
        }

        int apart = (int)(ApartSeconds / StepSeconds);
        double other = 0;
        for (int t = 0; t < count; t++)
        {
            other = Math.Abs(t - best) >= apart ? Math.Max(other, search[t]) : other;
        }

        double place = from + (best * step);
        double weight = WeightOf(reading, other) + WeightOfPlace((place - onset) / rate, (end - place) / rate)
            - (0.68 * Math.Log2(EqualTemperament.HzOf(midi) / 200)) - (0.5 * Swing(tracks.PitchCents, best) / tracks.Weights.Length);
        weight += weight + (HoleWeight * StrokeHole.Most) > LeastWeight ? HoleWeight * HoleNear(tracks, best) : double.NegativeInfinity; // few notes come so far
        if (weight <= LeastWeight)
        {
            return null;
        }

        int? rise = Rise(Loudness(tracks), best, nearSeconds: 0.05);
        rise ??= weight > LeastWeightInEcho ? Rise(Presence(tracks, best), best, nearSeconds: 0.03) : null;
        return from + (rise * step);
    }

    /// <summary>How far the pitch swings around a step: its standard deviation, in cents.</summary>
    private static double Swing(double[] cents, int place)
    {
        int reach = (int)(VibratoSeconds / StepSeconds);
        double[] near = cents[Math.Max(0, place - reach)..Math.Min(cents.Length, place + reach + 1)];
        return near.PopulationStandardDeviation();
    }

    /// <summary>What the readings of a stroke weigh, beside the most that speaks for one elsewhere in the note.</summary>
    private static double WeightOf(StrokeReading reading, double elsewhere)
    {
        double fall = Math.Min(reading.FallDb, 10);
        double gain = Math.Clamp(reading.Gain, -0.5, 1);
        return (0.94 * fall) + (0.31 * Math.Clamp(reading.LesserFallDb, -5, 10)) + (3.33 * gain) - (0.99 * elsewhere) - 4.32;
    }

    /// <summary>What a place weighs: at the ends of a note a stroke must be plainer, and in a long one.</summary>
    private static double WeightOfPlace(double sinceOnset, double untilEnd) =>
        (-11.79 * Math.Exp(-sinceOnset / EdgeSeconds)) - (31.14 * Math.Exp(-untilEnd / EdgeSeconds)) - (2.55 * Math.Log(sinceOnset + untilEnd));

    /// <summary>How much speaks for the hole of a tongue near a step, of whatever length.</summary>
    private static double HoleNear(HarmonicTracks tracks, int place)
    {
        int near = (int)(NearHoleSeconds / StepSeconds);
        return _holeSeconds.Select(seconds => new StrokeHole(seconds, tracks.WindowSeconds, StepSeconds)).Max(hole =>
        {
            int first = Math.Max(hole.Reach, place - near);
            int last = Math.Min(tracks.LevelPower.Length - 1 - hole.Reach, place + near);
            return first > last ? double.NegativeInfinity : Enumerable.Range(first, last - first + 1).Max(t => hole.At(tracks, t));
        });
    }

    private static StrokeReading[] Readings(HarmonicTracks tracks, int count)
    {
        var readings = new StrokeReading[count];
        Array.Fill(readings, StrokeReading.None);
        RunningSums[] sums = [.. tracks.Amplitudes.Select(amplitudes => new RunningSums(amplitudes))];
        var level = new RunningSums([.. tracks.LevelPower.Select(power => new Complex(power, 0))]);
        foreach (StrokeShape shape in _shapes)
        {
            for (int t = shape.Reach; t < count - shape.Reach; t++)
            {
                readings[t] = readings[t].Or(shape.At(tracks, sums, level, t));
            }
        }

        return readings;
    }

    /// <summary>How loud the harmonics are at each step, in dB.</summary>
    private static double[] Loudness(HarmonicTracks tracks)
    {
        var course = new double[tracks.LevelPower.Length];
        for (int k = 0; k < tracks.Weights.Length; k++)
        {
            for (int t = 0; t < course.Length; t++)
            {
                course[t] += tracks.Weights[k] * 10 * Math.Log10(tracks.PowerAt(k, t) + 1e-18);
            }
        }

        return course;
    }

    /// <summary>How much of the sound before or after a hole, whichever is more, is there at each step with its phase: the echo is not.</summary>
    private static double[] Presence(HarmonicTracks tracks, int hole)
    {
        var course = new double[tracks.LevelPower.Length];
        for (int k = 0; k < tracks.Weights.Length; k++)
        {
            Complex[] amplitudes = tracks.Amplitudes[k];
            TonePart before = TonePart.Of(amplitudes.AsSpan(Math.Max(0, hole - HoleSteps - SideSteps)..(hole - HoleSteps)));
            TonePart after = TonePart.Of(amplitudes.AsSpan((hole + HoleSteps + 1)..Math.Min(course.Length, hole + HoleSteps + SideSteps + 1)));
            for (int t = 0; t < course.Length; t++)
            {
                course[t] += tracks.Weights[k] * Math.Clamp(Math.Max(before.ShareIn(amplitudes[t]), after.ShareIn(amplitudes[t])), -0.5, 1.2);
            }
        }

        return course;
    }

    /// <summary>Where a course has come half-way back from a hole; null when that is too short for a stroke.</summary>
    private static int? Rise(double[] course, int place, double nearSeconds)
    {
        int near = (int)(nearSeconds / StepSeconds);
        int inside = (int)(0.012 / StepSeconds);
        int lowest = Enumerable.Range(place - inside, (2 * inside) + 1).MinBy(t => course[t]);
        double top = Math.Min(course.Skip(lowest).Take(near).Max(), course.Skip(Math.Max(0, lowest - near)).Take(near).Max());
        double middle = 0.5 * (course[lowest] + top);
        int rise = lowest;
        while (rise < course.Length - 1 && course[rise] < middle)
        {
            rise++;
        }

        int fall = lowest;
        while (fall > 0 && course[fall] < middle)
        {
            fall--;
        }

        return (rise - fall) * StepSeconds < LeastHoleSeconds ? null : rise;
    }
}
