namespace EarCoach.Core.Passages;

/// <summary>Which notes of a passage a rhythm variant takes.</summary>
public enum VariantScope
{
    /// <summary>Runs of notes that follow one another evenly; the others keep their rhythm.</summary>
    EvenRuns,

    /// <summary>All notes, as if they were even, each as long as the note value that is most frequent.</summary>
    AllNotes,
}
