using System.Collections.Immutable;

namespace EarCoach.Core.Listening;

/// <summary>Tells the program's own cue from playing: for a while its tones are nobody's, and whatever else sounds is heard as ever.</summary>
/// <remarks>A player who goes on at once plays into the cue. So not the time is masked but the cue's tones, and these only until another pitch has plainly begun.</remarks>
internal sealed class CueMask
{
    private const double MostSemitonesOff = 0.4; // a loudspeaker's clock is right to a cent; the frames of a change of tone lie between two
    private const int PlainFrames = 8;

    // A tone may be told as a part of itself (it repeats after two or three periods as well) or as its harmonic (in a room that favours it).
    private static readonly double[] _ratios = [1, 2, 3, 4, 5, 6, 8, 1 / 2.0, 1 / 3.0, 1 / 4.0, 1 / 5.0, 1 / 6.0, 1 / 8.0];

    private double[] _midis = [];
    private long _from = long.MaxValue;
    private long _until = long.MinValue;
    private int _otherRun;

    /// <summary>A cue is about to sound. One that is expected already is not forgotten.</summary>
    /// <param name="fromSample">When, on the capture clock; never earlier than the time before.</param>
    /// <param name="untilSample">Until when the room may still carry it.</param>
    /// <param name="tonesHz">Its tones, in hertz.</param>
    public void Expect(long fromSample, long untilSample, ImmutableArray<double> tonesHz)
    {
        if (_until < fromSample)
        {
            _midis = [];
            _from = fromSample;
        }

        _midis = [.. _midis, .. tonesHz.SelectMany(tone => _ratios.Select(ratio => EqualTemperament.MidiOf(tone * ratio)))];
        _until = Math.Max(_until, untilSample);
        _otherRun = 0;
    }

    /// <summary>Whether the next frame holds the cue.</summary>
    public bool Hides(in HeardFrame frame)
    {
        if (frame.CentreSample < _from || frame.CentreSample >= _until || frame.CandidateCount == 0)
        {
            return false;
        }

        if (IsCue(frame.Midi))
        {
            _otherRun = 0;
            return true;
        }

        _otherRun = frame.HasPitch ? _otherRun + 1 : 0;
        if (_otherRun == PlainFrames)
        {
            _until = frame.CentreSample; // somebody plays: from here on these tones may be his
        }

        return false;
    }

    private bool IsCue(float midi) => Array.Exists(_midis, tone => Math.Abs(tone - midi) <= MostSemitonesOff);
}
