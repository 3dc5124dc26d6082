using System.Collections.Immutable;
using CsCheck;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Tests.Drills;

/// <summary>Passages, plans and inputs for the property tests of the drills.</summary>
internal static class DrillGen
{
    public static Gen<Passage> Passage { get; } = Gen.Select(Gen.Int[1, 9].Array[1, 12], AnyOf((4, 4), (3, 4), (6, 8), (2, 2)), Gen.Int[0, 2])
        .Select((lengths, meter, pickup) => PassageOf(lengths, meter, new Fraction(pickup, 2)));

    public static Gen<Verdict> Verdict { get; } = Gen.Frequency(
        (5, Gen.Const(Judging.Verdict.Clean)), (2, Gen.Const(Judging.Verdict.Missed)), (1, Gen.Const(Judging.Verdict.NotCounted)));

    public static Gen<DrillInput> Attempt { get; } = Gen.Select(Verdict, Gen.Double[0, 1000], Gen.Double[0.1, 20])
        .Select((verdict, start, length) => (DrillInput)new DrillInput.AttemptJudged(verdict, start, start + length));

    public static Gen<DrillInput> Command { get; } = AnyOf<DrillInput>(
        new DrillInput.Disputed(), new DrillInput.Paused(), new DrillInput.Resumed(), new DrillInput.Skipped(), new DrillInput.Repeated());

    public static Gen<DrillPlan> PlanFor(Passage passage)
    {
        int last = passage.Notes.Length - 1;
        return Gen.OneOf(
            Gen.Select(Gen.Enum<ChainDirection>(), Gen.Enum<ChainUnit>(), Gen.Int[-1, last], Gen.Int[1, 4])
                .Select((direction, unit, from, n) => (DrillPlan)new ChainPlan { Direction = direction, Unit = unit, FromNote = from < 0 ? null : from, CleanInARow = n }),
            Gen.Select(Gen.Int[1, 3], Gen.Int[1, 3], Gen.Bool, Gen.Bool)
                .Select((n, tempi, both, written) => (DrillPlan)new RhythmPlan
                {
                    CleanInARow = n,
                    Tempi = tempi,
                    Variants = ["2a", "2b"],
                    Scope = written ? VariantScope.EvenRuns : VariantScope.AllNotes,
                    Scalings = both ? [VariantScaling.EqualTotal, VariantScaling.ShortsAtTarget] : [VariantScaling.ShortsAtTarget],
                    EndAsWritten = written,
                }),
            Gen.Select(Gen.Double[0.5, 1], Gen.Int[1, 4], Gen.Int[0, 3], Gen.Int[3, 5], Gen.Int[0, 2])
                .Select((share, n, misses, window, beyond) => (DrillPlan)new LadderPlan
                {
                    StartShare = share,
                    NotchShare = 0.1,
                    CleanInARow = n,
                    DropMisses = misses,
                    DropWindow = window,
                    NotchesBeyond = beyond,
                }),
            Gen.Select(Gen.Int[1, 4], Gen.Int[1, 4]).Select((sets, n) => (DrillPlan)new ProofPlan { Sets = sets, CleanInARow = n }),
            Gen.Const((DrillPlan)new ColdTakePlan()),
            Gen.Select(Gen.Int[1, 3], Gen.Int[1, 3]).Select((each, rounds) => (DrillPlan)new RotationPlan { AttemptsEach = each, Rounds = rounds }),
            Gen.Select(Gen.Int[0, last].Array[1, 3], Gen.Int[1, 3], Gen.Int[1, 3])
                .Select((spots, around, n) => (DrillPlan)new TroubleSpotPlan { Spots = [.. spots], Neighbours = around, CleanInARow = n }))
            .Select(plan => new Drill([passage, passage]).Problems(plan).Any() ? new ProofPlan() : plan); // a passage without even runs has no variants
    }

    /// <summary>A drill, a plan for it, and a log of anything that may happen, changed plans included.</summary>
    public static Gen<(Drill Drill, DrillPlan Plan, DrillInput[] Inputs)> Story { get; } =
        from passage in Passage
        from second in Passage
        from plan in PlanFor(passage)
        from inputs in Gen.Frequency((12, Attempt), (4, Command), (1, PlanFor(passage).Select(other => (DrillInput)new DrillInput.PlanChanged(other)))).Array[0, 80]
        select (new Drill([passage, second]), plan, inputs);

    /// <summary>The same with attempts alone.</summary>
    public static Gen<(Drill Drill, DrillPlan Plan, DrillInput[] Inputs)> Attempts { get; } =
        from passage in Passage
        from second in Passage
        from plan in PlanFor(passage)
        from inputs in Attempt.Array[0, 80]
        select (new Drill([passage, second]), plan, inputs);

    private static Gen<T> AnyOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    public static Passage PassageOf(int[] eighths, (int Beats, int BeatType) meter, Fraction pickup)
    {
        Fraction at = Fraction.Zero;
        ImmutableArray<PassageNote>.Builder notes = ImmutableArray.CreateBuilder<PassageNote>();
        for (int i = 0; i < eighths.Length; i++)
        {
            Fraction length = new(eighths[i], 2);
            notes.Add(new PassageNote { MidiPitch = 60 + (i * 5 % 12), Onset = at, Length = length });
            at += length;
        }

        return new Passage { Title = "Invented", Notes = notes.ToImmutable(), Meters = [new MeterMark(Fraction.Zero, meter.Beats, meter.BeatType)], Pickup = pickup };
    }

    public static Passage Quarters(int count) => PassageOf([.. Enumerable.Repeat(2, count)], (4, 4), Fraction.Zero);

    public static DrillState Play(Drill drill, DrillPlan plan, IEnumerable<DrillInput> inputs) =>
        inputs.Aggregate(drill.Start(plan), (state, input) => drill.Reduce(state, input).Next);

    /// <summary>Attempts from letters: c clean, m missed, n not counted, d dispute, s skip, r repeat; one attempt every 10 s, 2 s long.</summary>
    public static IEnumerable<DrillInput> Log(string letters) => letters.Select((letter, i) => (DrillInput)(letter switch
    {
        'c' => new DrillInput.AttemptJudged(Judging.Verdict.Clean, i * 10, (i * 10) + 2),
        'm' => new DrillInput.AttemptJudged(Judging.Verdict.Missed, i * 10, (i * 10) + 2),
        'n' => new DrillInput.AttemptJudged(Judging.Verdict.NotCounted, i * 10, (i * 10) + 2),
        'd' => new DrillInput.Disputed(),
        's' => new DrillInput.Skipped(),
        'r' => new DrillInput.Repeated(),
        'p' => new DrillInput.Paused(),
        _ => new DrillInput.Resumed(),
    }));
}
