using System.Collections.Immutable;
using EarCoach.App.Web.Messages;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Wording;

namespace EarCoach.App.Web.Practice;

/// <summary>The drills as the page offers them, and the plan that follows from what was chosen.</summary>
internal static class DrillCatalogue
{
    private static readonly ChainPlan _chain = new();
    private static readonly RhythmPlan _rhythm = new();
    private static readonly LadderPlan _ladder = new();
    private static readonly ProofPlan _proof = new();
    private static readonly RotationPlan _rotation = new();
    private static readonly TroubleSpotPlan _trouble = new() { Spots = [0] };

    /// <summary>All drills, in the order in which a passage goes through them.</summary>
    public static IReadOnlyList<PageDrillChoice> All { get; } =
    [
        Choice(DrillKind.Chain, "One note, then two, then three: each length clean before the next.", TimingMode.Off,
        [
            Whole("cleanInARow", "Clean in a row", _chain.CleanInARow, 1, 50),
            Words("direction", "Grows", "forward", [new("forward", "Forward"), new("backward", "Backward")]),
            Words("unit", "By", "note", [new("note", "Note"), new("beat", "Beat"), new("bar", "Bar")]),
            new PageNumber { Id = "fromNote", Name = "From note number", Least = 1, Most = 100_000, Step = 1, Empty = "the first" },
        ]),
        Choice(DrillKind.RhythmVariants, "The whole passage in other rhythms, then the next tempo.", TimingMode.Fitted,
        [
            Whole("cleanInARow", "Clean in a row", _rhythm.CleanInARow, 1, 50),
            Words("variants", "Rhythms", "usual", [new("usual", "The usual ones"), new("all", "All of them"), .. RhythmVariants.All.Select(variant => new PageChoice(variant.Code, $"Only {variant.Code}: {variant.Name}"))]),
            Words("scaling", "Speed of the short notes", "equal-total", [new("equal-total", "Quicker than written"), new("shorts-at-target", "As written"), new("both", "Both in turn")]),
            Percent("startShare", "First tempo, % of goal", _rhythm.StartShare, 20, 100),
            Whole("tempi", "Tempi up to the goal", _rhythm.Tempi, 1, 40),
            Words("endAsWritten", "Each tempo ends as written", "yes", [new("yes", "Yes"), new("no", "No")]),
        ]),
        Choice(DrillKind.TempoLadder, "From slow up to the goal in small steps; misses step down.", TimingMode.Fitted,
        [
            Whole("cleanInARow", "Clean in a row", _ladder.CleanInARow, 1, 50),
            Percent("startShare", "First tempo, % of goal", _ladder.StartShare, 20, 100),
            Percent("notchShare", "Step, %", _ladder.NotchShare, 0.5, 25, step: 0.5),
            Whole("notchesBeyond", "Steps above the goal", _ladder.NotchesBeyond, 0, 10),
            Whole("dropMisses", "Misses that step down", _ladder.DropMisses, 0, 30),
            Whole("dropWindow", "Among the last", _ladder.DropWindow, 1, 30),
        ]),
        Choice(DrillKind.Proof, "Sets of clean play-throughs. A miss empties the set; finished sets keep their seal.", TimingMode.Fitted,
        [
            Whole("sets", "Sets", _proof.Sets, 1, 30),
            Whole("cleanInARow", "Clean in a row", _proof.CleanInARow, 1, 50),
        ]),
        Choice(DrillKind.ColdTake, "The first play-through of the day, once, kept apart.", TimingMode.Fitted, []),
        Choice(DrillKind.Rotation, "This passage and the others for the same instrument, in turn.", TimingMode.Fitted,
        [
            Whole("attemptsEach", "Attempts each", _rotation.AttemptsEach, 1, 50),
            Whole("rounds", "Rounds", _rotation.Rounds, 1, 50),
        ]),
        Choice(DrillKind.TroubleSpot, "The notes you missed most often, each with its neighbours.", TimingMode.Off,
        [
            Whole("cleanInARow", "Clean in a row", _trouble.CleanInARow, 1, 50),
            Whole("neighbours", "Neighbours on each side", _trouble.Neighbours, 1, 20),
            Whole("spots", "How many notes", 3, 1, 20),
        ]),
    ];

    /// <summary>The plan that was chosen. Whether it can be played is for the session to say.</summary>
    /// <param name="kind">Which drill.</param>
    /// <param name="numbers">What was changed of its numbers.</param>
    /// <param name="tolerances">How strictly.</param>
    /// <param name="spots">The notes most often faulty, worst first.</param>
    public static DrillPlan PlanOf(DrillKind kind, ChosenNumbers numbers, Tolerances tolerances, Func<int, ImmutableArray<int>> spots)
    {
        DrillPlan plan = kind switch
        {
            DrillKind.Chain => new ChainPlan
            {
                CleanInARow = numbers.Whole("cleanInARow", _chain.CleanInARow),
                Direction = numbers.Choice("direction", "forward") == "backward" ? ChainDirection.Backward : ChainDirection.Forward,
                Unit = numbers.Choice("unit", "note") switch { "beat" => ChainUnit.Beat, "bar" => ChainUnit.Bar, _ => ChainUnit.Note },
                FromNote = numbers.Number("fromNote", null) is null ? null : numbers.Whole("fromNote", 1) - 1,
            },
            DrillKind.RhythmVariants => new RhythmPlan
            {
                CleanInARow = numbers.Whole("cleanInARow", _rhythm.CleanInARow),
                Variants = numbers.Choice("variants", "usual") switch
                {
                    "usual" => _rhythm.Variants,
                    "all" => [.. RhythmVariants.All.Select(variant => variant.Code)],
                    string code => [code],
                },
                EndAsWritten = numbers.Choice("endAsWritten", "yes") != "no",
                Scalings = numbers.Choice("scaling", "equal-total") switch
                {
                    "shorts-at-target" => [VariantScaling.ShortsAtTarget],
                    "both" => [VariantScaling.EqualTotal, VariantScaling.ShortsAtTarget],
                    _ => [VariantScaling.EqualTotal],
                },
                StartShare = Share(numbers, "startShare", _rhythm.StartShare),
                Tempi = numbers.Whole("tempi", _rhythm.Tempi),
            },
            DrillKind.TempoLadder => new LadderPlan
            {
                CleanInARow = numbers.Whole("cleanInARow", _ladder.CleanInARow),
                StartShare = Share(numbers, "startShare", _ladder.StartShare),
                NotchShare = Share(numbers, "notchShare", _ladder.NotchShare),
                NotchesBeyond = numbers.Whole("notchesBeyond", _ladder.NotchesBeyond),
                DropMisses = numbers.Whole("dropMisses", _ladder.DropMisses),
                DropWindow = numbers.Whole("dropWindow", _ladder.DropWindow),
            },
            DrillKind.Proof => new ProofPlan
            {
                Sets = numbers.Whole("sets", _proof.Sets),
                CleanInARow = numbers.Whole("cleanInARow", _proof.CleanInARow),
            },
            DrillKind.ColdTake => new ColdTakePlan(),
            DrillKind.Rotation => new RotationPlan
            {
                AttemptsEach = numbers.Whole("attemptsEach", _rotation.AttemptsEach),
                Rounds = numbers.Whole("rounds", _rotation.Rounds),
            },
            DrillKind.TroubleSpot => new TroubleSpotPlan
            {
                CleanInARow = numbers.Whole("cleanInARow", _trouble.CleanInARow),
                Neighbours = numbers.Whole("neighbours", _trouble.Neighbours),
                Spots = spots(numbers.Whole("spots", 3)),
            },
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of drill."),
        };
        return plan with { Tolerances = tolerances, GoalQuartersPerMinute = numbers.Number("goal", null) };
    }

    private static PageDrillChoice Choice(DrillKind kind, string about, TimingMode timing, IEnumerable<PageNumber> numbers) =>
        new(DrillKindNames.Of(kind), DrillWording.NameOf(kind), about, TimingNames.Of(timing), [.. numbers, Goal]);

    private static PageNumber Goal => new() { Id = "goal", Name = "Goal tempo, quarters a minute", Least = 5, Most = 1000, Step = 1, Empty = "as written" };

    private static PageNumber Whole(string id, string name, int usual, int least, int most) =>
        new() { Id = id, Name = name, Value = usual, Least = least, Most = most, Step = 1 };

    private static PageNumber Percent(string id, string name, double usualShare, double least, double most, double step = 1) =>
        new() { Id = id, Name = name, Value = Math.Round(usualShare * 100, 1), Least = least, Most = most, Step = step };

    private static PageNumber Words(string id, string name, string usual, IReadOnlyList<PageChoice> choices) =>
        new() { Id = id, Name = name, Value = usual, Choices = choices };

    private static double Share(ChosenNumbers numbers, string id, double usual) => (numbers.Number(id, null) ?? usual * 100) / 100;
}
