using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using EarCoach.Core.Judging;
using EarCoach.Core.Levels;
using EarCoach.Core.Passages;
using EarCoach.Engine;
using EarCoach.Scores;

namespace EarCoach.App.Commands;

/// <summary>`judge PASSAGE AUDIO`: finds the attempts in a recording and says what was wrong with each.</summary>
internal sealed class JudgeCommand
{
    private const int LowestMidi = 21;   // A0, 27.5 Hz: two periods of it are 73 ms
    private const int HighestMidi = 108; // C8, the top of the piccolo
    private readonly Argument<string> _passage = new("PASSAGE") { Description = "The notes: a MIDI, MusicXML (.musicxml, .mxl) or ABC file." };
    private readonly SoundOptions _sound = new();
    private readonly Option<bool> _json = new("--json") { Description = "Write one JSON object instead of the table." };

    private readonly Option<TimingMode?> _timing = new("--timing")
    {
        Description = "off: pitch only. fitted: against a steady tempo found in the attempt itself (default). strict: against the asked tempo.",
        HelpName = "off|fitted|strict",
        CustomParser = ParseTiming,
    };

    private readonly Option<PlayerLevel?> _level = new("--level")
    {
        Description = "How strict, by the player: sets --cents, --ms, --crack-ms and the room for the tempo, each unless given.",
        HelpName = "beginner|amateur|advanced|professional",
        CustomParser = ParseLevel,
    };

    private readonly Option<string?> _cents = new("--cents") { Description = "Room for a note's pitch, in cents; off: only the semitone counts. Default 25.", HelpName = "CENTS" };
    private readonly Option<double?> _ms = new("--ms") { Description = "Room for a note's start, in milliseconds. Default 60.", HelpName = "MS" };
    private readonly Option<double?> _crackMs = new("--crack-ms") { Description = "Longest crack that is forgiven, in milliseconds. Default 40.", HelpName = "MS" };
    private readonly Option<double> _a4 = new("--a4") { Description = "The A you are tuned to, in hertz.", HelpName = "HZ", DefaultValueFactory = _ => 440.0 };
    private readonly Option<double?> _bpm = new("--bpm") { Description = "Asked tempo in quarter notes a minute. Default: the passage's own.", HelpName = "BPM" };
    private readonly Option<string?> _instrument = new("--instrument") { Description = "The instrument, so that notes are named as you read them: horn, \"clarinet in A\", ... Default: what the file says.", HelpName = "NAME" };
    private readonly Option<int?> _track = new("--track") { Description = "Track of the MIDI file, counted from 1.", HelpName = "N" };
    private readonly Option<int?> _channel = new("--channel") { Description = "Channel of the MIDI file, 1 to 16.", HelpName = "N" };

    private readonly Option<string?> _part = new("--part") { Description = "Part of the MusicXML file.", HelpName = "ID" };
    private readonly Option<string?> _voice = new("--voice") { Description = "Voice of that part.", HelpName = "N" };
    private readonly Option<int?> _tune = new("--tune") { Description = "Tune of the ABC file, by the number of its X: line.", HelpName = "N" };

    public JudgeCommand(Streams streams)
    {
        _cents.Validators.Add(result =>
        {
            if (result.Tokens is not [{ Value: "off" }])
            {
                Limits.Require(result, 1, 100);
            }
        });
        _ms.Validators.Add(result => Limits.Require(result, 1, 1_000));
        _crackMs.Validators.Add(result => Limits.Require(result, 0, 1_000));
        _a4.Validators.Add(result => Limits.Require(result, 380, 500));
        _bpm.Validators.Add(result => Limits.Require(result, 5, 600));
        _track.Validators.Add(result => Limits.Require(result, 1, 65_535));
        _channel.Validators.Add(result => Limits.Require(result, 1, 16));
        Command = new Command("judge", "Finds the attempts in a recording and says of each whether it was clean, and what was wrong.") { _passage };
        _sound.AddTo(Command);
        foreach (Option option in new Option[] { _json, _timing, _level, _cents, _ms, _crackMs, _a4, _bpm, _instrument, _track, _channel, _part, _voice, _tune })
        {
            Command.Add(option);
        }

        Command.SetAction((parsed, stop) => Task.FromResult(Run(parsed, streams, stop)));
    }

    public Command Command { get; }

    private static TimingMode? ParseTiming(ArgumentResult result) => Pick<TimingMode>(result, "--timing");

    private static PlayerLevel? ParseLevel(ArgumentResult result) => Pick<PlayerLevel>(result, "--level");

    private static T Pick<T>(ArgumentResult result, string option)
        where T : struct, Enum
    {
        string given = result.Tokens[0].Value;
        string[] names = [.. Enum.GetNames<T>().Select(name => name.ToLowerInvariant())];
        int index = Array.IndexOf(names, given);
        if (index < 0)
        {
            result.AddError($"{option} is '{given}'; it must be one of: {string.Join(", ", names)}.");
            return default;
        }

        return Enum.GetValues<T>()[index];
    }

    private int Run(ParseResult parsed, Streams streams, CancellationToken stop)
    {
        var choice = new PassageChoice(
            parsed.GetValue(_track), parsed.GetValue(_channel), parsed.GetValue(_part), parsed.GetValue(_voice), parsed.GetValue(_tune), parsed.GetValue(_instrument));
        ScoreReading reading = PassageFile.Read(parsed.GetRequiredValue(_passage), choice);
        Passage passage = reading.Passage;
        CheckRange(passage);
        foreach (string remark in reading.Remarks)
        {
            streams.Error.WriteLine(remark);
        }

        using IAudioSource source = _sound.Open(parsed, streams);
        JudgingTask task = TaskOf(parsed, passage);
        var report = new JudgeReport(task, source, parsed.GetValue(_level));
        new JudgeRun(report, streams, parsed.GetValue(_json) ? new JudgeJson(report) : new JudgeTable(report)).Run(stop);
        return ExitCode.Done;
    }

    private static void CheckRange(Passage passage)
    {
        if (passage.Notes.FirstOrDefault(note => note.MidiPitch is < LowestMidi or > HighestMidi) is { } note)
        {
            throw new InputException(
                $"{new BarMap(passage).PositionOf(note.Onset)}: the note {PitchSpelling.FromMidi(note.MidiPitch, passage.KeyFifths)} cannot be heard; notes from A0 to C8 can. Check the octave of the passage.");
        }
    }

    private JudgingTask TaskOf(ParseResult parsed, Passage passage)
    {
        double? bpm = parsed.GetValue(_bpm);
        Tolerances basis = parsed.GetValue(_level) is { } level ? LevelTolerances.Of(level, passage, bpm) : new Tolerances();
        double? cents = parsed.GetValue(_cents) switch
        {
            null => basis.Cents,
            "off" => null,
            string number => double.Parse(number, CultureInfo.InvariantCulture),
        };
        Tolerances tolerances = basis with
        {
            Timing = parsed.GetValue(_timing) ?? TimingMode.Fitted,
            Cents = cents,
            OnsetMs = parsed.GetValue(_ms) ?? basis.OnsetMs,
            CrackMs = parsed.GetValue(_crackMs) ?? basis.CrackMs,
        };
        return new JudgingTask(passage, bpm, tolerances, parsed.GetValue(_a4));
    }
}
