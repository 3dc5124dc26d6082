using EarCoach.Core.Listening;

namespace EarCoach.Core.Transcription;

/// <summary>What the frames say about a moment at which a note may begin.</summary>
/// <remarks>[one thread] The limits are choices, made on recordings. Allocates nothing after construction.</remarks>
internal sealed class NoteEvidence(NoteFeatures features)
{
    /// <summary>A pitch is one when it holds for so many frames: 45 ms.</summary>
    public const int SteadyFrames = 9;

    private const float SteadySemitones = 0.45f;
    private const float JumpSemitones = 0.38f;
    private const float AttackBelowPeakDb = 9; // between where the sound rises (14 dB and more below) and where people mark a slow attack (about 6)
    private const float NearlyDb = 5;
    private const float FluxRise = 0.10f;
    private readonly float[] _few = new float[SteadyFrames];

    /// <summary>Whether the pitch has just changed faster than vibrato does: 50 cents at 5 Hz move by 0.31 semitones in 20 ms at most.</summary>
    public bool Jumped(long t)
    {
        for (long k = Math.Max(4, t - 10); k <= t; k++)
        {
            if (!features[k].Voiced || !features[k - 4].Voiced || Math.Abs(features[k].Midi - features[k - 4].Midi) > JumpSemitones)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The pitch that holds from a frame on; null: none does.</summary>
    public float? Steady(long t)
    {
        long last = Math.Min(t + SteadyFrames, features.Count);
        if (t >= last || !features[t].Voiced)
        {
            return null;
        }

        int count = 0;
        for (long k = t; k < last; k++)
        {
            if (features[k].Voiced)
            {
                _few[count++] = features[k].Midi;
            }
        }

        float median = Median(_few.AsSpan(0, count));
        int near = 0;
        foreach (float pitch in _few.AsSpan(0, count))
        {
            near += Math.Abs(pitch - median) <= SteadySemitones ? 1 : 0;
        }

        return near >= SteadyFrames - 1 && Math.Abs(features[t].Midi - median) <= SteadySemitones ? median : null;
    }

    /// <summary>Whether much more is new at a frame than around it (the peak picking of Boeck, Krebs and Schedl 2012, ISMIR).</summary>
    public bool IsNew(long t)
    {
        float flux = features.Flux(t);
        float sum = 0;
        int count = 0;
        for (long k = Math.Max(0, t - 20); k <= Math.Min(t + 14, features.Count - 1); k++)
        {
            float other = features.Flux(k);
            if (Math.Abs(k - t) <= 6 && other > flux)
            {
                return false;
            }

            sum += other;
            count++;
        }

        return flux > (sum / count) + FluxRise;
    }

    /// <summary>How far the level falls before a frame and comes back after it, in dB below the weaker of both sides.</summary>
    public float DipBefore(long t, long since, float midi)
    {
        float lowDb = 0;
        long low = t;
        for (long k = Math.Max(since, t - 14); k <= Math.Min(t + 3, features.Count - 1); k++)
        {
            float db = SmoothLevel(k, midi);
            (low, lowDb) = db < lowDb ? (k, db) : (low, lowDb);
        }

        float before = -200;
        for (long k = Math.Max(since, low - 30); k < low; k++)
        {
            before = Math.Max(before, SmoothLevel(k, midi));
        }

        float after = -200;
        for (long k = low + 1; k <= Math.Min(low + 24, features.Count - 1); k++)
        {
            after = Math.Max(after, SmoothLevel(k, midi));
        }

        return Math.Min(before, after) - lowDb;
    }

    /// <summary>Level over a period of the note at least: that of a low note swings within its period.</summary>
    private float SmoothLevel(long k, float midi)
    {
        int reach = PeriodReach(midi);
        if (reach == 0)
        {
            return features[k].LevelDbfs;
        }

        double power = 0;
        int count = 0;
        for (long j = Math.Max(0, k - reach); j <= Math.Min(k + reach, features.Count - 1); j++, count++)
        {
            power += Math.Pow(10, features[j].LevelDbfs / 10);
        }

        return (float)(10 * Math.Log10(power / count));
    }

    /// <summary>Frames to each side over which the level of the note must be smoothed; 0 for all but the lowest notes.</summary>
    public int PeriodReach(float midi)
    {
        double period = features.FramesPerSecond / EqualTemperament.HzOf(midi);
        return Math.Max(0, (int)Math.Round((period - 4) * 0.75)); // 4 frames: what a frame's level is taken over
    }

    /// <summary>How far the level rises about a frame, in dB: what only rings on does not.</summary>
    public float RiseAround(long t)
    {
        float low = 0;
        for (long k = Math.Max(0, t - 60); k <= t; k++)
        {
            low = Math.Min(low, features[k].LevelDbfs);
        }

        float top = -200;
        for (long k = t; k <= Math.Min(t + 30, features.Count - 1); k++)
        {
            top = Math.Max(top, features[k].LevelDbfs);
        }

        return t < 20 ? 200 : top - low; // before the stream all was silent
    }

    /// <summary>Where the level rises to a struck note, in frames.</summary>
    public double StruckOnset(long t, long earliest)
    {
        float topDb = -200;
        long last = Math.Min(t + 30, features.Count - 1);
        for (long k = t; k <= last; k++)
        {
            topDb = Math.Max(topDb, features[k].LevelDbfs);
        }

        long loud = t; // the first frame from which on it is nearly as loud as it will be
        while (loud < last && features[loud].LevelDbfs < topDb - NearlyDb)
        {
            loud++;
        }

        long low = loud;
        for (long k = earliest; k <= loud; k++)
        {
            low = features[k].LevelDbfs <= features[low].LevelDbfs ? k : low;
        }

        float lowDb = features[low].LevelDbfs;
        float goal = Math.Max(topDb - AttackBelowPeakDb, lowDb + (0.25f * (topDb - lowDb)));
        for (long k = loud; k > low; k--)
        {
            float above = features[k].LevelDbfs;
            float below = features[k - 1].LevelDbfs;
            if (below <= goal && above > goal)
            {
                return k - 1 + ((goal - below) / (above - below));
            }
        }

        return low;
    }

    public static float Median(Span<float> values)
    {
        values.Sort();
        return values[values.Length / 2];
    }
}
