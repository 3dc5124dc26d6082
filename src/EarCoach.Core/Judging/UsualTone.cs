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
    private const double NearDb = 5;
    private readonly Dictionary<(int Midi, int Times), Levels> _levels = [];

    /// <summary>Takes in one note.</summary>
    /// <param name="midi">Its pitch, as a MIDI note number.</param>
    /// <param name="times">How many times shorter the period of the tone above is.</param>
    /// <param name="loudestDb">The loudest of the harmonics that only the note has, against the strongest of all, in dB.</param>
    /// <param name="isUnusual">Whether it was taken for the tone above because it is not what was usual until then.</param>
    /// <param name="isPlain">Whether they are plainly heard.</param>
    public void Learn(double midi, int times, double loudestDb, bool isUnusual, bool isPlain)
    {
        (int Midi, int Times) key = Key(midi, times);
        if (!_levels.TryGetValue(key, out Levels? levels))
        {
            _levels.Add(key, levels = new Levels([], [], []));
        }

        if (!isUnusual)
        {
            Add(levels.Heard, loudestDb);
            if (isPlain)
            {
                levels.Unusual.Clear();
                Add(levels.Usual, loudestDb);
            }

            return;
        }

        levels.Unusual.Add(loudestDb);
        if (levels.Unusual.Count >= NoSlip)
        {
            _levels[key] = new Levels(levels.Unusual, [], [.. levels.Unusual]);
        }
    }

    /// <summary>How loud the loudest of the harmonics that only the note has usually is, where they are plainly heard; null where too few are known.</summary>
    /// <param name="midi">Its pitch, as a MIDI note number.</param>
    /// <param name="times">How many times shorter the period of the tone above is.</param>
    /// <returns>The median and the least, in dB.</returns>
    public (double MedianDb, double LeastDb)? LoudestOwn(double midi, int times) =>
        _levels.TryGetValue(Key(midi, times), out Levels? levels) && levels.Usual.Count >= Least ? (Median(levels.Usual), levels.Usual.Min()) : null;

    /// <summary>Whether the loudest of the harmonics that only the note has is as loud as it usually is, however weak that may be.</summary>
    /// <param name="midi">Its pitch, as a MIDI note number.</param>
    /// <param name="times">How many times shorter the period of the tone above is.</param>
    /// <param name="loudestDb">How loud it is, in dB.</param>
    public bool IsAsLoudAsEver(double midi, int times, double loudestDb) =>
        _levels.TryGetValue(Key(midi, times), out Levels? levels) && levels.Heard.Count >= Least && loudestDb > Median(levels.Heard) - NearDb;

    /// <summary>Forgets everything: the tone is another one.</summary>
    public void Forget() => _levels.Clear();

    /// <summary>One that knows the same and goes its own way from here.</summary>
    public UsualTone Copy()
    {
        var copy = new UsualTone();
        foreach (((int Midi, int Times) key, Levels levels) in _levels)
        {
            copy._levels.Add(key, new Levels([.. levels.Usual], [.. levels.Unusual], [.. levels.Heard]));
        }

        return copy;
    }

    private static (int Midi, int Times) Key(double midi, int times) => ((int)Math.Round(midi), times);

    private static double Median(List<double> levels) => levels.Order().ElementAt((levels.Count - 1) / 2);

    private static void Add(List<double> levels, double db)
    {
        levels.Add(db);
        levels.RemoveRange(0, Math.Max(0, levels.Count - Most));
    }

    /// <summary>The last levels of one note, in dB.</summary>
    /// <param name="Usual">Those that were plainly heard.</param>
    /// <param name="Unusual">Those in a row that were not what is usual.</param>
    /// <param name="Heard">Those that were heard, plainly or not.</param>
    private sealed record Levels(List<double> Usual, List<double> Unusual, List<double> Heard);
}
