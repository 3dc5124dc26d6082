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
    /// <summary>How many trouble spots are drilled unless told otherwise.</summary>
    public const int UsualSpots = 3;

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
            Words("direction", "Grows", "forward", [new("forward", "Forward"), new("backward", "Backward"), new("outward", "Both ways")]),
            Words("unit", "By", "note", [new("note", "Note"), new("beat", "Beat"), new("bar", "Bar")]),
            new PageNumber { Id = "fromNote", Name = "From note number", Least = 1, Most = 100_000, Step = 1, Empty = "the first" },
        ]),
        Choice(DrillKind.RhythmVariants, "The whole passage in other rhythms, then the next tempo.", TimingMode.Rhythm,
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
            Whole("spots", "How many notes", UsualSpots, 1, 20),
        ]),
    ];

    /// <summary>A drill with its usual numbers.</summary>
    public static DrillPlan Usual(DrillKind kind) => kind switch
    {
        DrillKind.Chain => _chain,
        DrillKind.RhythmVariants => _rhythm,
        DrillKind.TempoLadder => _ladder,
        DrillKind.Proof => _proof,
        DrillKind.ColdTake => new ColdTakePlan(),
        DrillKind.Rotation => _rotation,
        DrillKind.TroubleSpot => _trouble,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of drill."),
    };

    /// <summary>The numbers of a plan as the page asks for them, each with the value now in force.</summary>
    public static IReadOnlyList<PageNumber> NumbersOf(DrillPlan plan)
    {
        Dictionary<string, object?> now = plan switch
        {
            ChainPlan chain => new() { ["cleanInARow"] = chain.CleanInARow, ["direction"] = WordOf(chain.Direction), ["unit"] = WordOf(chain.Unit), ["fromNote"] = chain.FromNote + 1 },
            RhythmPlan rhythm => new()
            {
                ["cleanInARow"] = rhythm.CleanInARow,
                ["variants"] = WordOf(rhythm.Variants),
                ["scaling"] = rhythm.Scalings.Length > 1 ? "both" : rhythm.Scalings[0] == VariantScaling.ShortsAtTarget ? "shorts-at-target" : "equal-total",
                ["startShare"] = PercentOf(rhythm.StartShare),
                ["tempi"] = rhythm.Tempi,
                ["endAsWritten"] = rhythm.EndAsWritten ? "yes" : "no",
            },
            LadderPlan ladder => new()
            {
                ["cleanInARow"] = ladder.CleanInARow,
                ["startShare"] = PercentOf(ladder.StartShare),
                ["notchShare"] = PercentOf(ladder.NotchShare),
                ["notchesBeyond"] = ladder.NotchesBeyond,
                ["dropMisses"] = ladder.DropMisses,
                ["dropWindow"] = ladder.DropWindow,
            },
            ProofPlan proof => new() { ["sets"] = proof.Sets, ["cleanInARow"] = proof.CleanInARow },
            RotationPlan rotation => new() { ["attemptsEach"] = rotation.AttemptsEach, ["rounds"] = rotation.Rounds },
            TroubleSpotPlan trouble => new() { ["cleanInARow"] = trouble.CleanInARow, ["neighbours"] = trouble.Neighbours, ["spots"] = trouble.Spots.Length },
            _ => [],
        };
        now["goal"] = plan.GoalQuartersPerMinute;
        return [.. All.First(choice => choice.Id == DrillKindNames.Of(plan.Kind)).Numbers.Select(number => number with { Value = now[number.Id] })];
    }

    /// <summary>A plan with what was chosen changed in it. Whether it can be played is for the session to say.</summary>
    /// <param name="plan">The numbers before.</param>
    /// <param name="numbers">What was changed of them.</param>
    /// <param name="spots">The notes most often faulty, worst first, at most so many.</param>
    public static DrillPlan Changed(DrillPlan plan, ChosenNumbers numbers, Func<int, ImmutableArray<int>> spots)
    {
        DrillPlan changed = plan switch
        {
            ChainPlan chain => chain with
            {
                CleanInARow = numbers.Whole("cleanInARow", chain.CleanInARow),
                Direction = numbers.Choice("direction") switch { null => chain.Direction, "backward" => ChainDirection.Backward, "outward" => ChainDirection.Outward, _ => ChainDirection.Forward },
                Unit = numbers.Choice("unit") switch { null => chain.Unit, "beat" => ChainUnit.Beat, "bar" => ChainUnit.Bar, _ => ChainUnit.Note },
                FromNote = numbers.Number("fromNote", chain.FromNote + 1) is null ? null : numbers.Whole("fromNote", chain.FromNote + 1 ?? 1) - 1,
            },
            RhythmPlan rhythm => rhythm with
            {
                CleanInARow = numbers.Whole("cleanInARow", rhythm.CleanInARow),
                Variants = numbers.Choice("variants") switch
                {
                    null => rhythm.Variants,
                    "usual" => _rhythm.Variants,
                    "all" => [.. RhythmVariants.All.Select(variant => variant.Code)],
                    string code => [code],
                },
                EndAsWritten = numbers.Choice("endAsWritten") switch { null => rhythm.EndAsWritten, string word => word != "no" },
                Scalings = numbers.Choice("scaling") switch
                {
                    null => rhythm.Scalings,
                    "shorts-at-target" => [VariantScaling.ShortsAtTarget],
                    "both" => [VariantScaling.EqualTotal, VariantScaling.ShortsAtTarget],
                    _ => [VariantScaling.EqualTotal],
                },
                StartShare = Share(numbers, "startShare", rhythm.StartShare),
                Tempi = numbers.Whole("tempi", rhythm.Tempi),
            },
            LadderPlan ladder => ladder with
            {
                CleanInARow = numbers.Whole("cleanInARow", ladder.CleanInARow),
                StartShare = Share(numbers, "startShare", ladder.StartShare),
                NotchShare = Share(numbers, "notchShare", ladder.NotchShare),
                NotchesBeyond = numbers.Whole("notchesBeyond", ladder.NotchesBeyond),
                DropMisses = numbers.Whole("dropMisses", ladder.DropMisses),
                DropWindow = numbers.Whole("dropWindow", ladder.DropWindow),
            },
            ProofPlan proof => proof with
            {
                Sets = numbers.Whole("sets", proof.Sets),
                CleanInARow = numbers.Whole("cleanInARow", proof.CleanInARow),
            },
            RotationPlan rotation => rotation with
            {
                AttemptsEach = numbers.Whole("attemptsEach", rotation.AttemptsEach),
                Rounds = numbers.Whole("rounds", rotation.Rounds),
            },
            TroubleSpotPlan trouble => trouble with
            {
                CleanInARow = numbers.Whole("cleanInARow", trouble.CleanInARow),
                Neighbours = numbers.Whole("neighbours", trouble.Neighbours),
                Spots = numbers.Number("spots", null) is null ? trouble.Spots : spots(numbers.Whole("spots", trouble.Spots.Length)),
            },
            _ => plan,
        };
        return changed with { GoalQuartersPerMinute = numbers.Number("goal", plan.GoalQuartersPerMinute) };
    }

    private static PageDrillChoice Choice(DrillKind kind, string about, TimingMode timing, IEnumerable<PageNumber> numbers) =>
        new(DrillKindNames.Of(kind), DrillWording.NameOf(kind), about, TimingNames.Of(timing), [.. numbers, Goal]);

    private static PageNumber Goal => new() { Id = "goal", Name = "Goal tempo, quarters a minute", Least = 5, Most = 1000, Step = 1, Empty = "as written" };

    private static PageNumber Whole(string id, string name, int usual, int least, int most) =>
        new() { Id = id, Name = name, Value = usual, Least = least, Most = most, Step = 1 };

    private static PageNumber Percent(string id, string name, double usualShare, double least, double most, double step = 1) =>
        new() { Id = id, Name = name, Value = PercentOf(usualShare), Least = least, Most = most, Step = step };

    private static PageNumber Words(string id, string name, string usual, IReadOnlyList<PageChoice> choices) =>
        new() { Id = id, Name = name, Value = usual, Choices = choices };

    private static double PercentOf(double share) => Math.Round(share * 100, 1);

    private static string WordOf(ChainDirection direction) => direction switch { ChainDirection.Backward => "backward", ChainDirection.Outward => "outward", _ => "forward" };

    private static string WordOf(ChainUnit unit) => unit switch { ChainUnit.Beat => "beat", ChainUnit.Bar => "bar", _ => "note" };

    private static string WordOf(ImmutableArray<string> variants) =>
        variants is [string only] ? only : variants.Length == RhythmVariants.All.Length ? "all" : "usual";

    private static double Share(ChosenNumbers numbers, string id, double usual) => (numbers.Number(id, null) ?? usual * 100) / 100;
}
