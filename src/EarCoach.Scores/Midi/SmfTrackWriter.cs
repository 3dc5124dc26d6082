namespace EarCoach.Scores.Midi;

/// <summary>Collects the events of one track and lays them out in order of time.</summary>
internal sealed class SmfTrackWriter
{
    private readonly List<(long Tick, int Rank, byte[] Bytes)> _events = [];

    /// <summary>Adds an event. At one tick lower ranks come first, and equal ranks in the order they were added.</summary>
    public void Add(long tick, int rank, params byte[] bytes) => _events.Add((tick, rank, bytes));

    public void AddMeta(long tick, byte type, params byte[] content) => Add(tick, 0, [0xFF, type, .. VariableLength(content.Length), .. content]);

    /// <summary>The content of the track chunk, closed by an end of track at the last event.</summary>
    public byte[] ToBytes()
    {
        List<byte> bytes = [];
        long now = 0;
        foreach ((long tick, _, byte[] content) in _events.OrderBy(entry => entry.Tick).ThenBy(entry => entry.Rank))
        {
            bytes.AddRange(VariableLength(tick - now));
            bytes.AddRange(content);
            now = tick;
        }

        bytes.AddRange([0, 0xFF, 0x2F, 0]);
        return [.. bytes];
    }

    /// <summary>Seven bits a byte, most significant first, the top bit set on all but the last (RP-001).</summary>
    private static byte[] VariableLength(long value)
    {
        List<byte> bytes = [(byte)(value & 0x7F)];
        for (long rest = value >> 7; rest > 0; rest >>= 7)
        {
            bytes.Insert(0, (byte)((rest & 0x7F) | 0x80));
        }

        return [.. bytes];
    }
}
