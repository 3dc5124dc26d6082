using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;

namespace EarCoach.Engine;

/// <summary>Finds passages by words of their title, tags or instrument.</summary>
public static class LibrarySearch
{
    /// <summary>Whether every word of the search stands somewhere in the title, a tag or the instrument's name. Case does not matter.</summary>
    /// <param name="passage">The passage.</param>
    /// <param name="search">Words with spaces between; none finds everything.</param>
    public static bool Matches(LibraryPassage passage, string? search)
    {
        ArgumentNullException.ThrowIfNull(passage);
        string[] words = (search ?? string.Empty).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        string instrument = InstrumentTable.ById(passage.Passage.InstrumentId)?.Name ?? string.Empty;
        return words.All(word => Has(passage.Passage.Title, word) || Has(instrument, word) || passage.Tags.Any(tag => Has(tag, word)));
    }

    private static bool Has(string text, string word) => text.Contains(word, StringComparison.OrdinalIgnoreCase);
}
