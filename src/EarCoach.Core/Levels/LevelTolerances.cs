using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Levels;

/// <summary>How strict the judge is for each level of player.</summary>
/// <remarks>Our choice, never finer than what the ear can measure. What it leans on: expert listeners accept intervals 20 to 25 cents off as
/// right (Vurma and Ross 2006); professional ensembles start within about 30 ms of one another (Rasch 1979). Onset limits are a share of the
/// shortest note at the tempo asked for, within bounds.</remarks>
public static class LevelTolerances
{
    /// <summary>The tolerances of a level for a passage.</summary>
    /// <param name="level">Who is playing.</param>
    /// <param name="passage">At least one note.</param>
    /// <param name="quartersPerMinute">The asked tempo; null: the passage's first.</param>
    public static Tolerances Of(PlayerLevel level, Passage passage, double? quartersPerMinute)
    {
        ArgumentNullException.ThrowIfNull(passage);
        ArgumentOutOfRangeException.ThrowIfZero(passage.Notes.Length, nameof(passage));
        double tempo = quartersPerMinute ?? passage.Tempi[0].QuartersPerMinute;

        // An ornament, which may be left out, does not make the whole passage stricter.
        IEnumerable<PassageNote> counting = passage.Notes.Any(note => note.Required) ? passage.Notes.Where(note => note.Required) : passage.Notes;
        double shortestMs = counting.Min(note => note.Length.ToDouble()) * 60_000 / tempo;
        return level switch
        {
            PlayerLevel.Beginner => Make(null, Math.Clamp(0.35 * shortestMs, 60, 120), 100, 0.10),
            PlayerLevel.Amateur => Make(40, Math.Clamp(0.30 * shortestMs, 50, 100), 60, 0.08),
            PlayerLevel.Advanced => Make(25, Math.Clamp(0.25 * shortestMs, 40, 70), 40, 0.05),
            PlayerLevel.Professional => Make(15, Math.Clamp(0.20 * shortestMs, 30, 50), 30, 0.03),
            _ => throw new ArgumentOutOfRangeException(nameof(level), level, "No such level."),
        };
    }

    private static Tolerances Make(double? cents, double onsetMs, double crackMs, double tempoShare) =>
        new() { Cents = cents, OnsetMs = Math.Round(onsetMs), CrackMs = crackMs, TempoShare = tempoShare };
}
