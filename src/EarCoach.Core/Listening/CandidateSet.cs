using System.Runtime.CompilerServices;

namespace EarCoach.Core.Listening;

/// <summary>The candidates of one frame, likeliest first, stored in the frame itself so that frames need no allocation.</summary>
[InlineArray(Capacity)]
public struct CandidateSet
{
    /// <summary>The most candidates a frame keeps.</summary>
    public const int Capacity = 6;

#pragma warning disable IDE0044, CS0169 // The compiler lays out the other elements behind this field.
    private PitchCandidate _first;
#pragma warning restore IDE0044, CS0169
}
