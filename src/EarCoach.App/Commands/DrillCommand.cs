using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Core.Progress;
using EarCoach.Engine;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using EarCoach.Storage;

namespace EarCoach.App.Commands;

/// <summary>`drill PASSAGE`: a whole drill in the terminal, over a recording or live. The same session as the page's.</summary>
internal sealed class DrillCommand
{
    private static readonly Dictionary<string, DrillKind> _kinds = new(StringComparer.Ordinal)
    {
        ["chain"] = DrillKind.Chain,
        ["rhythm"] = DrillKind.RhythmVariants,
        ["ladder"] = DrillKind.TempoLadder,
        ["proof"] = DrillKind.Proof,
        ["cold"] = DrillKind.ColdTake,
        ["rotation"] = DrillKind.Rotation,
        ["trouble"] = DrillKind.TroubleSpot,
    };

    private readonly Argument<string[]> _passages = new("PASSAGE") { Description = "The notes: a MIDI, MusicXML (.musicxml, .mxl) or ABC file; several for a rotation.", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<DrillKind?> _kind;
    private readonly SoundOptions _sound = SoundOptions.AsOption();
    private readonly DrillNumbers _numbers = new();
    private readonly StrictnessOptions _strictness = new("off for chain and trouble, rhythm for rhythm, else fitted");
    private readonly PassageOptions _line = new();
    private readonly Option<bool> _goOn = new("--go-on") { Description = "Goes on with the drill that was stopped last, with its passage, numbers and count." };
    private readonly Option<DirectoryInfo?> _data = new("--data") { Description = "Folder where practice is kept. Default: the user's data folder.", HelpName = "FOLDER" };
    private readonly Option<bool> _json = new("--json") { Description = "Write one JSON object at the end instead of lines." };

    public DrillCommand(Streams streams)
    {
        _kind = new Option<DrillKind?>("--kind")
        {
            Description = "Which drill. Default proof.",
            HelpName = string.Join('|', _kinds.Keys),
            CustomParser = ParseKind,
        };
        Command = new Command("drill", "A whole drill in the terminal: judges, counts and keeps every attempt, live or from a recording.") { _passages, _kind };
        _sound.AddTo(Command);
        _numbers.AddTo(Command);
        _strictness.AddTo(Command);
        _line.AddTo(Command);
        Command.Add(_goOn);
        Command.Add(_data);
        Command.Add(_json);
        Command.SetAction((parsed, stop) => RunAsync(parsed, streams, stop));
    }

    public Command Command { get; }

    private static DrillKind? ParseKind(ArgumentResult result)
    {
        string given = result.Tokens[0].Value;
        if (_kinds.TryGetValue(given, out DrillKind kind) || DrillKindNames.TryParse(given, out kind))
        {
            return kind;
        }

        result.AddError($"--kind is '{given}'; it must be one of: {string.Join(", ", _kinds.Keys)}.");
        return null;
    }

    private async Task<int> RunAsync(ParseResult parsed, Streams streams, CancellationToken stop)
    {
        string[] paths = parsed.GetValue(_passages) ?? [];
        bool goOn = parsed.GetValue(_goOn);
        if (goOn == paths.Length > 0)
        {
            throw new UsageException(goOn
                ? "--go-on takes up the passage of the drill that was stopped; give either a PASSAGE or --go-on."
                : "Give the PASSAGE to practise, a MIDI, MusicXML or ABC file; or --go-on.");
        }

        ImmutableArray<Passage> passages = [.. paths.Select(path => _line.Read(parsed, path, streams))];
        _ = EarWarmUp.Start();
        using IAudioSource opened = _sound.Open(parsed, streams);
        using var source = new StoppableSource(opened, stop);
        using SqliteStore store = SqliteStore.Open(DataFolder.Choose(parsed.GetValue(_data)?.FullName));
        DrillFeed feed = new(streams.Error);
        PracticeSession session = goOn ? TakeUp(store, feed) : Begin(parsed, passages, store, feed);
        IDrillWriter writer = parsed.GetValue(_json) ? new DrillJson(streams.Output, source) : new DrillTable(streams.Output);
        await PlayAsync(session, source, feed, writer, streams, stop);
        if (session.IsOver || source.LengthSamples is not null && !stop.IsCancellationRequested)
        {
            feed.Writer = null;
            session.Close(); // a recording that has ended is not gone on with
        }

        return ExitCode.Done;
    }

    private static async Task PlayAsync(
        PracticeSession session, StoppableSource source, DrillFeed feed, IDrillWriter writer, Streams streams, CancellationToken stop)
    {
        foreach (string remark in source.Remarks)
        {
            streams.Error.WriteLine(remark);
        }

        int remarked = source.Remarks.Count;
        writer.Begin(session.View);
        feed.Writer = writer;
        using CancellationTokenSource ended = CancellationTokenSource.CreateLinkedTokenSource(stop);
        Task keys = Task.CompletedTask;
        if (streams.ReadKey is { } readKey && source.LengthSamples is null)
        {
            streams.Error.WriteLine(DrillKeys.Help);
            keys = DrillKeys.ObeyAsync(session, readKey, streams.Error, ended.Token);
        }

        long heard;
        try
        {
            heard = await Task.Run(() => SourceRun.Run(session, source, stop), CancellationToken.None);
        }
        finally
        {
            await ended.CancelAsync();
            await keys;
        }

        if (heard == 0 && !stop.IsCancellationRequested)
        {
            throw new InputException("No sound came: not one sample. Check what writes into the pipe, or the microphone.");
        }

        foreach (string remark in source.Remarks.Skip(remarked))
        {
            streams.Error.WriteLine(remark);
        }

        writer.End(session.View, stop.IsCancellationRequested && !session.IsOver);
    }

    private static PracticeSession TakeUp(SqliteStore store, DrillFeed feed) => store.Attempts.NewestUnfinished() is { } unfinished
        ? PracticeSession.TakeUp(unfinished, store.Attempts, feed, TimeProvider.System)
        : throw new InputException($"No drill was stopped in the middle, as far as is kept in '{store.Path}'. Begin one by giving its PASSAGE.");

    private PracticeSession Begin(ParseResult parsed, ImmutableArray<Passage> passages, SqliteStore store, DrillFeed feed)
    {
        IReadOnlyList<LibraryPassage> library = store.Passages.All();
        ImmutableArray<SessionPassage> kept = [.. passages.Select(passage => new SessionPassage(InLibrary(library, passage)?.Id, passage))];
        DrillKind kind = parsed.GetValue(_kind) ?? DrillKind.Proof;
        if (kind != DrillKind.Rotation && passages.Length > 1)
        {
            throw new UsageException($"{passages.Length} passages were given; the drill '{DrillKindNames.Of(kind)}' takes one. Several make a rotation: --kind rotation");
        }

        DrillPlan plan = _numbers.PlanOf(parsed, kind, most =>
            kept[0].PassageId is { } id ? TroubleSpots.Worst(store.Record.NoteRecords(id), most) : []);
        if (plan is TroubleSpotPlan { Spots.IsEmpty: true })
        {
            throw new InputException("No trouble spot of this passage is known yet. Play it some times by another drill on the page, or name notes: --spots 3,7");
        }

        Tolerances tolerances = _strictness.TolerancesOf(parsed, passages[0], plan.Tolerances.Timing);
        try
        {
            return PracticeSession.Begin(
                kept,
                plan with { Tolerances = tolerances, GoalQuartersPerMinute = _strictness.TempoOf(parsed), A4Hz = _strictness.A4Of(parsed), Rests = RestRules.For(passages) },
                store.Attempts, feed, TimeProvider.System);
        }
        catch (PlanException e)
        {
            throw new InputException(e.Message, e);
        }
    }

    /// <summary>The same notes in the player's library: then what is played counts for its record.</summary>
    private static LibraryPassage? InLibrary(IReadOnlyList<LibraryPassage> library, Passage passage) =>
        library.FirstOrDefault(kept => kept.Passage.Notes.SequenceEqual(passage.Notes));
}
