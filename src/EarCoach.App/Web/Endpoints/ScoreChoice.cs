using System.Collections.Immutable;
using EarCoach.Core.Drills;
using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Endpoints;

/// <summary>Which notation of a session is asked for: a passage as written, or a task that changes its rhythm.</summary>
internal sealed record ScoreChoice(
    int Passage, int? First, int? Count, string? Variant, VariantScaling? Scaling, VariantScope? Scope, bool? HoldLast)
{
    /// <summary>The task, as far as its notation goes.</summary>
    public DrillTask TaskIn(ImmutableArray<Passage> passages, DrillPlan plan) => new(
        Passage,
        First ?? 0,
        Count ?? passages[Passage].Notes.Length,
        string.IsNullOrEmpty(Variant) ? null : Variant,
        Scaling ?? VariantScaling.EqualTotal,
        QuartersPerMinute: null,
        plan.Tolerances,
        plan.A4Hz)
    {
        Scope = Scope ?? VariantScope.EvenRuns,
        HoldLast = HoldLast ?? false,
    };
}
