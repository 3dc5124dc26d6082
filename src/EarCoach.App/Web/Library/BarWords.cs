using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Library;

/// <summary>The bars of a passage as a player names them.</summary>
internal static class BarWords
{
    /// <summary>For example "bar 5", "bars 5 to 8", "pickup and bars 1 to 3".</summary>
    public static string Of(Passage passage)
    {
        BarMap bars = new(passage);
        int first = bars.PositionOf(passage.Notes[0].Onset).Bar;
        int last = bars.PositionOf(passage.Notes[^1].Onset).Bar;
        bool hasPickup = first < passage.FirstBarNumber;
        if (hasPickup && last < passage.FirstBarNumber)
        {
            return "pickup";
        }

        first = Math.Max(first, passage.FirstBarNumber);
        return (hasPickup ? "pickup and " : string.Empty) + (first == last ? $"bar {first}" : $"bars {first} to {last}");
    }
}
