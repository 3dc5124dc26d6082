using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>A drill over certain passages: a reducer. State and input in, state and effects out; nothing is kept.</summary>
public sealed class Drill
{
    private readonly ImmutableArray<Passage> _passages;

    /// <summary>A drill over these passages; all but a rotation use the first alone.</summary>
    /// <exception cref="ArgumentException">No passage, or one without notes that must be played.</exception>
    public Drill(ImmutableArray<Passage> passages)
    {
        if (passages.IsDefaultOrEmpty || passages.Any(passage => passage.Notes.IsDefaultOrEmpty || !passage.Notes.Any(note => note.Required)))
        {
            throw new ArgumentException("A drill needs at least one passage, and each passage at least one note that must be played.", nameof(passages));
        }

        _passages = passages;
    }

    /// <summary>The passages.</summary>
    public ImmutableArray<Passage> Passages => _passages;

    /// <summary>Every rule the plan breaks, taken by itself or with these passages; empty for a plan that can be played.</summary>
    public IEnumerable<string> Problems(DrillPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        int notes = _passages[0].Notes.Length;
        IEnumerable<string> problems = plan.Problems();
        return plan switch
        {
            ChainPlan { FromNote: { } from } when from >= notes => problems.Append($"The note to start from is {from}; this passage has notes 0 to {notes - 1}."),
            TroubleSpotPlan { Spots.IsDefault: false } spots => problems.Concat(spots.Spots.Where(spot => spot >= notes)
                .Select(spot => $"A trouble spot is note {spot}; this passage has notes 0 to {notes - 1}.")),
            RhythmPlan { Variants.IsDefaultOrEmpty: false, Scalings.IsDefaultOrEmpty: false } rhythm
                when rhythm.Variants.All(code => RhythmVariants.ByCode(code) is not null) && StagePlanner.FittingVariants(rhythm, _passages[0]).IsEmpty =>
                problems.Append("None of the chosen rhythm variants changes anything in this passage: no even run in it is long enough. Choose other variants, or all notes."),
            RotationPlan when _passages.Length < 2 => problems.Append("A rotation needs at least two passages; choose another one."),
            _ => problems,
        };
    }

    /// <summary>The state before anything was played.</summary>
    /// <param name="plan">A plan without problems.</param>
    /// <param name="playedEarlierTodaySeconds">Seconds of playing today before this drill, for the daily limit.</param>
    /// <exception cref="ArgumentException">The plan has problems; the message names them all.</exception>
    public DrillState Start(DrillPlan plan, double playedEarlierTodaySeconds = 0)
    {
        string problems = string.Join(' ', Problems(plan));
        return problems.Length > 0
            ? throw new ArgumentException(problems, nameof(plan))
            : new DrillState
            {
                Plan = plan,
                Progress = RulesOf(plan).Begin(),
                Rests = new RestLedger { PlayedEarlierTodaySeconds = playedEarlierTodaySeconds },
            };
    }

    /// <summary>What an input makes of a state. An input that does not apply changes nothing and has no effects.</summary>
    public DrillStep Reduce(DrillState state, DrillInput input)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(input);
        return (state.Phase, input) switch
        {
            (DrillPhase.Active, DrillInput.AttemptJudged attempt) => Judged(state, attempt),
            (_, DrillInput.Disputed) when state.Last is not null => TakenBack(state, state.Last),
            (DrillPhase.Active, DrillInput.Paused) => new DrillStep(state with { Phase = DrillPhase.Paused }, []),
            (DrillPhase.Paused, DrillInput.Resumed) => new DrillStep(state with { Phase = DrillPhase.Active }, []),
            (DrillPhase.Active, DrillInput.Skipped) => Moved(state, RulesOf(state.Plan).Skipped(state.Progress)),
            (DrillPhase.Active, DrillInput.Repeated) => Moved(state, RulesOf(state.Plan).Repeated(state.Progress)),
            (DrillPhase.Active or DrillPhase.Paused, DrillInput.PlanChanged changed) => Replanned(state, changed.Plan),
            _ => new DrillStep(state, []),
        };
    }

    /// <summary>What is to be played; null when the drill is done.</summary>
    public DrillTask? TaskOf(DrillState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        return RulesOf(state.Plan).TaskOf(state.Progress);
    }

    /// <summary>The state as a page or a terminal shows it.</summary>
    public DrillView ViewOf(DrillState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        IDrillRules rules = RulesOf(state.Plan);
        (int stage, int stages, int count, int needed, int seals, int skipped) = rules.Numbers(state.Progress);
        return new DrillView(state.Plan.Kind, state.Phase, rules.TaskOf(state.Progress), stage, stages, count, needed, seals, skipped, state.Tally);
    }

    private IDrillRules RulesOf(DrillPlan plan) => StagePlanner.RulesOf(plan, _passages);

    private DrillStep Judged(DrillState state, DrillInput.AttemptJudged attempt)
    {
        IDrillRules rules = RulesOf(state.Plan);
        List<DrillEffect> effects = [];
        if (attempt.Verdict == Verdict.NotCounted)
        {
            RestLedger played = RestRegister.Played(state.Rests, state.Plan.Rests, attempt, effects);
            return new DrillStep(state with { Tally = state.Tally with { NotCounted = state.Tally.NotCounted + 1 }, Last = null, Rests = played }, effects);
        }

        bool clean = attempt.Verdict == Verdict.Clean;
        DrillProgress progress = rules.Judged(state.Progress, clean, effects);
        RestLedger rests = RestRegister.Played(state.Rests, state.Plan.Rests, attempt, effects);
        DrillState next = state with
        {
            Progress = progress,
            Tally = clean ? state.Tally with { Clean = state.Tally.Clean + 1 } : state.Tally with { Missed = state.Tally.Missed + 1 },
            Last = new DisputableAttempt(attempt.Verdict, state.Progress, state.Rests),
            Rests = rests,
        };
        return Settled(state, next, effects);
    }

    private DrillStep TakenBack(DrillState state, DisputableAttempt last)
    {
        AttemptTally tally = state.Tally with
        {
            Clean = state.Tally.Clean - (last.Verdict == Verdict.Clean ? 1 : 0),
            Missed = state.Tally.Missed - (last.Verdict == Verdict.Missed ? 1 : 0),
            Disputed = state.Tally.Disputed + 1,
        };

        // A cold take that was disputed is void: what is played after it is no first play-through.
        DrillProgress before = last.Before is DrillProgress.OneTake ? new DrillProgress.OneTake(Taken: true, Verdict: null) : last.Before;
        DrillState next = state with
        {
            Progress = before,
            Phase = state.Phase == DrillPhase.Done ? DrillPhase.Active : state.Phase,
            Tally = tally,
            Last = null,
            Rests = RestRegister.TakenBack(state.Rests, last.RestsBefore),
        };
        return Settled(state, next, [new DrillEffect.TakenBack()]);
    }

    private DrillStep Moved(DrillState state, DrillProgress progress) =>
        ReferenceEquals(progress, state.Progress) ? new DrillStep(state, []) : Settled(state, state with { Progress = progress, Last = null }, []);

    private DrillStep Replanned(DrillState state, DrillPlan plan)
    {
        if (plan is null || plan.Kind != state.Plan.Kind || plan == state.Plan || Problems(plan).Any())
        {
            return new DrillStep(state, []);
        }

        DrillProgress progress = RulesOf(plan).CarriedOver(state.Progress, RulesOf(state.Plan));
        return Settled(state, state with { Plan = plan, Progress = progress, Last = null }, []);
    }

    private DrillStep Settled(DrillState before, DrillState next, List<DrillEffect> effects)
    {
        DrillTask? task = TaskOf(next);
        if (task is null)
        {
            effects.RemoveAll(effect => effect is DrillEffect.RestProposed { Reason: RestReason.BetweenSets });
            if (before.Phase != DrillPhase.Done)
            {
                effects.Add(new DrillEffect.Finished());
            }

            return new DrillStep(next with { Phase = DrillPhase.Done }, effects);
        }

        if (task == TaskOf(before))
        {
            return new DrillStep(next, effects);
        }

        effects.Add(new DrillEffect.TaskChanged(task));
        return new DrillStep(next with { Rests = next.Rests with { AttemptsAtStage = 0, MissesRunning = 0 } }, effects);
    }
}
