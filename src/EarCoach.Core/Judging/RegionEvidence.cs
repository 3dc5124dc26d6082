using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>What the frames of a region say, in the decoder's terms. Built from frames alone, knows no passage.</summary>
internal sealed class RegionEvidence
{
    /// <summary>Semitones below a target from which on a pitch counts as a common period of two tones.</summary>
    public const float FarBelow = 9.5f;

    private const float PlainClarity = 0.65f;
    private const float Unlikely = -4f; // log-weight of a pitch that no candidate supports

    private RegionEvidence(int count)
    {
        Silence = new float[count];
        Rise = new float[count];
        Notch = new float[count];
        Voicing = new float[count];
    }

    /// <summary>-1: surely sounding, +1: surely silent.</summary>
    public float[] Silence { get; }

    /// <summary>How far the level rises within a few hundredths of a second around the frame, in dB: a new attack.</summary>
    public float[] Rise { get; }

    /// <summary>At the bottom of a short notch of the level its depth in dB, else 0: a tongue stroke, not a swell.</summary>
    public float[] Notch { get; }

    /// <summary>0: no pitch can be told, 1: the pitch is clear.</summary>
    public float[] Voicing { get; }

    public static RegionEvidence From(ReadOnlySpan<HeardFrame> frames, double framesPerSecond)
    {
        var evidence = new RegionEvidence(frames.Length);
        var levels = new float[frames.Length];
        for (int t = 0; t < frames.Length; t++)
        {
            levels[t] = frames[t].LevelDbfs;
        }

        int near = (int)(0.15 * framesPerSecond);
        int recent = (int)(0.6 * framesPerSecond);
        float[] before = SlidingMaximum(levels, near, 0);
        float[] after = SlidingMaximum(levels, 0, near);
        int brief = Math.Max(1, (int)(0.03 * framesPerSecond));
        float[] lowest = SlidingMaximum([.. levels.Select(x => -x)], brief, 0);
        float[] highest = SlidingMaximum(levels, 0, brief);
        int edge = Math.Max(1, (int)(0.042 * framesPerSecond));
        float[] justBefore = SlidingMaximum(levels, edge, 0);
        float[] justAfter = SlidingMaximum(levels, 0, edge);
        float[] depth = [.. levels.Select((level, t) => Math.Min(justBefore[t], justAfter[t]) - level)];
        float[] deepest = SlidingMaximum(depth, edge / 2, edge / 2);
        float[] past = SlidingMaximum(levels, recent, 0);
        float loud = LoudDbfs(frames);
        for (int t = 0; t < frames.Length; t++)
        {
            ref readonly HeardFrame frame = ref frames[t];
            float level = frame.LevelDbfs;
            evidence.Rise[t] = Math.Min(highest[t], before[t] + 3f) + lowest[t];
            evidence.Notch[t] = depth[t] > 4f && depth[t] >= deepest[t] && (t == 0 || depth[t - 1] < depth[t]) ? depth[t] : 0f;
            float above = frame.AboveFloorDb;
            evidence.Voicing[t] = Math.Clamp((frame.Clarity - 0.45f) / 0.35f, 0f, 1f) * Math.Clamp((above - 2f) / 4f, 0f, 1f);
            float plain = Math.Clamp((frame.Clarity - PlainClarity) / 0.15f, 0f, 1f) * Math.Clamp((above - 2f) / 2f, 0f, 1f)
                * Math.Clamp((level - loud + 18f) / 6f, 0f, 1f); // playing in a noisy room; what is far softer is a drone, or an echo
            float quiet = Math.Clamp((6f - above) / 4f, -1f, 1f) - plain;
            float dip = Math.Clamp((Math.Min(before[t], after[t]) - level - 11f) / 4f, -1f, 1f);
            float drop = Math.Clamp((past[t] - level - 16f) / 5f, -1f, 1f);
            float unclear = 0.5f * Math.Clamp((0.55f - frame.Clarity) / 0.2f, -2f, 1f);
            evidence.Silence[t] = Math.Max(Math.Max(quiet, dip), Math.Max(drop, unclear));
            if (frame.Deaf)
            {
                evidence.Silence[t] = 1f;
                evidence.Voicing[t] = 0f;
            }
        }

        return evidence;
    }

    /// <summary>The evidence of some of the frames.</summary>
    public RegionEvidence Slice(int from, int count)
    {
        var part = new RegionEvidence(count);
        Array.Copy(Silence, from, part.Silence, 0, count);
        Array.Copy(Rise, from, part.Rise, 0, count);
        Array.Copy(Notch, from, part.Notch, 0, count);
        Array.Copy(Voicing, from, part.Voicing, 0, count);
        return part;
    }

    /// <summary>Log-weight of a pitch in a frame, 0 at best.</summary>
    /// <param name="frame">The frame.</param>
    /// <param name="midi">The pitch.</param>
    /// <param name="full">Up to this deviation in semitones a candidate supports the pitch fully; a note of the task may be as far out of tune as this.</param>
    /// <param name="none">From this deviation on it does not.</param>
    public static float LogWeight(in HeardFrame frame, double midi, float full = 0.72f, float none = 0.95f)
    {
        float best = Unlikely;
        for (int k = 0; k < frame.CandidateCount; k++)
        {
            PitchCandidate candidate = frame.Candidates[k];
            float off = MathF.Abs((float)(candidate.Midi - midi));
            if (off < none && candidate.Weight > best)
            {
                float loss = off <= full ? 0f : Unlikely * (off - full) / (none - full);
                best = Math.Max(best, candidate.Weight + loss);
            }
        }

        return best;
    }

    /// <summary>
    /// Log-weight of the likeliest candidate that is not far below a pitch. Two tones together (a note and the last one's echo) repeat
    /// with a common period far below both: such a candidate says nothing against either.
    /// </summary>
    public static float BestNear(in HeardFrame frame, double midi)
    {
        float best = Unlikely;
        for (int k = 0; k < frame.CandidateCount; k++)
        {
            PitchCandidate candidate = frame.Candidates[k];
            if (candidate.Midi > midi - FarBelow)
            {
                best = Math.Max(best, candidate.Weight);
            }
        }

        return best;
    }

    /// <summary>Level of the louder of the frames with a plain pitch, in dBFS: what one in five exceeds.</summary>
    private static float LoudDbfs(ReadOnlySpan<HeardFrame> frames)
    {
        var plain = new List<float>();
        foreach (ref readonly HeardFrame frame in frames)
        {
            if (frame.Clarity > PlainClarity && !frame.Deaf)
            {
                plain.Add(frame.LevelDbfs);
            }
        }

        plain.Sort();
        return plain.Count > 0 ? RegionSound.LevelOf(plain) : float.PositiveInfinity;
    }

    private static float[] SlidingMaximum(float[] values, int behind, int ahead)
    {
        var result = new float[values.Length];
        var queue = new int[values.Length];
        int head = 0;
        int tail = 0;
        int next = 0;
        for (int t = 0; t < values.Length; t++)
        {
            while (next < values.Length && next <= t + ahead)
            {
                while (tail > head && values[queue[tail - 1]] <= values[next])
                {
                    tail--;
                }

                queue[tail++] = next++;
            }

            while (queue[head] < t - behind)
            {
                head++;
            }

            result[t] = values[queue[head]];
        }

        return result;
    }
}
