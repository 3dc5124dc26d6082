using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>From a plan and its passages to the tasks of its stages, in order, and the rules they are played by.</summary>
internal static class StagePlanner
{
    public static IDrillRules RulesOf(DrillPlan plan, ImmutableArray<Passage> passages) => plan switch
    {
        ChainPlan chain => new ClimbRules(ChainStages(chain, passages[0]), chain.CleanInARow, 0, 1),
        RhythmPlan rhythm => new ClimbRules(RhythmStages(rhythm, passages[0]), rhythm.CleanInARow, 0, 1),
        LadderPlan ladder => new ClimbRules(LadderStages(ladder, passages[0]), ladder.CleanInARow, ladder.DropMisses, ladder.DropWindow),
        TroubleSpotPlan spot => new ClimbRules(SpotStages(spot, passages[0]), spot.CleanInARow, 0, 1),
        ProofPlan proof => new SetRules(Whole(proof, passages, 0), proof.Sets, proof.CleanInARow),
        ColdTakePlan cold => new OneTakeRules(Whole(cold, passages, 0)),
        RotationPlan rotation => new TurnRules(
            [.. Enumerable.Range(0, passages.Length).Select(i => Whole(rotation, passages, i))], rotation.AttemptsEach, rotation.Rounds),
        _ => throw new ArgumentException($"No rules are known for a plan of type {plan.GetType().Name}.", nameof(plan)),
    };

    /// <summary>The plan's variants that change something in the passage.</summary>
    public static ImmutableArray<string> FittingVariants(RhythmPlan plan, Passage passage)
    {
        if (plan.Scope == VariantScope.AllNotes)
        {
            int notes = passage.Notes.Length;
            return [.. plan.Variants.Where(code => notes > 1 && RhythmVariants.ByCode(code) is { } variant && Math.Max(variant.GroupSize, variant.AccentEvery) <= notes)];
        }

        HashSet<string> fitting = [.. RhythmVariation.ThatFit(passage).Select(variant => variant.Code)];
        return [.. plan.Variants.Where(fitting.Contains)];
    }

    private static DrillTask Whole(DrillPlan plan, ImmutableArray<Passage> passages, int index) => Part(plan, index, 0, passages[index].Notes.Length);

    private static DrillTask Part(DrillPlan plan, int passage, int firstNote, int noteCount) =>
        new(passage, firstNote, noteCount, VariantCode: null, VariantScaling.EqualTotal, plan.GoalQuartersPerMinute, plan.Tolerances, plan.A4Hz);

    private static double GoalOf(DrillPlan plan, Passage passage) => plan.GoalQuartersPerMinute ?? passage.Tempi[0].QuartersPerMinute;

    private static ImmutableArray<DrillTask> ChainStages(ChainPlan plan, Passage passage) =>
        [.. ChainLengths.Of(passage, plan.Unit, plan.Direction, plan.FromNote)
            .Select(length => Part(plan, 0, length.First, length.Count) with { HoldLast = plan.HoldLast })];

    private static ImmutableArray<DrillTask> RhythmStages(RhythmPlan plan, Passage passage)
    {
        ImmutableArray<DrillTask>.Builder stages = ImmutableArray.CreateBuilder<DrillTask>();
        DrillTask whole = Part(plan, 0, 0, passage.Notes.Length);
        Tolerances asWritten = plan.Tolerances.Timing == TimingMode.Rhythm ? plan.Tolerances with { Timing = TimingMode.Fitted } : plan.Tolerances;
        foreach (double tempo in TempoSteps.ByCount(GoalOf(plan, passage), plan.StartShare, plan.Tempi))
        {
            foreach (string code in FittingVariants(plan, passage))
            {
                stages.AddRange(plan.Scalings.Select(scaling =>
                    whole with { VariantCode = code, Scaling = scaling, Scope = plan.Scope, QuartersPerMinute = tempo }));
            }

            if (plan.EndAsWritten)
            {
                stages.Add(whole with { QuartersPerMinute = tempo, Tolerances = asWritten });
            }
        }

        return stages.ToImmutable();
    }

    private static ImmutableArray<DrillTask> LadderStages(LadderPlan plan, Passage passage)
    {
        DrillTask whole = Part(plan, 0, 0, passage.Notes.Length);
        return [.. TempoSteps.ByNotch(GoalOf(plan, passage), plan.StartShare, plan.NotchShare, plan.NotchesBeyond)
            .Select(tempo => whole with { QuartersPerMinute = tempo })];
    }

    private static ImmutableArray<DrillTask> SpotStages(TroubleSpotPlan plan, Passage passage)
    {
        ImmutableArray<DrillTask>.Builder stages = ImmutableArray.CreateBuilder<DrillTask>();
        int last = passage.Notes.Length - 1;
        foreach (int spot in plan.Spots)
        {
            DrillTask? before = null;
            for (int grown = 0; grown <= 2 * plan.Neighbours; grown++)
            {
                // The note alone, with the note before it, then with the note after it too, and so on outwards.
                int first = Math.Max(0, spot - ((grown + 1) / 2));
                int end = Math.Min(last, spot + (grown / 2));
                DrillTask task = Part(plan, 0, first, end - first + 1);
                if (task != before && HasRequired(passage, first, end))
                {
                    stages.Add(task);
                    before = task;
                }
            }
        }

        return stages.ToImmutable();
    }

    // A task of ornaments alone would ask for nothing.
    private static bool HasRequired(Passage passage, int first, int last) => Enumerable.Range(first, last - first + 1).Any(i => passage.Notes[i].Required);
}
