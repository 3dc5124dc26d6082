using System.CommandLine;
using System.Globalization;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Core.Tracing;
using EarCoach.Core.Transcription;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>`trace AUDIO`: the pitch and level that were heard, frame by frame, or the notes, without any score.</summary>
internal sealed class TraceCommand
{
    private const double BlockSeconds = 0.05;
    private const double LowestHz = 38;
    private const double HighestHz = 4_700;
    private readonly SoundOptions _sound = SoundOptions.AsArgument();
    private readonly Option<bool> _csv = new("--csv") { Description = "Comma-separated values: the only form there is, and the default." };
    private readonly Option<bool> _notes = new("--notes") { Description = "A line for each note that was heard instead: onset_s,offset_s,midi,cents,level_dbfs,slurred." };
    private readonly Option<string?> _instrument = new("--instrument") { Description = "Looks for the pitches of this instrument alone; without it, tuba to piccolo.", HelpName = "NAME" };
    private readonly Option<double?> _lowest = new("--lowest") { Description = "Lowest pitch that is looked for, in hertz.", HelpName = "HZ" };
    private readonly Option<double?> _highest = new("--highest") { Description = "Highest pitch that is looked for, in hertz.", HelpName = "HZ" };
    private readonly Option<double> _hop = new("--hop") { Description = "Time from frame to frame, in milliseconds.", HelpName = "MS", DefaultValueFactory = _ => 10 };

    public TraceCommand(Streams streams)
    {
        _lowest.Validators.Add(result => Limits.Require(result, 22, 2_000));
        _highest.Validators.Add(result => Limits.Require(result, 100, 5_000));
        _hop.Validators.Add(result => Limits.Require(result, 2, 50));
        Command = new Command("trace", "Writes the pitch and level that were heard, a line a frame: time_s,f0_hz,voiced,level_dbfs.");
        _sound.AddTo(Command);
        Command.Add(_csv);
        Command.Add(_notes);
        Command.Add(_instrument);
        Command.Add(_lowest);
        Command.Add(_highest);
        Command.Add(_hop);
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

        TracerOptions options = OptionsOf(parsed, source.SampleRateHz);
        if (parsed.GetValue(_notes))
        {
            WriteNotes(sound, options, streams.Output);
        }
        else
        {
            WriteFrames(sound, options, streams.Output);
        }

        return ExitCode.Done;
    }

    private static void WriteFrames(StoppableSource sound, TracerOptions options, TextWriter output)
    {
        output.Write("time_s,f0_hz,voiced,level_dbfs\n");
        var tracer = new PitchTracer(options);
        float[] block = new float[(int)(options.SampleRateHz * BlockSeconds)];
        var frames = new TracedFrame[Math.Max(tracer.MaxFrames(block.Length), tracer.MaxFrames(0))];
        var line = new CsvLine(output);
        for (int count = sound.Read(block); count > 0; count = sound.Read(block))
        {
            Write(frames.AsSpan(0, tracer.Process(block.AsSpan(0, count), frames)));
        }

        Write(frames.AsSpan(0, tracer.Finish(frames)));
        line.Flush();

        void Write(ReadOnlySpan<TracedFrame> traced)
        {
            foreach (TracedFrame frame in traced)
            {
                line.Number((double)frame.CentreSample / options.SampleRateHz, 4).Number(frame.Voiced ? frame.FrequencyHz : 0, 3)
                    .Number(frame.Voiced ? 1 : 0, 0).Number(frame.LevelDbfs, 1).End();
            }
        }
    }

    private static void WriteNotes(StoppableSource sound, TracerOptions options, TextWriter output)
    {
        output.Write("onset_s,offset_s,midi,cents,level_dbfs,slurred\n");
        var tracer = new NoteTracer(options);
        float[] block = new float[(int)(options.SampleRateHz * BlockSeconds)];
        var notes = new HeardNote[Math.Max(tracer.MaxNotes(block.Length), tracer.MaxNotes(0))];
        var line = new CsvLine(output);
        for (int count = sound.Read(block); count > 0; count = sound.Read(block))
        {
            Write(notes.AsSpan(0, tracer.Process(block.AsSpan(0, count), notes)));
        }

        Write(notes.AsSpan(0, tracer.Finish(notes)));
        line.Flush();

        void Write(ReadOnlySpan<HeardNote> heard)
        {
            foreach (HeardNote note in heard)
            {
                line.Number((double)note.OnsetSample / options.SampleRateHz, 3).Number((double)note.OffsetSample / options.SampleRateHz, 3)
                    .Number(note.NearestMidi, 0).Number(note.Cents, 1).Number(note.LevelDbfs, 1).Number(note.Slurred ? 1 : 0, 0).End();
            }
        }
    }

    private TracerOptions OptionsOf(ParseResult parsed, int sampleRateHz)
    {
        Instrument? instrument = parsed.GetValue(_instrument) is { } name ? PassageFile.Named(name) : null;
        double lowest = parsed.GetValue(_lowest) ?? (instrument is null ? LowestHz : Math.Max(22, EqualTemperament.HzOf(instrument.EarLowest)));
        double highest = parsed.GetValue(_highest) ?? (instrument is null ? HighestHz : Math.Min(5_000, EqualTemperament.HzOf(instrument.EarHighest)));
        highest = Math.Min(highest, sampleRateHz / 3.5);
        return lowest < highest
            ? new TracerOptions { SampleRateHz = sampleRateHz, LowestPitchHz = lowest, HighestPitchHz = highest, HopMs = parsed.GetValue(_hop) }
            : throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--lowest is {lowest} and --highest {highest}; the lowest must be below the highest."));
    }
}
