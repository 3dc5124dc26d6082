namespace EarCoach.Core.Passages;

/// <summary>Articulation marks of a note.</summary>
[Flags]
public enum Articulations
{
    /// <summary>No mark.</summary>
    None = 0,

    /// <summary>Staccato: a dot.</summary>
    Staccato = 1,

    /// <summary>Tenuto: a line.</summary>
    Tenuto = 2,

    /// <summary>Accent.</summary>
    Accent = 4,

    /// <summary>Marcato: a strong accent.</summary>
    Marcato = 8,

    /// <summary>A fermata: held freely.</summary>
    Fermata = 16,
}
