namespace EarCoach.Core.Passages;

/// <summary>Where a chain grows.</summary>
public enum ChainDirection
{
    /// <summary>Towards the end.</summary>
    Forward,

    /// <summary>Towards the beginning.</summary>
    Backward,

    /// <summary>By turns after and before, until both ends are reached.</summary>
    Outward,
}
