using EarCoach.App.Web.Messages;
using EarCoach.Core.Judging;
using EarCoach.Core.Levels;
using EarCoach.Engine.Ports;

namespace EarCoach.App.Web.Practice;

/// <summary>How strictly one can be judged, as the page offers it.</summary>
internal static class StrictnessCatalogue
{
    private static readonly IReadOnlyList<(PlayerLevel Level, string Id, string Name, string About)> _levels =
    [
        (PlayerLevel.Beginner, "beginner", "First years", "The right notes; time with room to breathe."),
        (PlayerLevel.Amateur, "amateur", "For pleasure", "Notes within 40 cents, cracks up to 60 ms forgiven."),
        (PlayerLevel.Advanced, "advanced", "Conservatoire", "Notes within 25 cents, cracks up to 40 ms forgiven."),
        (PlayerLevel.Professional, "professional", "Audition", "Notes within 15 cents, cracks up to 30 ms forgiven."),
    ];

    /// <summary>All levels for a passage: the time limits depend on its shortest note, and a passage may have limits of its own.</summary>
    public static IReadOnlyList<PageStrictnessChoice> For(LibraryPassage passage) => [.. _levels.Select(level =>
        new PageStrictnessChoice(level.Id, level.Name, level.About, level.Level == PlayerLevel.Amateur, NumbersOf(UsualFor(level.Level, passage, null))))];

    /// <summary>The tolerances that were chosen.</summary>
    /// <param name="strictnessId">Id of a level.</param>
    /// <param name="numbers">What was changed of its numbers.</param>
    /// <param name="passage">The passage.</param>
    /// <param name="quartersPerMinute">The goal tempo; null: the passage's own.</param>
    /// <param name="usualTiming">How the drill usually judges time.</param>
    public static Tolerances TolerancesOf(string strictnessId, ChosenNumbers numbers, LibraryPassage passage, double? quartersPerMinute, TimingMode usualTiming)
    {
        int index = _levels.ToList().FindIndex(level => level.Id == strictnessId);
        if (index < 0)
        {
            throw new SetupException($"The strictness '{strictnessId}' is not known; choose one of {string.Join(", ", _levels.Select(level => level.Id))}.");
        }

        return Changed(UsualFor(_levels[index].Level, passage, quartersPerMinute) with { Timing = usualTiming }, numbers);
    }

    /// <summary>The numbers of tolerances as the page asks for them.</summary>
    public static IReadOnlyList<PageNumber> NumbersOf(Tolerances now) =>
    [
        new() { Id = "cents", Name = "Pitch, cents", Value = now.Cents, Least = 5, Most = 100, Step = 1, Empty = "semitone only" },
        new() { Id = "crackMs", Name = "Cracks forgiven, ms", Value = now.CrackMs, Least = 0, Most = 500, Step = 1 },
        new()
        {
            Id = "timing",
            Name = "Time",
            Value = TimingNames.Of(now.Timing),
            Choices = [new("off", "Not judged"), new("fitted", "Your own even tempo"), new("strict", "The beat"), new("rhythm", "Long against short")],
        },
        new() { Id = "onsetMs", Name = "Onsets, ms", Value = now.OnsetMs, Least = 10, Most = 500, Step = 1 },
        new() { Id = "tempoPercent", Name = "Tempo, %", Value = Math.Round(now.TempoShare * 100), Least = 1, Most = 50, Step = 1 },
    ];

    /// <summary>Tolerances with what was chosen changed in them.</summary>
    public static Tolerances Changed(Tolerances before, ChosenNumbers numbers) => before with
    {
        Cents = Within("Cents", numbers.Number("cents", before.Cents), 5, 100),
        OnsetMs = Within("Onset", numbers.Number("onsetMs", before.OnsetMs) ?? before.OnsetMs, 10, 500)!.Value,
        CrackMs = Within("Cracks forgiven", numbers.Number("crackMs", before.CrackMs) ?? before.CrackMs, 0, 500)!.Value,
        TempoShare = Within("Tempo", (numbers.Number("tempoPercent", null) ?? before.TempoShare * 100) / 100, 0.01, 0.5)!.Value,
        Timing = TimingNames.Parse(numbers.Choice("timing")) ?? before.Timing,
    };

    private static Tolerances UsualFor(PlayerLevel level, LibraryPassage passage, double? quartersPerMinute)
    {
        Tolerances usual = LevelTolerances.Of(level, passage.Passage, quartersPerMinute);
        return passage.Strictness?.Over(usual) ?? usual;
    }

    private static double? Within(string what, double? value, double least, double most) => value is { } given && !(given >= least && given <= most)
        ? throw new SetupException($"{what} is {given}; give {least} to {most}.")
        : value;
}
