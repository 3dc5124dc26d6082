using System.Text.Json;
using CsCheck;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Json;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Json;

public sealed class EngineJsonTests
{
    public static TheoryData<DrillPlan> Plans { get; } =
    [
        new ChainPlan { Direction = ChainDirection.Backward, FromNote = 3 },
        new RhythmPlan { Variants = ["2a", "G4"], Scalings = [VariantScaling.ShortsAtTarget] },
        new LadderPlan { StartShare = 0.5, GoalQuartersPerMinute = 88.5 },
        new ProofPlan { Sets = 4, Tolerances = new Tolerances { Cents = null, Timing = TimingMode.Strict } },
        new ColdTakePlan { A4Hz = 442 },
        new RotationPlan { AttemptsEach = 2 },
        new TroubleSpotPlan { Spots = [5, 1] },
    ];

    [Theory]
    [MemberData(nameof(Plans))]
    public void Plans_ComeBackEqual(DrillPlan plan)
    {
        string json = JsonSerializer.Serialize(plan, EngineJson.Options);
        json.Should().Contain($"\"kind\":\"{DrillKindNames.Of(plan.Kind)}\"");
        JsonSerializer.Deserialize<DrillPlan>(json, EngineJson.Options).Should().Be(plan);
    }

    [Fact]
    public void Inputs_ComeBackEqual()
    {
        DrillInput[] inputs =
        [
            new DrillInput.AttemptJudged(Verdict.NotCounted, 0.1, 2.3), new DrillInput.Disputed(), new DrillInput.Paused(), new DrillInput.Resumed(),
            new DrillInput.Skipped(), new DrillInput.Repeated(), new DrillInput.PlanChanged(new LadderPlan { NotchShare = 0.05 }),
        ];
        string json = JsonSerializer.Serialize(inputs, EngineJson.Options);
        json.Should().Contain("\"not-counted\"").And.Contain("\"type\":\"plan-changed\"");
        JsonSerializer.Deserialize<DrillInput[]>(json, EngineJson.Options).Should().Equal(inputs);
    }

    [Fact]
    public void Words_AreThoseOfTheProgram()
    {
        foreach (NoteFault fault in Enum.GetValues<NoteFault>())
        {
            JsonSerializer.Serialize(fault, EngineJson.Options).Should().Be($"\"{FaultNames.Of(fault)}\"");
        }

        foreach (Verdict verdict in Enum.GetValues<Verdict>())
        {
            JsonSerializer.Serialize(verdict, EngineJson.Options).Should().Be($"\"{FaultNames.Of(verdict)}\"");
        }

        foreach (DrillKind kind in Enum.GetValues<DrillKind>())
        {
            JsonSerializer.Serialize(kind, EngineJson.Options).Should().Be($"\"{DrillKindNames.Of(kind)}\"");
        }
    }

    [Fact]
    public void Passages_ComeBackExactly()
    {
        Gen<Fraction> fraction = Gen.Select(Gen.Long[-1_000_000, 1_000_000], Gen.Long[1, 5040]).Select((n, d) => new Fraction(n, d));
        Gen<PassageNote> note =
            from pitch in Gen.Int[0, 127]
            from onset in fraction
            from length in fraction
            from slur in Gen.Bool
            from marks in Gen.Int[0, 31]
            from spelled in Gen.Bool
            from judged in Gen.Bool
            select new PassageNote
            {
                MidiPitch = pitch,
                Onset = onset,
                Length = length,
                SlurredFromPrevious = slur,
                Articulations = (Articulations)marks,
                WrittenSpelling = spelled ? new PitchSpelling('G', -1, 4) : null,
                TimingJudged = judged,
                Required = !judged,
            };
        Gen.Select(note.Array[1, 20], Gen.String, Gen.Double[5, 400], fraction).Sample((notes, title, tempo, at) =>
        {
            Passage passage = new()
            {
                Title = title,
                Notes = [.. notes],
                InstrumentId = "horn-f",
                Tempi = [new TempoMark(Fraction.Zero, tempo), new TempoMark(at, tempo / 3)],
                Meters = [new MeterMark(Fraction.Zero, 6, 8)],
                Pickup = at,
                FirstBarNumber = 17,
                KeyFifths = -3,
                Transpositions = [new TranspositionMark(at, new Transposition(-4, -7))],
            };
            string json = JsonSerializer.Serialize(passage, EngineJson.Options);
            Passage back = JsonSerializer.Deserialize<Passage>(json, EngineJson.Options)!;
            (back with { Notes = passage.Notes, Tempi = passage.Tempi, Meters = passage.Meters, Transpositions = passage.Transpositions }).Should().Be(passage);
            back.Notes.Should().Equal(passage.Notes);
            back.Tempi.Should().Equal(passage.Tempi);
            back.Meters.Should().Equal(passage.Meters);
            back.Transpositions.Should().Equal(passage.Transpositions);
        });
    }

    [Theory]
    [InlineData("\"3/0\"")]
    [InlineData("\"x\"")]
    [InlineData("\"1/2/3\"")]
    [InlineData("\"\"")]
    public void ABrokenFraction_IsNamed(string json) =>
        FluentActions.Invoking(() => JsonSerializer.Deserialize<Fraction>(json, EngineJson.Options)).Should().Throw<JsonException>().WithMessage("*no fraction*");
}
