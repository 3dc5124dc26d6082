using EarCoach.Core.Passages;

namespace EarCoach.Scores.Written;

/// <summary>A measure of the chosen voice as it stands on the page.</summary>
internal sealed class WrittenMeasure
{
    public required string Number { get; set; }

    public required bool IsImplicit { get; init; }

    /// <summary>The metre in force.</summary>
    public required MeterMark Meter { get; set; }

    /// <summary>Whether a time signature stands in it.</summary>
    public bool HasTimeSignature { get; set; }

    /// <summary>Length of what is in it, over all voices; where nothing is in it, that of the metre.</summary>
    public Fraction Length { get; set; }

    /// <summary>Offsets in quarter notes from the start of the measure, and quarter notes a minute.</summary>
    public List<(Fraction Offset, double QuartersPerMinute)> Tempi { get; } = [];

    public bool RepeatStarts { get; set; }

    /// <summary>How often the music up to the end of this measure is played in all; 0: no repeat sign ends it.</summary>
    public int RepeatEnds { get; set; }

    /// <summary>The passes on which this measure is played, where it stands in a volta; empty: on all.</summary>
    public IReadOnlyCollection<int> EndingNumbers { get; set; } = [];

    /// <summary>A jump (da capo, dal segno, to coda) that stands here, and its place; null: none.</summary>
    public (string Name, string Place)? Jump { get; set; }
}
