namespace EarCoach.Core.Judging;

/// <summary>What the decoder says of a stretch of frames.</summary>
internal enum Activity
{
    /// <summary>Nothing is played: before note Index, or after the last.</summary>
    Rest,

    /// <summary>Note Index sounds near its target.</summary>
    Note,

    /// <summary>A short hole within note Index.</summary>
    Hole,

    /// <summary>Another pitch sounds where note Index is due.</summary>
    Other,
}

/// <summary>A stretch of frames with one activity.</summary>
/// <param name="Activity">What goes on.</param>
/// <param name="Index">The note of the task; for a rest, the note that is due next.</param>
/// <param name="Midi">For another pitch: its semitone.</param>
/// <param name="FirstFrame">First frame of the stretch.</param>
/// <param name="EndFrame">The frame after the last.</param>
internal readonly record struct PathStep(Activity Activity, int Index, int Midi, int FirstFrame, int EndFrame)
{
    /// <summary>Fewer frames are not taken for a note.</summary>
    public const int LeastFrames = 5;

    /// <summary>Whether something of the passage, or in its place, is heard.</summary>
    public bool Sounds => Activity is Activity.Note or Activity.Other;

    /// <summary>How many frames it lasts.</summary>
    public int Frames => EndFrame - FirstFrame;
}
