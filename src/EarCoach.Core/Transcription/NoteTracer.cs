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
    private const int SteadyFrames = 9;        // a pitch is one when it holds for 45 ms
    private const float SteadySemitones = 0.45f;
    private const float OtherSemitones = 0.62f; // wide vibrato stays below
    private const float FarSemitones = 1.3f;    // no vibrato reaches so far
    private const float JumpSemitones = 0.38f;
    private const float AttackBelowPeakDb = 9; // between where the sound rises (14 dB and more below) and where people mark a slow attack (about 6)
    private const float EndBelowPeakDb = 28;
    private const int LongestAttack = 12;      // 60 ms
    private const int ShortestAtEnd = 12;
    private const float LowNoteDb = 2;
    private const float RiseDb = 6;
    private const float NearlyDb = 5;
    private const float DipDb = 5.5f;
    private const float FluxRise = 0.10f;
    private const int LongestPitches = 4096;
    private readonly NoteFeatures _features;
    private readonly float[] _pitches = new float[LongestPitches];
    private readonly float[] _sorted = new float[LongestPitches];
    private readonly float[] _few = new float[SteadyFrames];
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
        Reset();
    }

    /// <summary>The most notes that a block of this many samples, or <see cref="Finish"/> (0 samples), can complete.</summary>
    public int MaxNotes(int sampleCount) => ((sampleCount / _features.HopSamples) + NoteFeatures.Kept) / SteadyFrames;

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
            if (Steady(t) is { } pitch && RiseAround(t) > RiseDb)
            {
                Begin(t, StruckOnset(t, Math.Max(0, t - 24)), pitch, slurred: false);
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

        if (IsOther(t) && Steady(t) is { } other && Math.Abs(other - _median) > OtherSemitones && (Math.Abs(other - _median) > FarSemitones || Jumped(t)))
        {
            bool struck = DipBefore(t) > DipDb;
            double onset = struck ? StruckOnset(t, Math.Max(_since, t - 24)) : t;
            if (!_slurred && t - Math.Max(_onset, _since) < LongestAttack)
            {
                Begin(t, _onset, other, slurred: false); // what came before was the attack
                return 0;
            }

            notes[0] = End(onset);
            Begin(t, onset, other, !struck);
            return 1;
        }

        if (t - _onset > 14 && IsNew(t) && DipBefore(t) > DipDb + (PeriodReach() > 0 ? LowNoteDb : 0) && Steady(t + 4) is { } again)
        {
            double onset = StruckOnset(t, Math.Max(_since, t - 16));
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
            _median = Median(_sorted.AsSpan(0, recent));
        }
    }

    private HeardNote End(double at)
    {
        // The attack is no measure of the pitch: it is left out where enough remains.
        int skip = _pitchCount > 24 ? 8 : _pitchCount > 14 ? 4 : 0;
        int tail = _pitchCount > 24 ? 4 : 0;
        int count = _pitchCount - skip - tail;
        _pitches.AsSpan(skip, count).CopyTo(_sorted);
        float midi = count > 0 ? Median(_sorted.AsSpan(0, count)) : _median;
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

    /// <summary>Whether the pitch has just changed faster than vibrato does: 50 cents at 5 Hz move by 0.31 semitones in 20 ms at most.</summary>
    private bool Jumped(long t)
    {
        for (long k = Math.Max(4, t - 10); k <= t; k++)
        {
            if (!_features[k].Voiced || !_features[k - 4].Voiced || Math.Abs(_features[k].Midi - _features[k - 4].Midi) > JumpSemitones)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The pitch that holds from a frame on; null: none does.</summary>
    private float? Steady(long t)
    {
        long last = Math.Min(t + SteadyFrames, _features.Count);
        if (t >= last || !_features[t].Voiced)
        {
            return null;
        }

        int count = 0;
        for (long k = t; k < last; k++)
        {
            if (_features[k].Voiced)
            {
                _few[count++] = _features[k].Midi;
            }
        }

        float median = Median(_few.AsSpan(0, count));
        int near = 0;
        foreach (float pitch in _few.AsSpan(0, count))
        {
            near += Math.Abs(pitch - median) <= SteadySemitones ? 1 : 0;
        }

        return near >= SteadyFrames - 1 && Math.Abs(_features[t].Midi - median) <= SteadySemitones ? median : null;
    }

    /// <summary>Whether much more is new at a frame than around it (the peak picking of Boeck, Krebs and Schedl 2012, ISMIR).</summary>
    private bool IsNew(long t)
    {
        float flux = _features.Flux(t);
        float sum = 0;
        int count = 0;
        for (long k = Math.Max(0, t - 20); k <= Math.Min(t + 14, _features.Count - 1); k++)
        {
            float other = _features.Flux(k);
            if (Math.Abs(k - t) <= 6 && other > flux)
            {
                return false;
            }

            sum += other;
            count++;
        }

        return flux > (sum / count) + FluxRise;
    }

    /// <summary>How far the level falls before a frame and comes back after it, in dB below the weaker of both sides.</summary>
    private float DipBefore(long t)
    {
        float lowDb = 0;
        long low = t;
        for (long k = Math.Max(_since, t - 14); k <= Math.Min(t + 3, _features.Count - 1); k++)
        {
            float db = SmoothLevel(k);
            (low, lowDb) = db < lowDb ? (k, db) : (low, lowDb);
        }

        float before = -200;
        for (long k = Math.Max(_since, low - 30); k < low; k++)
        {
            before = Math.Max(before, SmoothLevel(k));
        }

        float after = -200;
        for (long k = low + 1; k <= Math.Min(low + 24, _features.Count - 1); k++)
        {
            after = Math.Max(after, SmoothLevel(k));
        }

        return Math.Min(before, after) - lowDb;
    }

    /// <summary>Level over a period of the note at least: that of a low note swings within its period.</summary>
    private float SmoothLevel(long k)
    {
        int reach = PeriodReach();
        if (reach == 0)
        {
            return _features[k].LevelDbfs;
        }

        double power = 0;
        int count = 0;
        for (long j = Math.Max(0, k - reach); j <= Math.Min(k + reach, _features.Count - 1); j++, count++)
        {
            power += Math.Pow(10, _features[j].LevelDbfs / 10);
        }

        return (float)(10 * Math.Log10(power / count));
    }

    /// <summary>Frames to each side over which the level of the note must be smoothed; 0 for all but the lowest notes.</summary>
    private int PeriodReach()
    {
        double period = _features.FramesPerSecond / (440 * Math.Pow(2, (_median - 69) / 12));
        return Math.Max(0, (int)Math.Round((period - 4) * 0.75)); // 4 frames: what a frame's level is taken over
    }

    /// <summary>How far the level rises about a frame, in dB: what only rings on does not.</summary>
    private float RiseAround(long t)
    {
        float low = 0;
        for (long k = Math.Max(0, t - 60); k <= t; k++)
        {
            low = Math.Min(low, _features[k].LevelDbfs);
        }

        float top = -200;
        for (long k = t; k <= Math.Min(t + 30, _features.Count - 1); k++)
        {
            top = Math.Max(top, _features[k].LevelDbfs);
        }

        return t < 20 ? 200 : top - low; // before the stream all was silent
    }

    /// <summary>Where the level rises to a struck note, in frames.</summary>
    private double StruckOnset(long t, long earliest)
    {
        float topDb = -200;
        long last = Math.Min(t + 30, _features.Count - 1);
        for (long k = t; k <= last; k++)
        {
            topDb = Math.Max(topDb, _features[k].LevelDbfs);
        }

        long loud = t; // the first frame from which on it is nearly as loud as it will be
        while (loud < last && _features[loud].LevelDbfs < topDb - NearlyDb)
        {
            loud++;
        }

        long low = loud;
        for (long k = earliest; k <= loud; k++)
        {
            low = _features[k].LevelDbfs <= _features[low].LevelDbfs ? k : low;
        }

        float lowDb = _features[low].LevelDbfs;
        float goal = Math.Max(topDb - AttackBelowPeakDb, lowDb + (0.25f * (topDb - lowDb)));
        for (long k = loud; k > low; k--)
        {
            float above = _features[k].LevelDbfs;
            float below = _features[k - 1].LevelDbfs;
            if (below <= goal && above > goal)
            {
                return k - 1 + ((goal - below) / (above - below));
            }
        }

        return low;
    }

    private static float Median(Span<float> values)
    {
        values.Sort();
        return values[values.Length / 2];
    }
}
