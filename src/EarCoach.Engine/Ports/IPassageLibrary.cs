namespace EarCoach.Engine.Ports;

/// <summary>The player's passages. What a member has returned from is on the disk. Any thread.</summary>
public interface IPassageLibrary
{
    /// <summary>All passages that are not deleted, by title.</summary>
    IReadOnlyList<LibraryPassage> All();

    /// <summary>A passage; null when there is none of that name, or it is deleted.</summary>
    LibraryPassage? Find(Guid id);

    /// <summary>Adds a passage, or replaces the one of the same name.</summary>
    void Save(LibraryPassage passage);

    /// <summary>Deletes a passage; what was practised on it is kept, and <see cref="Restore"/> brings it back.</summary>
    /// <returns>False where there was none.</returns>
    bool Delete(Guid id);

    /// <summary>Brings a deleted passage back.</summary>
    /// <returns>False where there was none.</returns>
    bool Restore(Guid id);
}
