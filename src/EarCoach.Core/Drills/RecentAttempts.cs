using System.Numerics;

namespace EarCoach.Core.Drills;

/// <summary>The newest counted attempts, oldest forgotten: a value.</summary>
/// <param name="Bits">Newest in the lowest bit; 1 is a miss.</param>
/// <param name="Count">How many are known, 0 to 30.</param>
public readonly record struct RecentAttempts(int Bits, int Count)
{
    /// <summary>The longest memory.</summary>
    public const int MaxWindow = 30;

    /// <summary>How many of them were missed.</summary>
    public int Misses => BitOperations.PopCount((uint)Bits);

    /// <summary>With one more, keeping only the newest <paramref name="window"/>.</summary>
    public RecentAttempts With(bool missed, int window)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(window, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(window, MaxWindow);
        int mask = (1 << window) - 1;
        return new RecentAttempts(((Bits << 1) | (missed ? 1 : 0)) & mask, Math.Min(Count + 1, window));
    }
}
