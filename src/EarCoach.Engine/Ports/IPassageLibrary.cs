namespace EarCoach.Engine.Ports;

/// <summary>The player's passages. What a member has returned from is on the disk. Any thread.</summary>
public interface IPassageLibrary
{
    /// <summary>All passages that are not deleted, by title.</summary>
    IReadOnlyList<LibraryPassage> All();

    /// <summary>A passage; null when there is none of that name, or it is deleted.</summary>
    LibraryPassage? Find(Guid id);

    /// <summary>Adds a passage, or replaces the one of the same name; a replacement can be taken back.</summary>
    void Save(LibraryPassage passage);

    /// <summary>Deletes a passage; what was practised on it is kept, and <see cref="Restore"/> brings it back.</summary>
    /// <returns>False where there was none.</returns>
    bool Delete(Guid id);

    /// <summary>Brings a deleted passage back.</summary>
    /// <returns>False where there was none.</returns>
    bool Restore(Guid id);

    /// <summary>The newest change (an edit or a deletion) that was not taken back; null when there is none left.</summary>
    LibraryChange? NewestChange();

    /// <summary>Takes a change back: the passage is again what it was before.</summary>
    /// <param name="number">Of the change, which must be the newest.</param>
    /// <returns>False where it is not the newest change any more, or was taken back.</returns>
    bool Undo(long number);
}
