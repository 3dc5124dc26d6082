using EarCoach.Core.Drills;

namespace EarCoach.App.Web.Messages;

/// <summary>What followed for the drill, as far as the page shows or sounds it.</summary>
/// <param name="Type">For example "set-finished".</param>
/// <param name="Lost">How many clean attempts a miss has emptied; else null.</param>
internal sealed record PageEffect(string Type, int? Lost = null)
{
    /// <summary>The effects that the page knows.</summary>
    public static IReadOnlyList<PageEffect> Of(IReadOnlyList<DrillEffect> effects) => [.. effects.Select(Of).OfType<PageEffect>()];

    private static PageEffect? Of(DrillEffect effect) => effect switch
    {
        DrillEffect.CountEmptied emptied => new PageEffect("count-emptied", emptied.Lost),
        DrillEffect.SetFinished => new PageEffect("set-finished"),
        DrillEffect.StagePassed => new PageEffect("stage-passed"),
        DrillEffect.SteppedDown => new PageEffect("stepped-down"),
        DrillEffect.TakenBack => new PageEffect("taken-back"),
        DrillEffect.Finished => new PageEffect("finished"),
        _ => null,
    };
}
