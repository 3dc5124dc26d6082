using CsCheck;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Drills;

public sealed class TaskPassageTests
{
    // Whatever a task makes of a passage, each of its notes has the pitch of the note it is said to be.
    [Fact]
    public void EachNoteOfATask_IsTheNoteOfThePassageItIsSaidToBe()
    {
        Gen<(Passage Passage, DrillTask Task)> gen =
            from passage in DrillGen.Passage
            from first in Gen.Int[0, passage.Notes.Length - 1]
            from count in Gen.Int[1, passage.Notes.Length - first]
            from variant in Gen.Int[-1, RhythmVariants.All.Length - 1]
            from scaling in Gen.Enum<VariantScaling>()
            from scope in Gen.Enum<VariantScope>()
            from held in Gen.Bool
            select (passage, new DrillTask(0, first, count, variant < 0 ? null : RhythmVariants.All[variant].Code, scaling, 90, new Tolerances(), 440)
            {
                Scope = scope,
                HoldLast = held,
            });
        gen.Sample((passage, task) =>
        {
            Passage asked = TaskPassage.JudgingTaskOf(task, [passage]).Passage;
            IEnumerable<int> notes = TaskPassage.PassageNotesOf(task, [passage]);
            asked.Notes.Select(note => note.MidiPitch).Should().Equal(notes.Select(i => passage.Notes[i].MidiPitch));
            notes.Distinct().Should().Equal(Enumerable.Range(task.FirstNote, task.NoteCount));
            asked.Notes.Zip(asked.Notes.Skip(1)).Any(pair => pair.First.Onset >= pair.Second.Onset).Should().BeFalse();
        });
    }

    [Fact]
    public void ARhythm_HasNoGraceNotes_AndItsNotesAreStillThoseOfThePassage()
    {
        Passage plain = DrillGen.Quarters(4);
        PassageNote grace = new() { MidiPitch = 90, Onset = new Fraction(7, 8), Length = new Fraction(1, 8), Required = false, TimingJudged = false, IsGrace = true };
        Passage passage = plain with { Notes = [plain.Notes[0] with { Length = new Fraction(7, 8) }, grace, .. plain.Notes[1..]] };
        foreach ((string code, int[] expected) in new (string, int[])[] { ("2a", [0, 2, 3, 4]), ("PREP2", [0, 0, 2, 2, 3, 3, 4, 4]) })
        {
            DrillTask task = new(0, 0, 5, code, VariantScaling.EqualTotal, 90, new Tolerances(), 440);
            TaskPassage.PassageNotesOf(task, [passage]).Should().Equal(expected);
            TaskPassage.JudgingTaskOf(task, [passage]).Passage.Notes.Select(note => (note.Onset, note.Length))
                .Should().Equal(TaskPassage.JudgingTaskOf(task with { NoteCount = 4 }, [plain]).Passage.Notes.Select(note => (note.Onset, note.Length)));
        }

        TaskPassage.PassageNotesOf(new DrillTask(0, 0, 5, null, VariantScaling.EqualTotal, 90, new Tolerances(), 440), [passage]).Should().Equal(0, 1, 2, 3, 4);
    }

    [Fact]
    public void APart_KeepsItsBars()
    {
        Passage passage = DrillGen.Quarters(12); // three bars of 4/4
        Passage part = TaskPassage.JudgingTaskOf(new DrillTask(0, 5, 3, null, VariantScaling.EqualTotal, 90, new Tolerances(), 442), [passage]).Passage;
        new BarMap(part).PositionOf(part.Notes[0].Onset).Should().Be(new BarPosition(2, 2));
    }

    [Theory]
    [InlineData(1, 0, 1, null)]
    [InlineData(0, 3, 2, null)]
    [InlineData(0, 0, 4, "9z")]
    public void WhatIsNotThere_IsNamed(int passage, int first, int count, string? variant) =>
        FluentActions.Invoking(() => TaskPassage.JudgingTaskOf(
            new DrillTask(passage, first, count, variant, VariantScaling.EqualTotal, null, new Tolerances(), 440), [DrillGen.Quarters(4)]))
            .Should().Throw<ArgumentException>();

    [Fact]
    public void VariantsThatChangeNothing_AreLeftOut_AndNoneAtAllIsAProblem()
    {
        Drill uneven = new([DrillGen.PassageOf([2, 1, 4], (4, 4), Fraction.Zero)]);
        uneven.Problems(new RhythmPlan { Variants = ["2a", "3a"] }).Should().ContainSingle().Which.Should().Contain("even run");
        uneven.Problems(new RhythmPlan { Variants = ["2a", "3a"], Scope = VariantScope.AllNotes }).Should().BeEmpty();
        uneven.Problems(new RhythmPlan { Variants = ["2a", "zz"] }).Should().ContainSingle().Which.Should().Contain("'zz'");
        Drill three = new([DrillGen.Quarters(3)]);
        three.ViewOf(three.Start(new RhythmPlan { Variants = ["2a", "3a", "4a"], Tempi = 1 })).Stages.Should().Be(3); // 2a, 3a and as written
    }
}
