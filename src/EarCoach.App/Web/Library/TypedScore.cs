using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Core.Passages;
using EarCoach.Scores.Typed;

namespace EarCoach.App.Web.Library;

/// <summary>Reads a passage that the player typed.</summary>
internal static class TypedScore
{
    private const double UsualTempo = 80;

    /// <summary>The passage, for the instrument that was chosen.</summary>
    /// <exception cref="Scores.ScoreException">The notes cannot be read.</exception>
    /// <exception cref="SetupException">There is no such instrument or crook.</exception>
    public static Passage Read(PageTyped typed)
    {
        Passage passage = TypedPassageReader.Read(typed.Text ?? string.Empty, new TypedReadOptions
        {
            Title = string.IsNullOrWhiteSpace(typed.Title) ? "Typed passage" : typed.Title.Trim(),
            Beats = typed.Beats ?? 4,
            BeatType = typed.BeatType ?? 4,
            KeyFifths = typed.KeyFifths ?? 0,
            QuartersPerMinute = typed.QuartersPerMinute ?? UsualTempo,
            FirstBarNumber = typed.FirstBar ?? 1,
        });
        PartChoice part = PartChoice.Of(typed.InstrumentId, typed.CrookId);
        return typed.IsWritten
            ? PartInstrument.KeepWritten(passage, part.Instrument, part.Transposition)
            : PartInstrument.KeepSounding(passage, part.Instrument, part.Transposition);
    }
}
