using System.Buffers.Binary;
using System.Text;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Core.Progress;
using EarCoach.Engine.Ports;
using FluentAssertions;
using Microsoft.Data.Sqlite;
using Xunit;

namespace EarCoach.Storage.Tests;

public sealed class SqliteStoreTests : IDisposable
{
    private static readonly DateTimeOffset _monday = new(2026, 3, 2, 23, 30, 0, TimeSpan.FromHours(1));
    private static readonly Guid _passageId = Guid.Parse("6f1c7b2e-7a53-4c0e-9d0f-0a6f2b1d4c11");

    private readonly TemporaryFolder _folder = new();
    private readonly SqliteStore _store;

    public SqliteStoreTests() => _store = SqliteStore.Open(Path.Combine(_folder.Path, "made", "at first start"));

    public void Dispose()
    {
        _store.Dispose();
        _folder.Dispose();
    }

    // Source: sqlite.org/pragma.html: journal_mode WAL is kept in the file; synchronous FULL is 2; user_version is ours.
    [Fact]
    public void TheFile_UsesAWriteAheadLog_AndTheNewestShape()
    {
        using SqliteConnection other = new($"Data Source={_store.Path};Pooling=False");
        other.Open();
        Scalar(other, "PRAGMA journal_mode").Should().Be("wal");
        Scalar(other, "PRAGMA user_version").Should().Be((long)Migration.All[^1].Number);
        Scalar(other, "PRAGMA integrity_check").Should().Be("ok");
        using StoreDatabase database = StoreDatabase.Open(_store.Path);
        database.Read(connection => Scalar(connection, "PRAGMA synchronous")).Should().Be(2L);
        database.Read(connection => Scalar(connection, "PRAGMA foreign_keys")).Should().Be(1L);
    }

    [Fact]
    public void Migrations_AreNumberedWithoutHoles() =>
        Migration.All.Select(step => step.Number).Should().Equal(Enumerable.Range(1, Migration.All.Count));

    [Fact]
    public void AFileOfANewerProgram_IsLeftAlone()
    {
        _store.Dispose();
        using (SqliteConnection other = new($"Data Source={_store.Path};Pooling=False"))
        {
            other.Open();
            Scalar(other, "PRAGMA user_version = 99");
        }

        FluentActions.Invoking(() => SqliteStore.Open(Path.GetDirectoryName(_store.Path)!)).Should().Throw<StoreException>().WithMessage("*shape 99*newer program*");
    }

    [Fact]
    public void AFileThatIsNoDatabase_OrAFolderThatCantBeMade_IsNamed()
    {
        string folder = Path.Combine(_folder.Path, "broken");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "earcoach.db"), string.Concat(Enumerable.Repeat("this is no database. ", 100)));
        FluentActions.Invoking(() => SqliteStore.Open(folder)).Should().Throw<StoreException>().WithMessage("*earcoach.db*EARCOACH_DATA*");
        FluentActions.Invoking(() => SqliteStore.Open(Path.Combine(folder, "earcoach.db", "below a file"))).Should().Throw<StoreException>();
    }

    [Fact]
    public void ASession_ComesBackWithItsLog_AndReplaysToTheSameState()
    {
        SessionStart start = Begin(new LadderPlan { StartShare = 0.5 });
        Drill drill = new([start.Passages[0].Passage]);
        DrillState state = drill.Start(start.Plan);
        DrillInput[] inputs =
        [
            Judged(Verdict.Clean, 1), Judged(Verdict.Clean, 2.25), Judged(Verdict.Missed, 1 / 3.0), new DrillInput.Disputed(), Judged(Verdict.Clean, 9),
            new DrillInput.Paused(), new DrillInput.Resumed(), new DrillInput.PlanChanged(new LadderPlan { StartShare = 0.5, CleanInARow = 2 }), new DrillInput.Skipped(),
        ];
        for (int i = 0; i < inputs.Length; i++)
        {
            state = drill.Reduce(state, inputs[i]).Next;
            LoggedInput entry = new(i + 1, _monday.AddSeconds(i), inputs[i]);
            if (inputs[i] is DrillInput.AttemptJudged judged)
            {
                _store.Attempts.Append(start.SessionId, entry, Attempt(i + 1, judged.Verdict, start));
            }
            else
            {
                _store.Attempts.Append(start.SessionId, entry);
            }
        }

        SessionRecord record = Reopened().NewestUnfinished()!;
        record.Start.SessionId.Should().Be(start.SessionId);
        record.Start.StartedAt.Should().Be(start.StartedAt);
        record.Start.StartedAt.Offset.Should().Be(start.StartedAt.Offset);
        record.Log.Select(entry => entry.Input).Should().Equal(inputs);
        Drill again = new([record.Start.Passages[0].Passage]);
        record.Log.Aggregate(again.Start(record.Start.Plan), (s, entry) => again.Reduce(s, entry.Input).Next).Should().Be(state);
    }

    [Fact]
    public void AnAttempt_ComesBackWithFaultsTolerancesAndTimes()
    {
        SessionStart start = Begin(new ProofPlan());
        JudgedAttempt attempt = Attempt(1, Verdict.Missed, start);
        Append(start, attempt);
        JudgedAttempt back = Reopened().AttemptsOf(start.SessionId).Single();
        back.Should().BeEquivalentTo(attempt with { Clip = null });
        back.Result.Notes[1].Faults.Should().Equal(NoteFault.Flat, NoteFault.Late);
        back.Result.Task.Tolerances.Should().Be(new Tolerances { Cents = 15 });
    }

    [Fact]
    public void TheClip_IsAWavFileOfItsSamples()
    {
        SessionStart start = Begin(new ProofPlan());
        Append(start, Attempt(1, Verdict.Clean, start));
        byte[] wav = Reopened().ClipOf(start.SessionId, 1)!;

        // Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991): RIFF, WAVE, fmt, data.
        Encoding.ASCII.GetString(wav, 0, 4).Should().Be("RIFF");
        BinaryPrimitives.ReadInt32LittleEndian(wav.AsSpan(4)).Should().Be(wav.Length - 8);
        Encoding.ASCII.GetString(wav, 8, 8).Should().Be("WAVEfmt ");
        BinaryPrimitives.ReadInt16LittleEndian(wav.AsSpan(20)).Should().Be(1);
        BinaryPrimitives.ReadInt32LittleEndian(wav.AsSpan(24)).Should().Be(44_100);
        BinaryPrimitives.ReadInt32LittleEndian(wav.AsSpan(28)).Should().Be(88_200);
        Encoding.ASCII.GetString(wav, 36, 4).Should().Be("data");
        BinaryPrimitives.ReadInt32LittleEndian(wav.AsSpan(40)).Should().Be(wav.Length - 44);
        BinaryPrimitives.ReadInt16LittleEndian(wav.AsSpan(44 + 4)).Should().Be(-300);
    }

    [Fact]
    public void AnAttemptThatCantBeStored_LeavesNoTrace()
    {
        SessionStart start = Begin(new ProofPlan());
        JudgedAttempt attempt = Attempt(1, Verdict.Clean, start);
        Append(start, attempt);
        FluentActions.Invoking(() => Append(start, attempt)).Should().Throw<StoreException>(); // the number is taken
        JudgedAttempt broken = Attempt(2, Verdict.Clean, start) with { PassageNotes = [] };
        FluentActions.Invoking(() => Append(start, broken)).Should().Throw<Exception>();
        _store.Attempts.Find(start.SessionId)!.Log.Should().HaveCount(1);
        _store.Attempts.AttemptsOf(start.SessionId).Should().HaveCount(1);
        _store.Attempts.ClipOf(start.SessionId, 2).Should().BeNull();
        Append(start, Attempt(2, Verdict.Clean, start)); // and the store goes on
    }

    [Fact]
    public void AFinishedSession_IsNotOfferedAgain()
    {
        SessionStart first = Begin(new ProofPlan());
        SessionStart second = Begin(new ChainPlan());
        _store.Attempts.NewestUnfinished()!.Start.SessionId.Should().Be(second.SessionId);
        _store.Attempts.Close(second.SessionId, _monday);
        _store.Attempts.NewestUnfinished()!.Start.SessionId.Should().Be(first.SessionId);
        _store.Attempts.Find(second.SessionId)!.EndedAt.Should().Be(_monday);
        _store.Attempts.Find(Guid.NewGuid()).Should().BeNull();
    }

    [Fact]
    public void TheDay_IsThePlayersOwn_NotGreenwichs()
    {
        SessionStart start = Begin(new ProofPlan()); // 23:30 at UTC+1: Monday there, 22:30 UTC
        Append(start, Attempt(1, Verdict.NotCounted, start));
        Append(start, Attempt(2, Verdict.Clean, start) with { At = _monday.AddMinutes(45) }); // a quarter past midnight: Tuesday
        _store.Attempts.PlayedSecondsOn(new DateOnly(2026, 3, 2)).Should().Be(2.5);
        _store.Attempts.PlayedSecondsOn(new DateOnly(2026, 3, 3)).Should().Be(2.5);
        _store.Attempts.WasPlayedOn(_passageId, new DateOnly(2026, 3, 3)).Should().BeTrue();
        _store.Attempts.WasPlayedOn(_passageId, new DateOnly(2026, 3, 4)).Should().BeFalse();
    }

    [Fact]
    public void TheRecord_CountsWhatCounts()
    {
        SessionStart proof = Begin(new ProofPlan());
        Append(proof, Attempt(1, Verdict.Missed, proof));
        Append(proof, Attempt(2, Verdict.Clean, proof));
        Append(proof, Attempt(3, Verdict.NotCounted, proof));
        Append(proof, Attempt(4, Verdict.Missed, proof));
        _store.Attempts.Append(proof.SessionId, new LoggedInput(5, _monday, new DrillInput.Disputed()));
        Append(proof, Attempt(6, Verdict.Missed, proof));
        SessionStart chain = Begin(new ChainPlan());
        Append(chain, Attempt(1, Verdict.Missed, chain, firstNote: 2, noteCount: 2)); // its second note is note 3 of the passage

        _store.Record.NewestWholeAttempts(_passageId).Should().Equal(false, true, false);
        _store.Record.NoteRecords(_passageId).Should().Equal(
            new NoteRecord(0, 3, 0), new NoteRecord(1, 3, 2), new NoteRecord(2, 4, 0), new NoteRecord(3, 4, 1));
        TroubleSpots.Worst(_store.Record.NoteRecords(_passageId)).Should().Equal(1, 3);
        _store.Record.NoteRecords(_passageId, newestAttempts: 1).Select(note => note.NoteIndex).Should().Equal(2, 3);
        _store.Record.NoteRecords(Guid.NewGuid()).Should().BeEmpty();
    }

    [Fact]
    public void ColdTakes_AreKeptApart_ADisputedOneIsVoid()
    {
        for (int day = 0; day < 3; day++)
        {
            SessionStart cold = Begin(new ColdTakePlan());
            Append(cold, Attempt(1, day == 0 ? Verdict.Missed : Verdict.Clean, cold) with { At = _monday.AddDays(day) });
            if (day == 1)
            {
                _store.Attempts.Append(cold.SessionId, new LoggedInput(2, _monday.AddDays(day), new DrillInput.Disputed()));
            }
        }

        SessionStart proof = Begin(new ProofPlan());
        Append(proof, Attempt(1, Verdict.Clean, proof));
        _store.Record.ColdTakes(_passageId).Should().Equal(
            new ColdTake(new DateOnly(2026, 3, 2), Clean: false, FaultyNotes: 1), new ColdTake(new DateOnly(2026, 3, 4), Clean: true, FaultyNotes: 0));
    }

    [Fact]
    public void DaysAndSessions_AddUp()
    {
        SessionStart proof = Begin(new ProofPlan());
        Append(proof, Attempt(1, Verdict.Clean, proof));
        Append(proof, Attempt(2, Verdict.Missed, proof));
        _store.Attempts.Append(proof.SessionId, new LoggedInput(3, _monday, new DrillInput.Disputed()));
        Append(proof, Attempt(4, Verdict.NotCounted, proof));
        Append(proof, Attempt(5, Verdict.Missed, proof) with { At = _monday.AddDays(2) });
        SessionStart chain = Begin(new ChainPlan());
        _store.Record.Days(new DateOnly(2026, 3, 1), new DateOnly(2026, 3, 4)).Should().Equal(
            new PracticeDay(new DateOnly(2026, 3, 2), 7.5, 1, 0, 2), new PracticeDay(new DateOnly(2026, 3, 4), 2.5, 0, 1, 0));
        _store.Record.Days(new DateOnly(2026, 3, 3), new DateOnly(2026, 3, 3)).Should().BeEmpty();
        IReadOnlyList<SessionSummary> sessions = _store.Record.NewestSessions();
        sessions.Select(session => session.SessionId).Should().Equal(chain.SessionId, proof.SessionId);
        sessions[1].Tally.Should().Be(new AttemptTally(Clean: 1, Missed: 1, NotCounted: 1, Disputed: 1));
        sessions[1].PlayedSeconds.Should().Be(10);
        sessions[1].Titles.Should().Equal("Invented");
        sessions[0].Tally.All.Should().Be(0);
        _store.Record.NewestSessions(1).Should().ContainSingle();
    }

    [Fact]
    public void OldClips_CanBeForgotten_ButNotThoseOfColdTakesAndDisputes()
    {
        SessionStart cold = Begin(new ColdTakePlan());
        Append(cold, Attempt(1, Verdict.Missed, cold));
        SessionStart proof = Begin(new ProofPlan());
        Append(proof, Attempt(1, Verdict.Missed, proof));
        _store.Attempts.Append(proof.SessionId, new LoggedInput(2, _monday, new DrillInput.Disputed()));
        Append(proof, Attempt(3, Verdict.Clean, proof));
        Append(proof, Attempt(4, Verdict.Clean, proof));
        _store.Clips.TotalBytes().Should().Be(4 * 52); // a header of 44 bytes and four samples of two
        _store.Clips.ForgetOldest(4 * 52).Should().Be(0);
        _store.Clips.ForgetOldest(3 * 52).Should().Be(1);
        _store.Attempts.ClipOf(proof.SessionId, 3).Should().BeNull();
        _store.Attempts.ClipOf(proof.SessionId, 4).Should().NotBeNull();
        _store.Clips.ForgetOldest(0).Should().Be(1);
        _store.Clips.TotalBytes().Should().Be(2 * 52);
        _store.Attempts.AttemptsOf(proof.SessionId).Should().HaveCount(3);
    }

    [Fact]
    public void Passages_AreKeptDeletedAndBroughtBack()
    {
        LibraryPassage passage = new()
        {
            Id = _passageId,
            Passage = PassageOf(3),
            AddedAt = _monday,
            Tags = ["hard", "start of the second page"],
            GoalQuartersPerMinute = 84,
            PerformanceDate = new DateOnly(2026, 6, 1),
        };
        _store.Passages.Save(passage);
        _store.Passages.Save(passage with { Id = Guid.NewGuid(), Passage = PassageOf(2) with { Title = "another" } });
        _store.Passages.All().Select(found => found.Passage.Title).Should().Equal("another", "Invented");
        _store.Passages.Find(_passageId).Should().BeEquivalentTo(passage);
        _store.Passages.Save(passage with { GoalQuartersPerMinute = 90 });
        _store.Passages.Find(_passageId)!.GoalQuartersPerMinute.Should().Be(90);
        _store.Passages.Delete(_passageId).Should().BeTrue();
        _store.Passages.Delete(_passageId).Should().BeFalse();
        _store.Passages.Find(_passageId).Should().BeNull();
        _store.Passages.All().Should().HaveCount(1);
        _store.Passages.Restore(_passageId).Should().BeTrue();
        _store.Passages.Find(_passageId).Should().NotBeNull();
    }

    [Fact]
    public void Settings_AreKept()
    {
        _store.Settings.Read("theme").Should().BeNull();
        _store.Settings.Write("theme", "dark'; DROP TABLE settings; --");
        _store.Settings.Write("theme", "light");
        _store.Settings.Read("theme").Should().Be("light");
        _store.Settings.Write("theme", null);
        _store.Settings.Read("theme").Should().BeNull();
    }

    [Fact]
    public void TwoStores_OnOneFile_WaitForEachOther()
    {
        using SqliteStore other = SqliteStore.Open(Path.GetDirectoryName(_store.Path)!);
        Parallel.For(0, 40, i => (i % 2 == 0 ? _store : other).Settings.Write($"setting {i}", "x"));
        Enumerable.Range(0, 40).Select(i => other.Settings.Read($"setting {i}")).Should().OnlyContain(value => value == "x");
    }

    private static Passage PassageOf(int notes) => new()
    {
        Title = "Invented",
        Notes = [.. Enumerable.Range(0, notes).Select(i => new PassageNote { MidiPitch = 60 + i, Onset = new Fraction(i, 3), Length = new Fraction(1, 3) })],
    };

    private static DrillInput.AttemptJudged Judged(Verdict verdict, double start) => new(verdict, start, start + 2.5);

    private static JudgedAttempt Attempt(int number, Verdict verdict, SessionStart start, int firstNote = 0, int noteCount = 4)
    {
        DrillTask task = new(0, firstNote, noteCount, null, VariantScaling.EqualTotal, 96, new Tolerances { Cents = 15 }, 440);
        Passage passage = start.Passages[0].Passage;
        AttemptResult result = new()
        {
            StartSeconds = 1,
            EndSeconds = 3.5,
            Verdict = verdict,
            TempoQuartersPerMinute = 95.5,
            Notes = [.. Enumerable.Range(0, noteCount).Select(i => new NoteResult
            {
                Index = i,
                MidiPitch = 60 + firstNote + i,
                OnsetSeconds = 1 + (i / 3.0),
                CentsOff = i == 1 ? -34.25 : null,
                Faults = i == 1 && verdict == Verdict.Missed ? [NoteFault.Flat, NoteFault.Late] : [],
            })],
            ExtraNotes = [new ExtraNote(2, 61.5, 1)],
            Task = new JudgingTask(passage, 96, task.Tolerances),
        };
        return new JudgedAttempt(
            number, _monday, task, result, [.. Enumerable.Range(firstNote, noteCount)], Disputed: false, new AttemptClip(44_100, 22_050, new short[] { 1, 2, -300, 4 }));
    }

    private static object? Scalar(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    private IAttemptStore Reopened()
    {
        _store.Dispose();
        return SqliteStore.Open(Path.GetDirectoryName(_store.Path)!).Attempts;
    }

    private SessionStart Begin(DrillPlan plan)
    {
        SessionStart start = new(Guid.CreateVersion7(), _monday, [new SessionPassage(_passageId, PassageOf(4))], plan, 12.5);
        _store.Attempts.Begin(start);
        return start;
    }

    private void Append(SessionStart start, JudgedAttempt attempt) => _store.Attempts.Append(
        start.SessionId, new LoggedInput(attempt.Number, attempt.At, Judged(attempt.Result.Verdict, attempt.Number * 10)), attempt);
}
