using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Tells playing from what else is heard in a practice room: a player who speaks between attempts, somebody who plays next door.</summary>
/// <remarks>
/// Tones keep their pitch for a while, and those of the passage come in its order; a voice that speaks glides all the time, passes through its
/// notes by chance, and is seldom as loud as the instrument was. How these signs are weighed is a logistic regression over 4,400 attempts of
/// nine instruments in eight rooms, 242 of them broken off, and 580 remarks that the decoder had taken for attempts: recorded prompts and readings in
/// five languages, and synthetic voices, at 5 to 24 dB below the playing. Each of eighteen sets was foretold from the others: no attempt
/// was taken for speech, and 18 remarks for attempts. What the level weighs was set by hand, for players may play as softly as they like.
/// Music through a wall is much fainter than the player, and is another passage.
/// </remarks>
internal static class OtherSound
{
    private const double HalfSteadySeconds = 0.025;
    private const float SteadySemitones = 0.35f;      // a vibrato keeps within it at its turns, a glide never
    private const double Octave = 12;
    private const double MostFainterDb = 12;          // more says nothing new of speech
    private const double LeastWeight = -2.5;
    private const double LeastWeightIfAsLoud = -6;    // two short wrong notes weigh -5
    private const double AsLoudDb = 3;
    private const double NextDoorDb = 16;             // so much fainter and with so much else in it,
    private const double RightShare = 0.85;           // it is not the player;
    private const double FewNotesDb = 22;             // so few right ones are anybody's where they are fainter still
    private const int FewNotes = 2;
    private const double BeforeNoteDb = 12;           // what is so much fainter than what follows is not its beginning
    private const double LeastBeforeSeconds = 0.06;   // but an attack may be
    private const double LongestRiseSeconds = 0.12;   // from where a note is loud to where it is plain
    private const double LoudSeconds = 0.15;
    private const float RiseDb = 3;
    private const double PauseSeconds = 0.25;         // between a word and playing, beyond what is written,
    private const double SlowestShare = 1.3;          // which may be taken slower

    /// <summary>The attempts of a region without what is none.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="attempts">The decoder's account of it.</param>
    /// <param name="targets">The task.</param>
    /// <param name="usualDbfs">The level of attempts before, as <see cref="LevelOf"/> has it; null where there are none.</param>
    public static List<AttemptPath> LeaveOut(RegionSound sound, IReadOnlyList<AttemptPath> attempts, IReadOnlyList<TargetNote> targets, double? usualDbfs)
    {
        double usual = attempts.Select(a => LevelOf(sound, a)).Append(usualDbfs ?? double.NegativeInfinity).Max();
        bool IsOther(AttemptPath attempt) => IsNone(sound, attempt, usual, usualDbfs is not null);
        return [.. attempts.Where(a => !IsOther(a)).Select(a => CutOff(sound, WithoutFaint(sound, a), targets, IsOther))];
    }

    /// <summary>An attempt without fainter sound before it that was taken for its first note.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="attempt">The decoder's account.</param>
    public static AttemptPath WithoutFaint(RegionSound sound, AttemptPath attempt) => WithoutFaintPart(sound, WithoutFaintBeginning(sound, attempt));

    /// <summary>How loud an attempt is, in dBFS.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="attempt">The decoder's account.</param>
    public static double LevelOf(RegionSound sound, AttemptPath attempt) => sound.LevelDbfs(attempt.FirstFrame, attempt.EndFrame);

    private static bool IsNone(RegionSound sound, AttemptPath attempt, double usualDbfs, bool isKnown)
    {
        double fainter = usualDbfs - LevelOf(sound, attempt);
        PathStep[] right = [.. attempt.Steps.Where(s => s.Activity == Activity.Note)];
        double share = (double)right.Sum(s => s.Frames) / attempt.Steps.Where(s => s.Sounds).Sum(s => s.Frames);
        int notes = right.Where(s => s.Frames > PathStep.LeastFrames).Select(s => s.Index).Distinct().Count();
        return (fainter > NextDoorDb && share < RightShare)
            || (fainter > FewNotesDb && notes <= FewNotes)
            || WeightOfPlaying(sound, attempt, share, notes) - (0.3 * Math.Clamp(fainter, 0, MostFainterDb)) < (isKnown && fainter < AsLoudDb ? LeastWeightIfAsLoud : LeastWeight);
    }

    /// <summary>An attempt without the faint other sound just before it that was taken for its beginning. A note of the passage may be as faint.</summary>
    private static AttemptPath WithoutFaintBeginning(RegionSound sound, AttemptPath attempt)
    {
        int first = attempt.FirstFrame;
        int window = (int)(LoudSeconds * sound.FramesPerSecond);
        int least = (int)(LeastBeforeSeconds * sound.FramesPerSecond);
        int right = attempt.Steps.Where(s => s.Activity == Activity.Note && s.Frames > PathStep.LeastFrames).Select(s => s.FirstFrame + PathStep.LeastFrames).FirstOrDefault(attempt.EndFrame);
        float faint = float.NegativeInfinity;
        int begins = first;
        for (int t = first + least; t < Math.Min(right + 1, attempt.EndFrame - window); t++)
        {
            faint = Math.Max(faint, sound.Frames[t - least].LevelDbfs); // an attack rises within so much
            if (sound.Frames[t].LevelDbfs > faint + RiseDb && sound.LevelDbfs(t, t + window) - BeforeNoteDb > faint)
            {
                begins = t;
                t += window; // what follows is the same rise
            }
        }

        return begins == first ? attempt : From(attempt, begins);
    }

    /// <summary>The same where the faint sound comes to the pitch of the first note for a moment: that note has another beginning, as loud as it is.</summary>
    private static AttemptPath WithoutFaintPart(RegionSound sound, AttemptPath attempt)
    {
        int first = attempt.FirstFrame;
        int least = (int)(LeastBeforeSeconds * sound.FramesPerSecond);
        int most = (int)(LongestRiseSeconds * sound.FramesPerSecond);
        int end = attempt.Steps.LastOrDefault(s => s.Activity == Activity.Note && s.Index == attempt.FirstIndex).EndFrame;
        foreach (PathStep step in attempt.Steps.Reverse().Where(s => s.Index == attempt.FirstIndex && (s.Activity is Activity.Note or Activity.Hole) && s.FirstFrame < end))
        {
            double loud = sound.LevelDbfs(step.FirstFrame, end) - BeforeNoteDb;
            int rise = first;
            while (rise < step.FirstFrame && sound.Frames[rise].LevelDbfs < loud)
            {
                rise++;
            }

            if (rise - first > least && step.FirstFrame - rise < most)
            {
                return From(attempt, step.Activity == Activity.Note ? rise : step.FirstFrame);
            }
        }

        return attempt;
    }

    /// <summary>What of an attempt is played from a frame on.</summary>
    private static AttemptPath From(AttemptPath attempt, int frame)
    {
        PathStep[] rest = [.. attempt.Steps.Where(s => s.EndFrame > frame).Select(s => s with { FirstFrame = Math.Max(s.FirstFrame, frame) }).SkipWhile(s => !s.Sounds)];
        return attempt.With([new PathStep(Activity.Rest, attempt.FirstIndex, 0, frame, rest[0].FirstFrame), .. rest]);
    }

    /// <summary>An attempt without other sound that was taken for the notes due at its ends, with a pause between.</summary>
    private static AttemptPath CutOff(RegionSound sound, AttemptPath attempt, IReadOnlyList<TargetNote> targets, Func<AttemptPath, bool> isNone)
    {
        // Notes may be as short as one likes: it is the next one's time that has passed.
        bool IsPause(PathStep[] steps, int k)
        {
            if (steps[k].Sounds || steps[k].Frames <= PauseSeconds * sound.FramesPerSecond)
            {
                return false;
            }

            int before = Array.FindLastIndex(steps, k - 1, s => s.Sounds);
            int after = Array.FindIndex(steps, k + 1, s => s.Sounds);
            if (before < 0 || after < 0)
            {
                return false;
            }

            int last = steps[before].Index;
            int begun = steps.First(s => s.Sounds && s.Index == last).FirstFrame;
            double written = targets[steps[after].Index].OnsetSeconds - targets[last].OnsetSeconds;
            return steps[after].FirstFrame - begun > ((SlowestShare * written) + PauseSeconds) * sound.FramesPerSecond;
        }

        bool IsOther(PathStep[] part) => isNone(attempt.With(part));

        PathStep[] steps = [.. attempt.Steps];
        for (int k = steps.Length - 1; k > 0; k--)
        {
            if (IsPause(steps, k) && IsOther(steps[(k + 1)..]))
            {
                steps = steps[..k];
            }
        }

        for (int k = 1; k < steps.Length; k++)
        {
            if (IsPause(steps, k) && IsOther(steps[..k]))
            {
                steps = steps[k..];
                k = 0;
            }
        }

        return steps.Length == attempt.Steps.Count ? attempt : attempt.With(steps);
    }

    /// <summary>How much speaks for playing and against speech, were it as loud as ever: the logarithm of its chances.</summary>
    private static double WeightOfPlaying(RegionSound sound, AttemptPath attempt, double share, int notes)
    {
        ReadOnlySpan<HeardFrame> frames = sound.Frames.AsSpan(attempt.FirstFrame, attempt.EndFrame - attempt.FirstFrame);
        int half = (int)Math.Round(HalfSteadySeconds * sound.FramesPerSecond);
        (int voiced, int steady, int longest) = Steadiness(frames, half);
        double plateau = (longest + (2 * half)) / sound.FramesPerSecond;
        return (6.91 * steady / Math.Max(1, voiced)) + (4.97 * share) + (1.91 * Math.Log(plateau + 0.02)) + (1.75 * Math.Log(notes + 0.5)) - 4.27;
    }

    /// <summary>How many frames have a pitch, how many of them amid others of the same, and the longest run of those.</summary>
    private static (int Voiced, int Steady, int Longest) Steadiness(ReadOnlySpan<HeardFrame> frames, int half)
    {
        int voiced = 0, steady = 0, longest = 0, run = 0;
        for (int t = 0; t < frames.Length; t++)
        {
            voiced += frames[t].HasPitch ? 1 : 0;
            run = t >= half && t < frames.Length - half && IsSteady(frames.Slice(t - half, (2 * half) + 1)) ? run + 1 : 0;
            steady += run > 0 ? 1 : 0;
            longest = Math.Max(longest, run);
        }

        return (voiced, steady, longest);
    }

    /// <summary>Whether frames have one pitch. In noise a low note's octave is likelier now and then.</summary>
    private static bool IsSteady(ReadOnlySpan<HeardFrame> frames)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (ref readonly HeardFrame frame in frames)
        {
            if (!frame.HasPitch)
            {
                return false;
            }

            double above = Math.IEEERemainder(frame.Midi - frames[0].Midi, Octave);
            low = Math.Min(low, above);
            high = Math.Max(high, above);
        }

        return high - low < SteadySemitones;
    }
}
