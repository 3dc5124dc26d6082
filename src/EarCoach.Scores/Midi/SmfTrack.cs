namespace EarCoach.Scores.Midi;

/// <summary>The events of one track that a passage is made of; times are ticks from the start of the file.</summary>
internal sealed class SmfTrack
{
    private readonly Dictionary<int, Queue<int>> _sounding = [];

    public string? Name { get; set; }

    public List<SmfNote> Notes { get; } = [];

    public List<(long Tick, int MicrosecondsPerQuarter)> Tempi { get; } = [];

    public List<(long Tick, int Beats, int BeatType)> Meters { get; } = [];

    public List<(long Tick, int Fifths)> Keys { get; } = [];

    /// <summary>The first program of each channel, 1 to 128.</summary>
    public Dictionary<int, int> Programs { get; } = [];

    public void NoteOn(long tick, int channel, int pitch)
    {
        int key = (channel * 128) + pitch;
        if (!_sounding.TryGetValue(key, out Queue<int>? waiting))
        {
            _sounding[key] = waiting = new Queue<int>();
        }

        waiting.Enqueue(Notes.Count);
        Notes.Add(new SmfNote(tick, End: null, channel, pitch));
    }

    /// <summary>Ends the note of this pitch that began first; an end without a beginning changes nothing.</summary>
    public void NoteOff(long tick, int channel, int pitch)
    {
        if (_sounding.TryGetValue((channel * 128) + pitch, out Queue<int>? waiting) && waiting.TryDequeue(out int index))
        {
            Notes[index] = Notes[index] with { End = tick };
        }
    }
}
