using System.Diagnostics;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>Reads the sound to its end, block by block, and hands every decided attempt to the writer at once.</summary>
internal sealed class JudgeRun
{
    private const double BlockSeconds = 0.02;
    private static readonly TimeSpan _longWork = TimeSpan.FromSeconds(1);
    private readonly JudgeReport _report;
    private readonly Streams _streams;
    private readonly IJudgeWriter _writer;
    private readonly IAudioSource _source;
    private readonly Ear _ear;
    private readonly float[] _block;
    private long _clock;
    private long _lost;

    public JudgeRun(JudgeReport report, Streams streams, IJudgeWriter writer)
    {
        _report = report;
        _streams = streams;
        _writer = writer;
        _source = report.Source;
        _ear = new Ear(_source.SampleRateHz, report.Task);
        _block = new float[(int)(_source.SampleRateHz * BlockSeconds)];
    }

    public void Run(CancellationToken stop)
    {
        foreach (string remark in _source.Remarks)
        {
            _streams.Error.WriteLine(remark);
        }

        int remarked = _source.Remarks.Count;
        using var sound = new StoppableSource(_source, stop);
        bool progress = _streams.ErrorIsTerminal && _source.LengthSamples is not null;
        _writer.Begin(_streams.Output);
        _streams.Output.Flush();
        long began = Stopwatch.GetTimestamp();
        bool more = true;
        while (more && !(progress && Stopwatch.GetElapsedTime(began) > _longWork))
        {
            more = Step(sound);
        }

        if (more)
        {
            ProgressBar.Run(_streams.Error, "Listening", _source.LengthSamples!.Value, () => _clock, () => Step(sound));
        }

        if (_clock == 0 && !sound.WasStopped)
        {
            throw new InputException("No sound came: not one sample. Check what writes into the pipe, or the microphone.");
        }

        if (!sound.WasStopped)
        {
            _ear.Finish(); // an attempt that the person cut off by stopping the program is none
        }

        TakeDecided();
        foreach (string remark in _source.Remarks.Skip(remarked))
        {
            _streams.Error.WriteLine(remark);
        }

        _writer.End(_streams.Output);
        _streams.Output.Flush();
    }

    private bool Step(StoppableSource sound)
    {
        int count = sound.Read(_block);
        if (count == 0)
        {
            return false;
        }

        long gap = _source.LostSamples - _lost;
        _lost += gap;
        _clock += gap;
        _ear.Hear(new AudioBlock(_block.AsSpan(0, count), _clock, gap > 0));
        _clock += count;
        _report.HeardSeconds = (double)_clock / _source.SampleRateHz;
        TakeDecided();
        return true;
    }

    private void TakeDecided()
    {
        while (_ear.TryTake(out AttemptResult? attempt) && attempt is not null)
        {
            _report.Add(attempt);
            _writer.Attempt(_streams.Output, attempt, _report.Attempts.Count);
            if (_source.LengthSamples is null)
            {
                _streams.Output.Flush(); // a player waits for it
            }
        }
    }
}
