using System.CommandLine;
using System.Globalization;
using EarCoach.Core.Judging;
using EarCoach.Core.Levels;
using EarCoach.Core.Passages;

namespace EarCoach.App.Commands;

/// <summary>The options by which a command is told how strictly to judge.</summary>
internal sealed class StrictnessOptions
{
    private readonly Option<TimingMode?> _timing;

    private readonly Option<PlayerLevel?> _level = new("--level")
    {
        Description = "How strict, by the player: sets --cents, --ms, --crack-ms and the room for the tempo, each unless given.",
        HelpName = "beginner|amateur|advanced|professional",
        CustomParser = result => Limits.Pick<PlayerLevel>(result, "--level"),
    };

    private readonly Option<string?> _cents = new("--cents") { Description = "Room for a note's pitch, in cents; off: only the semitone counts. Default 25.", HelpName = "CENTS" };
    private readonly Option<double?> _ms = new("--ms") { Description = "Room for a note's start, in milliseconds. Default 60.", HelpName = "MS" };
    private readonly Option<double?> _crackMs = new("--crack-ms") { Description = "Longest crack that is forgiven, in milliseconds. Default 40.", HelpName = "MS" };
    private readonly Option<double> _a4 = new("--a4") { Description = "The A you are tuned to, in hertz.", HelpName = "HZ", DefaultValueFactory = _ => 440.0 };
    private readonly Option<double?> _bpm = new("--bpm") { Description = "Asked tempo in quarter notes a minute. Default: the passage's own.", HelpName = "BPM" };

    /// <param name="usualTiming">The default of --timing, for its description.</param>
    public StrictnessOptions(string usualTiming)
    {
        _timing = new Option<TimingMode?>("--timing")
        {
            Description = $"off: pitch only. fitted: against a steady tempo found in the attempt itself. strict: against the asked tempo. rhythm: long notes clearly longer than short ones, at a steady tempo. Default: {usualTiming}.",
            HelpName = "off|fitted|strict|rhythm",
            CustomParser = result => Limits.Pick<TimingMode>(result, "--timing"),
        };
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
    }

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _timing, _level, _cents, _ms, _crackMs, _a4, _bpm })
        {
            command.Add(option);
        }
    }

    public PlayerLevel? LevelOf(ParseResult parsed) => parsed.GetValue(_level);

    public double A4Of(ParseResult parsed) => parsed.GetValue(_a4);

    /// <summary>Quarter notes a minute; null: the passage's own tempo.</summary>
    public double? TempoOf(ParseResult parsed) => parsed.GetValue(_bpm);

    public Tolerances TolerancesOf(ParseResult parsed, Passage passage, TimingMode usualTiming)
    {
        Tolerances basis = LevelOf(parsed) is { } level ? LevelTolerances.Of(level, passage, TempoOf(parsed)) : new Tolerances();
        double? cents = parsed.GetValue(_cents) switch
        {
            null => basis.Cents,
            "off" => null,
            string number => double.Parse(number, CultureInfo.InvariantCulture),
        };
        return basis with
        {
            Timing = parsed.GetValue(_timing) ?? usualTiming,
            Cents = cents,
            OnsetMs = parsed.GetValue(_ms) ?? basis.OnsetMs,
            CrackMs = parsed.GetValue(_crackMs) ?? basis.CrackMs,
        };
    }
}
