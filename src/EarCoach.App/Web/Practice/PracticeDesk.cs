using System.Collections.Immutable;
using EarCoach.App.Web.Messages;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Progress;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using EarCoach.Storage;

namespace EarCoach.App.Web.Practice;

/// <summary>The one session that the page works on, and the sound that goes into it. Any thread.</summary>
internal sealed class PracticeDesk
{
    private const string LastSessionSetting = "page.last-session";
    private readonly Lock _turn = new();
    private readonly SqliteStore _store;
    private readonly TimeProvider _time;
    private readonly KeptSound _keptSound;
    private PracticeSession? _session;
    private SoundInput? _sound;

    /// <summary>Takes up the session that was under way when the program ended, however it ended.</summary>
    public PracticeDesk(SqliteStore store, TimeProvider time)
    {
        _store = store;
        _time = time;
        _keptSound = new KeptSound(store.Clips, store.Settings);
        _keptSound.Tidy();
        if (store.Attempts.NewestUnfinished() is { } unfinished)
        {
            _session = PracticeSession.TakeUp(unfinished, store.Attempts, Feed, time);
        }
    }

    /// <summary>The session's news.</summary>
    public SessionFeed Feed { get; } = new();

    /// <summary>The session under way; null when none is.</summary>
    public PracticeSession? Session
    {
        get
        {
            lock (_turn)
            {
                return _session;
            }
        }
    }

    /// <summary>The session to look back on: the one under way, else the last one.</summary>
    public Guid? LastSessionId => Session?.Id ?? (Guid.TryParse(_store.Settings.Read(LastSessionSetting), out Guid id) ? id : null);

    /// <summary>Begins what was chosen; a session under way is over.</summary>
    /// <exception cref="SetupException">It cannot be played.</exception>
    public PracticeSession Begin(PageSetup setup)
    {
        LibraryPassage chosen = _store.Passages.Find(setup.PassageId)
            ?? throw new SetupException("That passage is no longer in the library. Choose another one.");
        if (!DrillKindNames.TryParse(setup.DrillKind ?? "", out DrillKind kind))
        {
            throw new SetupException($"The drill '{setup.DrillKind}' is not known. Choose another one.");
        }

        DrillPlan plan = PlanOf(setup, chosen, kind);
        ImmutableArray<SessionPassage> passages = [.. PassagesFor(kind, chosen).Select(passage => new SessionPassage(passage.Id, passage.Passage))];
        lock (_turn)
        {
            PracticeSession begun;
            try
            {
                begun = PracticeSession.Begin(passages, plan, _store.Attempts, Feed, _time);
            }
            catch (PlanException e)
            {
                throw new SetupException(e.Message);
            }

            _session?.Close();
            _session = begun;
            _store.Settings.Write(LastSessionSetting, begun.Id.ToString());
            _sound?.Begin(begun);
            _keptSound.Tidy();
            return begun;
        }
    }

    /// <summary>The numbers of the drill under way, for changing them.</summary>
    /// <exception cref="SetupException">Nothing is under way.</exception>
    public PageNumbers Numbers()
    {
        DrillPlan plan = SessionNow().View.Plan;
        return new PageNumbers(DrillCatalogue.NumbersOf(plan), StrictnessCatalogue.NumbersOf(plan.Tolerances));
    }

    /// <summary>Changes numbers of the drill under way; what was not touched stays as it is.</summary>
    /// <exception cref="SetupException">They cannot be played, or nothing is under way.</exception>
    public void Change(PageNumberChange change)
    {
        PracticeSession session = SessionNow();
        DrillPlan plan = session.View.Plan;
        Guid passageId = session.View.Passages[0].PassageId ?? Guid.Empty;
        try
        {
            session.Change(DrillCatalogue.Changed(plan, new ChosenNumbers(change.DrillNumbers), most => SpotsOf(passageId, most)) with
            {
                Tolerances = StrictnessCatalogue.Changed(plan.Tolerances, new ChosenNumbers(change.StrictnessNumbers)),
            });
        }
        catch (PlanException e)
        {
            throw new SetupException(e.Message);
        }
    }

    /// <summary>Ends the session under way; it is kept, and not offered again.</summary>
    public void End()
    {
        lock (_turn)
        {
            _session?.Close();
            _session = null;
        }
    }

    /// <summary>Sound will come from here on, and from nowhere else: an earlier source is told so and let go.</summary>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="displaced">Called when a later source takes over.</param>
    public SoundInput OpenSound(int sampleRateHz, Action displaced)
    {
        lock (_turn)
        {
            _sound?.Displace();
            _sound = new SoundInput(sampleRateHz, displaced);
            if (_session is { } session)
            {
                _sound.Begin(session);
            }

            return _sound;
        }
    }

    /// <summary>That sound has ended.</summary>
    public void CloseSound(SoundInput sound)
    {
        lock (_turn)
        {
            if (_sound == sound)
            {
                _sound = null;
                sound.End();
            }
        }
    }

    private DrillPlan PlanOf(PageSetup setup, LibraryPassage chosen, DrillKind kind)
    {
        ChosenNumbers numbers = new(setup.DrillNumbers);
        double? goal = numbers.Number("goal", chosen.GoalQuartersPerMinute);
        PageDrillChoice choice = DrillCatalogue.All.First(drill => drill.Id == DrillKindNames.Of(kind));
        Tolerances tolerances = StrictnessCatalogue.TolerancesOf(
            setup.StrictnessId ?? "", new ChosenNumbers(setup.StrictnessNumbers), chosen, goal, TimingNames.Parse(choice.UsualTiming)!.Value);
        DrillPlan usual = DrillCatalogue.Usual(kind);
        return DrillCatalogue.Changed(
            usual is TroubleSpotPlan trouble ? trouble with { Spots = SpotsOf(chosen.Id, DrillCatalogue.UsualSpots) } : usual, numbers, most => SpotsOf(chosen.Id, most)) with
        {
            Tolerances = tolerances,
            GoalQuartersPerMinute = goal,
            Rests = RestRules.For([chosen.Passage]),
        };
    }

    private PracticeSession SessionNow() => Session ?? throw new SetupException("Nothing is being practised. Start a drill first.");

    private ImmutableArray<int> SpotsOf(Guid passageId, int most) => TroubleSpots.Worst(_store.Record.NoteRecords(passageId), most);

    private IEnumerable<LibraryPassage> PassagesFor(DrillKind kind, LibraryPassage chosen) => kind == DrillKind.Rotation
        ? _store.Passages.All().Where(other => other.Id != chosen.Id && other.Passage.InstrumentId == chosen.Passage.InstrumentId).Prepend(chosen)
        : [chosen];
}
