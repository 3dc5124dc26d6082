using EarCoach.App.Web.Practice;
using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Library;

/// <summary>An instrument and, for a horn, the crook of its part, as the page names them.</summary>
/// <param name="Instrument">Null: not known.</param>
/// <param name="Crook">Null: the instrument's own transposition.</param>
internal sealed record PartChoice(Instrument? Instrument, HornCrook? Crook)
{
    private const string Horn = "horn-f";

    /// <summary>What the part's notes are transposed by; null: as is usual for the instrument.</summary>
    public Transposition? Transposition => Crook?.Transposition;

    /// <summary>Finds what the page named.</summary>
    /// <exception cref="SetupException">There is no such instrument or crook, or the instrument has no crooks.</exception>
    public static PartChoice Of(string? instrumentId, string? crookId)
    {
        Instrument? instrument = string.IsNullOrEmpty(instrumentId)
            ? null
            : InstrumentTable.ById(instrumentId) ?? throw new SetupException($"The instrument '{instrumentId}' is not known. Choose one of the list.");
        if (string.IsNullOrEmpty(crookId))
        {
            return new PartChoice(instrument, null);
        }

        if (!HasCrooks(instrument))
        {
            throw new SetupException($"Only a horn part has a crook; the instrument is {instrument?.Name ?? "not known"}. Choose the horn first.");
        }

        return new PartChoice(instrument, CrookOf(crookId));
    }

    /// <summary>The crook of that id.</summary>
    /// <exception cref="SetupException">There is none.</exception>
    public static HornCrook CrookOf(string crookId) => HornCrooks.All.FirstOrDefault(crook => crook.Id == crookId)
        ?? throw new SetupException($"The crook '{crookId}' is not known; there are {string.Join(", ", HornCrooks.All.Select(crook => crook.Id))}.");

    /// <summary>Whether older parts of an instrument name a crook.</summary>
    public static bool HasCrooks(Instrument? instrument) => instrument?.Id == Horn;
}
