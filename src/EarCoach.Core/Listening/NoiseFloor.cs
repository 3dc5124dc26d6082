namespace EarCoach.Core.Listening;

/// <summary>Follows the level of the room when nobody plays.</summary>
/// <remarks>
/// Smooths the power over about 60 ms, falls quickly to a lower level, rises slowly, and hardly rises while something periodic
/// sounds, or in the moments between two notes: a long note is no noise, nor is a run of them. Depends on time and level alone, so that a change of gain moves it by the same number of dB.
/// </remarks>
internal sealed class NoiseFloor(double framesPerSecond)
{
    private readonly double _smoothing = 1 - Math.Exp(-1 / (0.060 * framesPerSecond));
    private readonly double _fall = 1 - Math.Exp(-1 / (0.100 * framesPerSecond));
    private readonly double _risePerFrameDb = 4.0 / framesPerSecond;
    private readonly double _risePeriodicPerFrameDb = 0.15 / framesPerSecond;
    private readonly int _betweenNotesFrames = (int)(0.15 * framesPerSecond);
    private int _unclearFrames;
    private double _power;
    private double _floorDb;
    private int _frames;

    /// <summary>Takes one frame's level and clarity and gives the floor in dB relative to full scale.</summary>
    public float Next(float levelDbfs, float clarity)
    {
        double power = Math.Pow(10, levelDbfs / 10);
        _power = _frames == 0 ? power : _power + (_smoothing * (power - _power));
        double level = 10 * Math.Log10(_power + 1e-12);
        if (_frames == 0)
        {
            _floorDb = level;
        }
        else if (level < _floorDb)
        {
            _floorDb += _fall * (level - _floorDb);
        }
        else
        {
            double rise = clarity > 0.75f || _unclearFrames < _betweenNotesFrames ? _risePeriodicPerFrameDb : _risePerFrameDb;
            _floorDb = Math.Min(level, _floorDb + rise);
        }

        _unclearFrames = clarity > 0.75f ? 0 : _unclearFrames + 1;
        _frames++;
        return (float)_floorDb;
    }

    public void Reset()
    {
        _frames = 0;
        _power = 0;
        _floorDb = 0;
        _unclearFrames = 0;
    }
}
