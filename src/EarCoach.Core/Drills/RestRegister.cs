using EarCoach.Core.Judging;

namespace EarCoach.Core.Drills;

/// <summary>Keeps the rest ledger: what each attempt adds to it, and when a rest or something easier is proposed.</summary>
internal static class RestRegister
{
    private const int TirednessWindow = 4;

    public static RestLedger Played(RestLedger ledger, RestRules rules, DrillInput.AttemptJudged attempt, List<DrillEffect> effects)
    {
        double length = Math.Max(0, attempt.EndSeconds - attempt.StartSeconds);
        double rested = ledger.LastEndSeconds is { } lastEnd ? Math.Max(0, attempt.StartSeconds - lastEnd) : 0;
        RestLedger next = rested >= rules.BreakMinutes * 60
            ? ledger with { OwedSeconds = 0, ProposedAtOwedSeconds = null, WorkSinceSeconds = null, BreakProposed = false, TirednessHinted = false, Recent = default, EarlyBreakDone = true }
            : ledger with { OwedSeconds = Math.Max(0, ledger.OwedSeconds - rested) };
        next = next with
        {
            PlayedSeconds = next.PlayedSeconds + length,
            OwedSeconds = next.OwedSeconds + length,
            ProposedAtOwedSeconds = next.OwedSeconds == 0 ? null : next.ProposedAtOwedSeconds,
            WorkSinceSeconds = next.WorkSinceSeconds ?? attempt.StartSeconds,
            LastEndSeconds = attempt.EndSeconds,
            AttemptsAtStage = effects.Exists(IsPassing) ? 0 : next.AttemptsAtStage + 1,
        };
        if (attempt.Verdict != Verdict.NotCounted)
        {
            bool missed = attempt.Verdict == Verdict.Missed;
            next = next with
            {
                Clean = next.Clean + (missed ? 0 : 1),
                MissesRunning = missed && next.AttemptsAtStage > 0 ? next.MissesRunning + 1 : 0,
                Recent = next.Recent.With(missed, TirednessWindow),
            };
        }

        return Proposed(next, rules, attempt, effects);
    }

    /// <summary>The playing stays played; only what the verdict said is taken back.</summary>
    public static RestLedger TakenBack(RestLedger now, RestLedger before) => now with { Clean = before.Clean, MissesRunning = before.MissesRunning, Recent = before.Recent };

    // The gravest reason speaks alone.
    private static RestLedger Proposed(RestLedger ledger, RestRules rules, DrillInput.AttemptJudged attempt, List<DrillEffect> effects)
    {
        if (ledger.AttemptsAtStage > 0 && ledger.AttemptsAtStage % rules.AttemptsPerStage == 0)
        {
            effects.Add(new DrillEffect.EasierProposed(EasierReason.ManyAttempts));
        }
        else if (attempt.Verdict == Verdict.Missed && ledger.MissesRunning == rules.MissesRunning)
        {
            effects.Add(new DrillEffect.EasierProposed(EasierReason.MissesRunning));
        }

        if (!ledger.EndProposed && ledger.PlayedEarlierTodaySeconds + ledger.PlayedSeconds >= rules.DailyPlayingMinutes * 60)
        {
            effects.Add(new DrillEffect.RestProposed(RestReason.EnoughForToday, Seconds: null));
            return ledger with { EndProposed = true };
        }

        if (!ledger.BreakProposed && attempt.EndSeconds - ledger.WorkSinceSeconds >= rules.WorkMinutes * 60)
        {
            effects.Add(new DrillEffect.RestProposed(RestReason.LongStretch, rules.BreakMinutes * 60));
            return ledger with { BreakProposed = true };
        }

        if (!ledger.TirednessHinted && ledger.Clean >= rules.CleanBeforeTiredness && ledger.Recent.Misses >= rules.LateMisses)
        {
            effects.Add(new DrillEffect.RestProposed(RestReason.Tiredness, rules.BreakMinutes * 60));
            return ledger with { TirednessHinted = true };
        }

        if (!ledger.EarlyBreakDone && rules.EarlyBreakMinutes > 0 && attempt.EndSeconds - ledger.WorkSinceSeconds >= rules.EarlyBreakMinutes * 60)
        {
            effects.Add(new DrillEffect.RestProposed(RestReason.EarlyBreak, rules.BreakMinutes * 60));
            return ledger with { EarlyBreakDone = true };
        }

        if (ledger.OwedSeconds >= (ledger.ProposedAtOwedSeconds ?? 0) + rules.PlayingAheadSeconds)
        {
            effects.Add(new DrillEffect.RestProposed(RestReason.PlayedAhead, ledger.OwedSeconds));
            return ledger with { ProposedAtOwedSeconds = ledger.OwedSeconds };
        }

        if (rules.BetweenSetsSeconds > 0 && effects.Exists(effect => effect is DrillEffect.SetFinished))
        {
            effects.Add(new DrillEffect.RestProposed(RestReason.BetweenSets, rules.BetweenSetsSeconds));
        }

        return ledger;
    }

    private static bool IsPassing(DrillEffect effect) => effect is DrillEffect.StagePassed or DrillEffect.SetFinished or DrillEffect.SteppedDown;
}
