using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using FluentAssertions;
using Microsoft.Data.Sqlite;
using Xunit;

namespace EarCoach.Storage.Tests;

public sealed class LibraryUndoTests : IDisposable
{
    private static readonly LibraryPassage _passage = new()
    {
        Id = Guid.Parse("6f1c7b2e-7a53-4c0e-9d0f-0a6f2b1d4c12"),
        Passage = new Passage { Title = "Invented", Notes = [new PassageNote { MidiPitch = 60, Onset = 0, Length = 1 }], Transpositions = [new TranspositionMark(0, new Transposition(3, 5), Clef.Bass)] },
        AddedAt = new DateTimeOffset(2026, 3, 2, 10, 0, 0, TimeSpan.Zero),
        Strictness = new PassageStrictness(Cents: 12, OnsetMs: 40, TempoShare: 0.04),
        PartId = Guid.Parse("6f1c7b2e-7a53-4c0e-9d0f-0a6f2b1d4c13"),
        PartNotes = new NoteRange(3, 3),
    };

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void EditsAndDeletions_AreTakenBackOneAfterAnother_AlsoByAnotherRun()
    {
        LibraryPassage edited = _passage with { Tags = ["hard"], Passage = _passage.Passage with { Title = "Renamed" } };
        using (SqliteStore first = SqliteStore.Open(_folder.Path))
        {
            first.Passages.NewestChange().Should().BeNull();
            first.Passages.Save(_passage);
            first.Passages.NewestChange().Should().BeNull("what was added is deleted, not taken back");
            first.Passages.Save(edited);
            first.Passages.Delete(_passage.Id);
        }

        using SqliteStore second = SqliteStore.Open(_folder.Path);
        LibraryChange deletion = second.Passages.NewestChange()!;
        deletion.Should().BeEquivalentTo(new { Kind = LibraryChangeKind.Deleted, PassageId = _passage.Id, Title = "Renamed" });
        second.Passages.Undo(deletion.Number - 1).Should().BeFalse("only the newest change is taken back");
        second.Passages.Undo(deletion.Number).Should().BeTrue();
        second.Passages.Undo(deletion.Number).Should().BeFalse();
        second.Passages.Find(_passage.Id).Should().BeEquivalentTo(edited);
        LibraryChange edit = second.Passages.NewestChange()!;
        edit.Kind.Should().Be(LibraryChangeKind.Edited);
        second.Passages.Undo(edit.Number).Should().BeTrue();
        second.Passages.Find(_passage.Id).Should().BeEquivalentTo(_passage);
        second.Passages.All().Should().ContainSingle().Which.Passage.Title.Should().Be("Invented");
        second.Passages.NewestChange().Should().BeNull();
    }

    [Fact]
    public void TheList_KnowsWhatThisAndAnotherProgramChanged()
    {
        using SqliteStore page = SqliteStore.Open(_folder.Path);
        using SqliteStore terminal = SqliteStore.Open(_folder.Path);
        page.Passages.All().Should().BeEmpty();
        page.Passages.Save(_passage);
        page.Passages.All().Should().ContainSingle();
        terminal.Passages.All().Should().ContainSingle();
        terminal.Passages.Save(_passage with { Id = Guid.NewGuid(), Passage = _passage.Passage with { Title = "Another" } });
        page.Passages.All().Select(passage => passage.Passage.Title).Should().Equal("Another", "Invented");
        page.Passages.Delete(_passage.Id);
        page.Passages.All().Should().ContainSingle();
        page.Passages.Undo(page.Passages.NewestChange()!.Number).Should().BeTrue();
        page.Passages.All().Should().HaveCount(2);
    }

    [Fact]
    public void ADeletionOfNothing_IsNoChange()
    {
        using SqliteStore store = SqliteStore.Open(_folder.Path);
        store.Passages.Delete(Guid.NewGuid()).Should().BeFalse();
        store.Passages.NewestChange().Should().BeNull();
    }

    /// <summary>A database of the first shape, made by its own statements, is brought to the newest with its passages.</summary>
    [Fact]
    public void ADatabaseOfTheFirstShape_KeepsItsPassages_AndLearnsToUndo()
    {
        string path = Path.Combine(_folder.Path, "earcoach.db");
        using (SqliteConnection old = new($"Data Source={path};Pooling=False"))
        {
            old.Open();
            Run(old, Migration.All[0].Sql);
            Run(old, "PRAGMA user_version = 1");

            // As the first version wrote it: without what was added since.
            Run(old, """
                INSERT INTO passages (id, title, format, body) VALUES ('6f1c7b2e-7a53-4c0e-9d0f-0a6f2b1d4c12', 'Old', 1,
                '{"id":"6f1c7b2e-7a53-4c0e-9d0f-0a6f2b1d4c12","passage":{"title":"Old","notes":[{"midiPitch":60,"onset":"0","length":"1"}]},"addedAt":"2026-03-02T10:00:00+00:00","tags":["kept"]}')
                """);
        }

        using SqliteStore store = SqliteStore.Open(_folder.Path);
        LibraryPassage found = store.Passages.All().Should().ContainSingle().Subject;
        found.Tags.Should().Equal("kept");
        found.Strictness.Should().BeNull();
        found.PartId.Should().BeNull();
        store.Passages.Delete(found.Id).Should().BeTrue();
        store.Passages.Undo(store.Passages.NewestChange()!.Number).Should().BeTrue();
        store.Passages.Find(found.Id)!.Passage.Title.Should().Be("Old");
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
