using System.CommandLine;
using System.Globalization;
using EarCoach.Core.Listening;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>`trace AUDIO`: the pitch and level that were heard, frame by frame.</summary>
internal sealed class TraceCommand
{
    private const double BlockSeconds = 0.05;
    private readonly SoundOptions _sound = SoundOptions.AsArgument();
    private readonly Option<bool> _csv = new("--csv") { Description = "Comma-separated values: the only form there is, and the default." };
    private readonly Option<double> _lowest = new("--lowest") { Description = "Lowest pitch that is looked for, in hertz.", HelpName = "HZ", DefaultValueFactory = _ => 38 };
    private readonly Option<double> _highest = new("--highest") { Description = "Highest pitch that is looked for, in hertz.", HelpName = "HZ", DefaultValueFactory = _ => 4_700 };

    public TraceCommand(Streams streams)
    {
        _lowest.Validators.Add(result => Limits.Require(result, 22, 2_000));
        _highest.Validators.Add(result => Limits.Require(result, 100, 5_000));
        Command = new Command("trace", "Writes the pitch and level that were heard, a line a frame: time_s,f0_hz,voiced,level_dbfs.");
        _sound.AddTo(Command);
        Command.Add(_csv);
        Command.Add(_lowest);
        Command.Add(_highest);
        Command.SetAction((parsed, stop) => Task.FromResult(Run(parsed, streams, stop)));
    }

    public Command Command { get; }

    private int Run(ParseResult parsed, Streams streams, CancellationToken stop)
    {
        using IAudioSource source = _sound.Open(parsed, streams);
        using var sound = new StoppableSource(source, stop);
        foreach (string remark in source.Remarks)
        {
            streams.Error.WriteLine(remark);
        }

        float[] block = new float[(int)(source.SampleRateHz * BlockSeconds)];
        var trace = new TraceSource(OptionsOf(parsed, source.SampleRateHz), block.Length);
        TextWriter output = streams.Output;
        output.WriteLine("time_s,f0_hz,voiced,level_dbfs");
        for (int count = sound.Read(block); count > 0; count = sound.Read(block))
        {
            trace.Hear(block.AsSpan(0, count), frame => Write(frame, output));
        }

        return ExitCode.Done;
    }

    private ListenerOptions OptionsOf(ParseResult parsed, int sampleRateHz)
    {
        double lowest = parsed.GetValue(_lowest);
        double highest = Math.Min(parsed.GetValue(_highest), sampleRateHz / 3.5);
        return lowest < highest
            ? new ListenerOptions { SampleRateHz = sampleRateHz, LowestPitchHz = lowest, LikelyLowestPitchHz = lowest, HighestPitchHz = highest }
            : throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--lowest is {lowest} and --highest {highest}; the lowest must be below the highest."));
    }

    private static void Write(TraceFrame frame, TextWriter output)
    {
        Span<char> line = stackalloc char[96];
        (double hz, int voiced) = frame.FrequencyHz is { } known ? (known, 1) : (0, 0);
        line.TryWrite(CultureInfo.InvariantCulture, $"{frame.Seconds:0.0000},{hz:0.###},{voiced},{frame.LevelDbfs:0.0}", out int written);
        output.WriteLine(line[..written]);
    }
}
