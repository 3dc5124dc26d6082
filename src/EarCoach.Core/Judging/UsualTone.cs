namespace EarCoach.Core.Judging;

/// <summary>How a player's notes sounded in the attempts before: how loud those harmonics were that a tone an octave or more above would lack.</summary>
/// <remarks>
/// Each instrument, player and room has its own, and keeps it: a median of a few attempts foretells the next. What differs from it again and again
/// is no slip but another tone, of another mouthpiece or a mute.
/// </remarks>
internal sealed class UsualTone
{
    private const int Least = 2;       // notes
    private const int Most = 15;
    private const int NoSlip = 3;      // in a row
    private readonly Dictionary<(int Midi, int Times), Levels> _levels = [];

    /// <summary>Takes in one note.</summary>
    /// <param name="midi">Its pitch, as a MIDI note number.</param>
    /// <param name="times">How many times shorter the period of the tone above is.</param>
    /// <param name="loudestDb">The loudest of the harmonics that only the note has, against the strongest of all, in dB.</param>
    /// <param name="isUnusual">Whether it was taken for the tone above because it is not what was usual until then.</param>
    public void Learn(double midi, int times, double loudestDb, bool isUnusual)
    {
        (int, int) key = ((int)Math.Round(midi), times);
        if (!_levels.TryGetValue(key, out Levels? levels))
        {
            _levels.Add(key, levels = new Levels([], []));
        }

        if (!isUnusual)
        {
            levels.Unusual.Clear();
            levels.Usual.Add(loudestDb);
            levels.Usual.RemoveRange(0, Math.Max(0, levels.Usual.Count - Most));
            return;
        }

        levels.Unusual.Add(loudestDb);
        if (levels.Unusual.Count >= NoSlip)
        {
            _levels[key] = new Levels(levels.Unusual, []);
        }
    }

    /// <summary>How loud the loudest of the harmonics that only the note has usually is; null where too few are known.</summary>
    /// <param name="midi">Its pitch, as a MIDI note number.</param>
    /// <param name="times">How many times shorter the period of the tone above is.</param>
    /// <returns>The median and the least, in dB.</returns>
    public (double MedianDb, double LeastDb)? LoudestOwn(double midi, int times)
    {
        if (!_levels.TryGetValue(((int)Math.Round(midi), times), out Levels? levels) || levels.Usual.Count < Least)
        {
            return null;
        }

        double[] usual = [.. levels.Usual.Order()];
        return (usual[(usual.Length - 1) / 2], usual[0]);
    }

    /// <summary>Forgets everything: the tone is another one.</summary>
    public void Forget() => _levels.Clear();

    /// <summary>One that knows the same and goes its own way from here.</summary>
    public UsualTone Copy()
    {
        var copy = new UsualTone();
        foreach (((int Midi, int Times) key, Levels levels) in _levels)
        {
            copy._levels.Add(key, new Levels([.. levels.Usual], [.. levels.Unusual]));
        }

        return copy;
    }

    private sealed record Levels(List<double> Usual, List<double> Unusual);
}
