namespace EarCoach.Core.Passages;

/// <summary>By what a chain grows.</summary>
public enum ChainUnit
{
    /// <summary>One required note more each time; ornaments come along with the note after them.</summary>
    Note,

    /// <summary>The notes of one beat more (in 6/8 and its like the beat is the dotted crotchet).</summary>
    Beat,

    /// <summary>The notes of one bar more.</summary>
    Bar,
}
