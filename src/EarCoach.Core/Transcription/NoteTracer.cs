using EarCoach.Core.Tracing;

namespace EarCoach.Core.Transcription;

/// <summary>Turns a stream of samples into the notes of unknown playing: no score is known.</summary>
/// <remarks>
/// [one thread] A note begins where a steady pitch sets in, where the pitch goes over to another one, or where the level falls and comes back
/// with much that is new in the spectrum. After construction: no allocation, no lock, no clock but the sample count. The notes do not depend on
/// where the stream is cut into blocks. The limits below are choices, made on recordings.
/// </remarks>
public sealed class NoteTracer
{
    private const double HopMs = 5;
    private const int Ahead = 40;              // frames that are known after the one looked at: 0.2 s
    private const float OtherSemitones = 0.62f; // wide vibrato stays below
    private const float FarSemitones = 1.3f;    // no vibrato reaches so far
    private const float EndBelowPeakDb = 28;
    private const int LongestAttack = 12;      // 60 ms
    private const int ShortestAtEnd = 12;
    private const float LowNoteDb = 2;
    private const float RiseDb = 6;
    private const float DipDb = 5.5f;
    private const int LongestPitches = 4096;
    private readonly NoteFeatures _features;
    private readonly NoteEvidence _evidence;
    private readonly float[] _pitches = new float[LongestPitches];
    private readonly float[] _sorted = new float[LongestPitches];
    private int _pitchCount;
    private long _next;       // frame to look at
    private bool _sounding;
    private bool _slurred;
    private double _onset;    // frames
    private long _since;      // frame from which the note's pitch counts
    private float _peakDb;
    private float _median;

    /// <summary>Makes a tracer of notes.</summary>
    /// <param name="options">The hop is set by the tracer itself.</param>
    /// <exception cref="ArgumentException">A setting breaks its rule; the message names each.</exception>
    public NoteTracer(TracerOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        _features = new NoteFeatures(options with { HopMs = HopMs });
        _evidence = new NoteEvidence(_features);
        Reset();
    }

    /// <summary>The most notes that a block of this many samples, or <see cref="Finish"/> (0 samples), can complete.</summary>
    public int MaxNotes(int sampleCount) => ((sampleCount / _features.HopSamples) + NoteFeatures.Kept) / NoteEvidence.SteadyFrames;

    /// <summary>Hears a block and writes the notes that have ended.</summary>
    /// <param name="samples">The next samples.</param>
    /// <param name="notes">At least <see cref="MaxNotes"/> long.</param>
    /// <returns>How many notes were written.</returns>
    public int Process(ReadOnlySpan<float> samples, Span<HeardNote> notes)
    {
        int written = 0;
        while (samples.Length > 0)
        {
            int take = Math.Min(samples.Length, NoteFeatures.Piece);
            _features.Add(samples[..take]);
            samples = samples[take..];
            while (_next + Ahead < _features.Count)
            {
                written += Look(_next++, notes[written..]);
            }
        }

        return written;
    }

    /// <summary>The stream has ended: writes the notes still open. Then only Reset may follow.</summary>
    public int Finish(Span<HeardNote> notes)
    {
        _features.Finish();
        int written = 0;
        while (_next < _features.Count)
        {
            written += Look(_next++, notes[written..]);
        }

        if (_sounding)
        {
            notes[written++] = End(_next);
        }

        return written;
    }

    /// <summary>Afterwards it behaves as new.</summary>
    public void Reset()
    {
        _features.Reset();
        _next = 0;
        _sounding = false;
        _pitchCount = 0;
    }

    private int Look(long t, Span<HeardNote> notes)
    {
        if (!_sounding)
        {
            if (_evidence.Steady(t) is { } pitch && _evidence.RiseAround(t) > RiseDb)
            {
                Begin(t, _evidence.StruckOnset(t, Math.Max(0, t - 24)), pitch, slurred: false);
            }

            return 0;
        }

        if (Ended(t))
        {
            _sounding = false;
            bool release = _slurred && t - _since < ShortestAtEnd; // a pitch that is passed while the tone dies away
            notes[0] = End(t);
            return release ? 0 : 1;
        }

        if (IsOther(t) && _evidence.Steady(t) is { } other && Math.Abs(other - _median) > OtherSemitones && (Math.Abs(other - _median) > FarSemitones || _evidence.Jumped(t)))
        {
            bool struck = _evidence.DipBefore(t, _since, _median) > DipDb;
            double onset = struck ? _evidence.StruckOnset(t, Math.Max(_since, t - 24)) : t;
            if (!_slurred && t - Math.Max(_onset, _since) < LongestAttack)
            {
                Begin(t, _onset, other, slurred: false); // what came before was the attack
                return 0;
            }

            notes[0] = End(onset);
            Begin(t, onset, other, !struck);
            return 1;
        }

        if (t - _onset > 14 && _evidence.IsNew(t) && _evidence.DipBefore(t, _since, _median) > DipDb + (_evidence.PeriodReach(_median) > 0 ? LowNoteDb : 0) && _evidence.Steady(t + 4) is { } again)
        {
            double onset = _evidence.StruckOnset(t, Math.Max(_since, t - 16));
            notes[0] = End(onset);
            Begin(t, onset, again, slurred: false);
            return 1;
        }

        Follow(t);
        return 0;
    }

    private void Begin(long t, double onset, float pitch, bool slurred)
    {
        _sounding = true;
        _slurred = slurred;
        _onset = onset;
        _since = t;
        _median = pitch;
        _pitchCount = 0;
        _peakDb = _features[t].LevelDbfs;
        Follow(t);
    }

    private void Follow(long t)
    {
        TracedFrame frame = _features[t];
        _peakDb = Math.Max(_peakDb, frame.LevelDbfs);
        if (!frame.Voiced || Math.Abs(frame.Midi - _median) > 1)
        {
            return;
        }

        if (_pitchCount < LongestPitches)
        {
            _pitches[_pitchCount++] = frame.Midi;
        }

        if (_pitchCount < 60 || _pitchCount % 16 == 0)
        {
            int recent = Math.Min(_pitchCount, 60);
            _pitches.AsSpan(_pitchCount - recent, recent).CopyTo(_sorted);
            _median = NoteEvidence.Median(_sorted.AsSpan(0, recent));
        }
    }

    private HeardNote End(double at)
    {
        // The attack is no measure of the pitch: it is left out where enough remains.
        int skip = _pitchCount > 24 ? 8 : _pitchCount > 14 ? 4 : 0;
        int tail = _pitchCount > 24 ? 4 : 0;
        int count = _pitchCount - skip - tail;
        _pitches.AsSpan(skip, count).CopyTo(_sorted);
        float midi = count > 0 ? NoteEvidence.Median(_sorted.AsSpan(0, count)) : _median;
        return new HeardNote(
            (long)Math.Round(Math.Max(0, _onset) * _features.HopSamples), (long)Math.Round(Math.Max(at, _onset) * _features.HopSamples), midi, _peakDb, _slurred);
    }

    private bool Ended(long t)
    {
        if (_features[t].LevelDbfs < _peakDb - EndBelowPeakDb)
        {
            return true;
        }

        int silent = 0;
        for (long k = t; k < Math.Min(t + 8, _features.Count); k++)
        {
            silent += _features[k].Voiced ? 0 : 1;
        }

        return silent >= Math.Min(8, _features.Count - t);
    }

    private bool IsOther(long t) => _features[t].Voiced && Math.Abs(_features[t].Midi - _median) > OtherSemitones;
}
