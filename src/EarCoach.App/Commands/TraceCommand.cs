using System.CommandLine;
using System.Globalization;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>`trace AUDIO`: the pitch and level that were heard, frame by frame.</summary>
internal sealed class TraceCommand
{
    private readonly SoundOptions _sound = new();
    private readonly Option<bool> _csv = new("--csv") { Description = "Comma-separated values (the only form there is, and the default)." };

    public TraceCommand(Streams streams)
    {
        Command = new Command("trace", "Writes the pitch and level that were heard, a line a frame: time_s,f0_hz,voiced,level_dbfs.");
        _sound.AddTo(Command);
        Command.Add(_csv);
        Command.SetAction((parsed, stop) => Task.FromResult(Run(parsed, streams, stop)));
    }

    public Command Command { get; }

    private int Run(ParseResult parsed, Streams streams, CancellationToken stop)
    {
        using IAudioSource source = _sound.Open(parsed, streams);
        using CancellationTokenRegistration end = stop.Register(source.Dispose);
        foreach (string remark in source.Remarks)
        {
            streams.Error.WriteLine(remark);
        }

        LiveTraceSource trace = new LiveTraceSource(source.SampleRateHz);
        float[] block = new float[source.SampleRateHz / 200];
        streams.Output.WriteLine("time_s,f0_hz,voiced,level_dbfs");
        for (int count = source.Read(block); count > 0; count = source.Read(block))
        {
            trace.Hear(block.AsSpan(0, count));
            Write(trace, streams.Output);
        }

        trace.Finish();
        Write(trace, streams.Output);
        return ExitCode.Done;
    }

    private static void Write(LiveTraceSource trace, TextWriter output)
    {
        while (trace.TryTake(out TraceFrame frame))
        {
            string hz = frame.FrequencyHz is { } known ? known.ToString("0.###", CultureInfo.InvariantCulture) : "0";
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{frame.Seconds:0.0000},{hz},{(frame.FrequencyHz is null ? 0 : 1)},{frame.LevelDbfs:0.0}"));
        }
    }
}
