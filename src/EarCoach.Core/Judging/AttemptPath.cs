namespace EarCoach.Core.Judging;

/// <summary>The decoder's account of one attempt.</summary>
internal sealed class AttemptPath
{
    private AttemptPath(IReadOnlyList<PathStep> steps, int noteCount)
    {
        Steps = steps;
        PathStep[] sounding = [.. steps.Where(s => s.Sounds)];
        FirstFrame = sounding.Length > 0 ? sounding[0].FirstFrame : steps[0].FirstFrame;
        EndFrame = sounding.Length > 0 ? sounding[^1].EndFrame : steps[^1].EndFrame;
        FirstIndex = sounding.Length > 0 ? sounding[0].Index : 0;
        LastIndex = sounding.Length > 0 ? sounding[^1].Index : -1;
        NoteCount = noteCount;
    }

    public IReadOnlyList<PathStep> Steps { get; }

    public int NoteCount { get; }

    public int FirstFrame { get; }

    public int EndFrame { get; }

    /// <summary>The first note that sounded.</summary>
    public int FirstIndex { get; }

    /// <summary>The last note that sounded; -1 when none did.</summary>
    public int LastIndex { get; }

    /// <summary>The last note that sounded long enough to be told; -1 when none did.</summary>
    public int LastHeard => Enumerable.Range(0, NoteCount).LastOrDefault(Heard, -1);

    /// <summary>
    /// The note that the attempt has come to: the last that was heard, or one of the same pitch after it where that lasted so long that it may
    /// be several.
    /// </summary>
    /// <param name="targets">The task.</param>
    /// <param name="framesPerSecond">Frames in a second.</param>
    public int Reached(IReadOnlyList<TargetNote> targets, double framesPerSecond)
    {
        int heard = LastHeard;
        int last = heard;
        double seconds = heard < 0 ? 0 : Of(heard).Where(s => s.Sounds).Sum(s => s.Frames) / framesPerSecond;
        while (last >= 0 && last + 1 < NoteCount && Math.Abs(targets[last + 1].Midi - targets[heard].Midi) < 0.5
            && seconds > targets[last + 1].OnsetSeconds - targets[heard].OnsetSeconds + (0.5 * targets[last + 1].LengthSeconds))
        {
            last++;
        }

        return last;
    }

    public bool Sounds => LastIndex >= 0;

    /// <summary>Whether the last note sounds, and not for a moment only.</summary>
    public bool ReachesEnd => LastIndex == NoteCount - 1 && Heard(LastIndex);

    /// <summary>Whether each note sounds long enough to be told.</summary>
    public bool SoundsEveryNote => Enumerable.Range(0, NoteCount).All(Heard);

    /// <summary>How many notes sound long enough to be told.</summary>
    public int SoundingNotes => Enumerable.Range(0, NoteCount).Count(Heard);

    /// <summary>Whether a note, or something in its place, sounds long enough to be told.</summary>
    public bool Heard(int index) => Of(index).Where(s => s.Sounds).Sum(s => s.Frames) >= PathStep.LeastFrames;

    public IEnumerable<PathStep> Of(int index) => Steps.Where(s => s.Index == index && s.Activity != Activity.Rest);

    /// <summary>The tempo of the notes from one on, by where the decoder has them begin; null when none of them sounds.</summary>
    /// <param name="targets">When they are due.</param>
    /// <param name="sound">The region.</param>
    /// <param name="fromIndex">The first note that counts.</param>
    public TempoLine? TempoOf(TargetNote[] targets, RegionSound sound, int fromIndex = 0)
    {
        var due = new List<double>();
        var onsets = new List<double>();
        for (int i = fromIndex; i < targets.Length; i++)
        {
            if (Of(i).Where(s => s.Sounds).Select(s => (int?)s.FirstFrame).FirstOrDefault() is { } frame)
            {
                due.Add(targets[i].OnsetSeconds);
                onsets.Add(sound.SecondsOfFrame(frame));
            }
        }

        return TempoLine.Fit([.. due], [.. onsets]);
    }

    /// <summary>The same attempt with another account of its steps.</summary>
    public AttemptPath With(IReadOnlyList<PathStep> steps) => new(steps, NoteCount);

    /// <summary>Cuts a path where the passage is begun again.</summary>
    public static List<AttemptPath> Split(IReadOnlyList<PathStep> steps, int noteCount)
    {
        var attempts = new List<AttemptPath>();
        var current = new List<PathStep>();
        foreach (PathStep step in steps)
        {
            if (current.Count > 0 && step.Index < current[^1].Index)
            {
                attempts.Add(new AttemptPath(current, noteCount));
                current = [];
            }

            current.Add(step);
        }

        if (current.Count > 0)
        {
            attempts.Add(new AttemptPath(current, noteCount));
        }

        attempts.RemoveAll(a => !a.Sounds);
        return attempts;
    }
}
