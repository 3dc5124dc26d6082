namespace EarCoach.Core.Passages;

/// <summary>Some notes of a passage in a row.</summary>
/// <param name="First">Index of the first, counted from 0.</param>
/// <param name="Last">Index of the last, included.</param>
public readonly record struct NoteRange(int First, int Last)
{
    /// <summary>How many notes.</summary>
    public int Count => Last - First + 1;
}
