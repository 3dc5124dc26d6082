using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using EarCoach.Core.Drills;
using EarCoach.Core.Passages;

namespace EarCoach.App.Commands;

/// <summary>The options for the numbers of each drill, and the plan that follows from them.</summary>
internal sealed class DrillNumbers
{
    private readonly List<(Option Option, DrillKind[] Kinds)> _all = [];
    private readonly Option<int?> _clean;
    private readonly Option<int?> _sets;
    private readonly Option<string?> _direction;
    private readonly Option<string?> _unit;
    private readonly Option<int?> _from;
    private readonly Option<bool> _holdLast;
    private readonly Option<string?> _variants;
    private readonly Option<string?> _scaling;
    private readonly Option<double?> _start;
    private readonly Option<int?> _tempi;
    private readonly Option<double?> _notch;
    private readonly Option<int?> _beyond;
    private readonly Option<int?> _dropMisses;
    private readonly Option<int?> _dropWindow;
    private readonly Option<int?> _attempts;
    private readonly Option<int?> _rounds;
    private readonly Option<string?> _spots;
    private readonly Option<int?> _neighbours;

    public DrillNumbers()
    {
        DrillKind[] byStages = [DrillKind.Chain, DrillKind.RhythmVariants, DrillKind.TempoLadder, DrillKind.Proof, DrillKind.TroubleSpot];
        _clean = Number<int?>("--clean", "Clean attempts running that pass a stage or finish a set. Default 3; rhythm variants 1.", "N", 1, 50, byStages);
        _sets = Number<int?>("--sets", "Sets. Default 3.", "N", 1, 30, DrillKind.Proof);
        _direction = Word("--direction", "Which way the chain grows. Default forward.", ["forward", "backward", "outward"], DrillKind.Chain);
        _unit = Word("--unit", "What the chain grows by. Default note.", ["note", "beat", "bar"], DrillKind.Chain);
        _from = Number<int?>("--from", "The note the chain starts from, counted from 1. Default: the first, or the last when it grows backward.", "N", 1, 100_000, DrillKind.Chain);
        _holdLast = Add(new Option<bool>("--hold-last") { Description = "The last note of each length is held." }, DrillKind.Chain);
        _variants = Add(new Option<string?>("--variants") { Description = "Which rhythms, for example 2a,2b,3a; all: every one.", HelpName = "CODES" }, DrillKind.RhythmVariants);
        _scaling = Word("--scaling", "Short notes quicker than written, or as written and the long ones longer. Default equal-total.", ["equal-total", "shorts-at-target", "both"], DrillKind.RhythmVariants);
        _start = Number<double?>("--start", "First tempo, in per cent of the goal. Default 67.", "PERCENT", 20, 100, DrillKind.RhythmVariants, DrillKind.TempoLadder);
        _tempi = Number<int?>("--tempi", "Tempi from the first to the goal. Default 4.", "N", 1, 40, DrillKind.RhythmVariants);
        _notch = Number<double?>("--notch", "Step from tempo to tempo, in per cent. Default 4.", "PERCENT", 0.5, 25, DrillKind.TempoLadder);
        _beyond = Number<int?>("--beyond", "Steps above the goal. Default 0.", "N", 0, 10, DrillKind.TempoLadder);
        _dropMisses = Number<int?>("--drop-misses", "Misses that step down. Default 2; 0: never.", "N", 0, 30, DrillKind.TempoLadder);
        _dropWindow = Number<int?>("--drop-window", "Attempts among which they are counted. Default 3.", "N", 1, 30, DrillKind.TempoLadder);
        _attempts = Number<int?>("--attempts", "Attempts at each passage in its turn. Default 3.", "N", 1, 50, DrillKind.Rotation);
        _rounds = Number<int?>("--rounds", "Turns of each passage. Default 3.", "N", 1, 50, DrillKind.Rotation);
        _spots = Add(new Option<string?>("--spots") { Description = "Which notes, counted from 1, for example 3,7. Default: the three missed most often in what is kept.", HelpName = "NOTES" }, DrillKind.TroubleSpot);
        _neighbours = Number<int?>("--neighbours", "Neighbours on each side. Default 2.", "N", 1, 20, DrillKind.TroubleSpot);
    }

    public void AddTo(Command command)
    {
        foreach ((Option option, _) in _all)
        {
            command.Add(option);
        }
    }

    /// <summary>The plan of a drill, with its usual numbers where none are given.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="kind">Which drill.</param>
    /// <param name="worst">The notes that were missed most often, from 0, at most so many.</param>
    /// <exception cref="UsageException">A number of another drill was given, or a list that is none.</exception>
    public DrillPlan PlanOf(ParseResult parsed, DrillKind kind, Func<int, ImmutableArray<int>> worst)
    {
        foreach ((Option option, DrillKind[] kinds) in _all)
        {
            if (parsed.GetResult(option) is { Implicit: false } && !kinds.Contains(kind))
            {
                string own = string.Join(", ", _all.Where(other => other.Kinds.Contains(kind)).Select(other => other.Option.Name));
                throw new UsageException($"{option.Name} is no number of the drill '{DrillKindNames.Of(kind)}'; {(own.Length > 0 ? $"it has {own}" : "it has none")}.");
            }
        }

        return kind switch
        {
            DrillKind.Chain => ChainOf(parsed, new ChainPlan()),
            DrillKind.RhythmVariants => RhythmOf(parsed, new RhythmPlan()),
            DrillKind.TempoLadder => LadderOf(parsed, new LadderPlan()),
            DrillKind.Proof => ProofOf(parsed, new ProofPlan()),
            DrillKind.ColdTake => new ColdTakePlan(),
            DrillKind.Rotation => RotationOf(parsed, new RotationPlan()),
            DrillKind.TroubleSpot => SpotsOf(parsed, new TroubleSpotPlan { Spots = [] }, worst),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of drill."),
        };
    }

    private ChainPlan ChainOf(ParseResult parsed, ChainPlan usual) => usual with
    {
        CleanInARow = parsed.GetValue(_clean) ?? usual.CleanInARow,
        Direction = parsed.GetValue(_direction) switch { "backward" => ChainDirection.Backward, "outward" => ChainDirection.Outward, _ => ChainDirection.Forward },
        Unit = parsed.GetValue(_unit) switch { "beat" => ChainUnit.Beat, "bar" => ChainUnit.Bar, _ => ChainUnit.Note },
        FromNote = parsed.GetValue(_from) - 1,
        HoldLast = parsed.GetValue(_holdLast),
    };

    private RhythmPlan RhythmOf(ParseResult parsed, RhythmPlan usual) => usual with
    {
        CleanInARow = parsed.GetValue(_clean) ?? usual.CleanInARow,
        Variants = parsed.GetValue(_variants) switch
        {
            null => usual.Variants,
            "all" => [.. RhythmVariants.All.Select(variant => variant.Code)],
            string codes => [.. codes.Split(',', StringSplitOptions.TrimEntries)],
        },
        Scalings = parsed.GetValue(_scaling) switch
        {
            "shorts-at-target" => [VariantScaling.ShortsAtTarget],
            "both" => [VariantScaling.EqualTotal, VariantScaling.ShortsAtTarget],
            _ => [VariantScaling.EqualTotal],
        },
        StartShare = parsed.GetValue(_start) / 100 ?? usual.StartShare,
        Tempi = parsed.GetValue(_tempi) ?? usual.Tempi,
    };

    private LadderPlan LadderOf(ParseResult parsed, LadderPlan usual) => usual with
    {
        CleanInARow = parsed.GetValue(_clean) ?? usual.CleanInARow,
        StartShare = parsed.GetValue(_start) / 100 ?? usual.StartShare,
        NotchShare = parsed.GetValue(_notch) / 100 ?? usual.NotchShare,
        NotchesBeyond = parsed.GetValue(_beyond) ?? usual.NotchesBeyond,
        DropMisses = parsed.GetValue(_dropMisses) ?? usual.DropMisses,
        DropWindow = parsed.GetValue(_dropWindow) ?? usual.DropWindow,
    };

    private ProofPlan ProofOf(ParseResult parsed, ProofPlan usual) => usual with
    {
        Sets = parsed.GetValue(_sets) ?? usual.Sets,
        CleanInARow = parsed.GetValue(_clean) ?? usual.CleanInARow,
    };

    private RotationPlan RotationOf(ParseResult parsed, RotationPlan usual) => usual with
    {
        AttemptsEach = parsed.GetValue(_attempts) ?? usual.AttemptsEach,
        Rounds = parsed.GetValue(_rounds) ?? usual.Rounds,
    };

    private TroubleSpotPlan SpotsOf(ParseResult parsed, TroubleSpotPlan usual, Func<int, ImmutableArray<int>> worst) => usual with
    {
        CleanInARow = parsed.GetValue(_clean) ?? usual.CleanInARow,
        Neighbours = parsed.GetValue(_neighbours) ?? usual.Neighbours,
        Spots = parsed.GetValue(_spots) is { } notes ? [.. notes.Split(',', StringSplitOptions.TrimEntries).Select(NoteOf)] : worst(3),
    };

    private static int NoteOf(string number) => int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out int note) && note >= 1
        ? note - 1
        : throw new UsageException($"--spots names '{number}'; give numbers of notes, counted from 1, with commas between: --spots 3,7");

    private Option<T> Number<T>(string name, string description, string unit, double least, double most, params DrillKind[] kinds)
    {
        Option<T> option = new(name) { Description = description, HelpName = unit };
        option.Validators.Add(result => Limits.Require(result, least, most));
        return Add(option, kinds);
    }

    private Option<string?> Word(string name, string description, string[] words, params DrillKind[] kinds)
    {
        Option<string?> option = new(name) { Description = description, HelpName = string.Join('|', words) };
        option.AcceptOnlyFromAmong(words);
        return Add(option, kinds);
    }

    private T Add<T>(T option, params DrillKind[] kinds)
        where T : Option
    {
        _all.Add((option, kinds));
        return option;
    }
}
