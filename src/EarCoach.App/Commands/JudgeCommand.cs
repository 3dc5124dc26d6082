using System.CommandLine;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>`judge PASSAGE AUDIO`: finds the attempts in a recording and says what was wrong with each.</summary>
internal sealed class JudgeCommand
{
    private readonly Argument<string> _passage = new("PASSAGE") { Description = "The notes: a MIDI, MusicXML (.musicxml, .mxl) or ABC file." };
    private readonly PassageOptions _line = new();
    private readonly SoundOptions _sound = SoundOptions.AsArgument();
    private readonly StrictnessOptions _strictness = new("fitted");
    private readonly Option<bool> _json = new("--json") { Description = "Write one JSON object instead of the table." };

    public JudgeCommand(Streams streams)
    {
        Command = new Command("judge", "Finds the attempts in a recording and says of each whether it was clean, and what was wrong.") { _passage };
        _sound.AddTo(Command);
        Command.Add(_json);
        _strictness.AddTo(Command);
        _line.AddTo(Command);
        Command.SetAction((parsed, stop) => Task.FromResult(Run(parsed, streams, stop)));
    }

    public Command Command { get; }

    private int Run(ParseResult parsed, Streams streams, CancellationToken stop)
    {
        Passage passage = _line.Read(parsed, parsed.GetRequiredValue(_passage), streams);
        using IAudioSource source = _sound.Open(parsed, streams);
        Tolerances tolerances = _strictness.TolerancesOf(parsed, passage, TimingMode.Fitted);
        var task = new JudgingTask(passage, _strictness.TempoOf(parsed), tolerances, _strictness.A4Of(parsed));
        var report = new JudgeReport(task, source, _strictness.LevelOf(parsed));
        new JudgeRun(report, streams, parsed.GetValue(_json) ? new JudgeJson(report) : new JudgeTable(report)).Run(stop);
        return ExitCode.Done;
    }
}
