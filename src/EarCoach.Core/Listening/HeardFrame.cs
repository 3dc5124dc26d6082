namespace EarCoach.Core.Listening;

/// <summary>What was heard around one moment.</summary>
public struct HeardFrame
{
#pragma warning disable CA1051 // Plain fields: frames are written in place, thousands a minute, and never copied to be changed.
    /// <summary>Pitch candidates, likeliest first; only the first <see cref="CandidateCount"/> are set.</summary>
    public CandidateSet Candidates;

    /// <summary>How many candidates there are.</summary>
    public int CandidateCount;

    /// <summary>Centre of the frame on the capture clock, in samples.</summary>
    public long CentreSample;

    /// <summary>Root-mean-square level of the few milliseconds around the centre, in dB relative to full scale; -120 at least.</summary>
    public float LevelDbfs;

    /// <summary>Noise floor as known at this frame, in dB relative to full scale.</summary>
    public float FloorDbfs;

    /// <summary>Whether samples were lost within this frame.</summary>
    public bool Broken;

    /// <summary>Whether the frame holds the program's own cue.</summary>
    public bool Deaf;
#pragma warning restore CA1051

    /// <summary>Clarity of the likeliest candidate; 0 when there is none.</summary>
    public readonly float Clarity => CandidateCount > 0 ? Candidates[0].Clarity : 0f;

    /// <summary>Pitch of the likeliest candidate as a fractional MIDI number; NaN when there is none.</summary>
    public readonly float Midi => CandidateCount > 0 ? Candidates[0].Midi : float.NaN;

    /// <summary>How far the level stands above the noise floor, in dB.</summary>
    public readonly float AboveFloorDb => LevelDbfs - FloorDbfs;

    /// <summary>Whether something with a plain pitch is heard, louder than the room.</summary>
    public readonly bool HasPitch => Clarity > 0.6f && AboveFloorDb > 7f;
}
