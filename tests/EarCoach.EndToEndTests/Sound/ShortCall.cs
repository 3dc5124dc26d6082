using System.Collections.Immutable;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Storage;

namespace EarCoach.EndToEndTests.Sound;

/// <summary>Four invented notes, so that many attempts fit into little time.</summary>
internal static class ShortCall
{
    /// <summary>Its title in the library.</summary>
    public const string Title = "Short call";

    private const double QuartersPerMinute = 220;
    private static readonly int[] _pitches = [65, 69, 67, 72];

    /// <summary>The passage.</summary>
    public static Passage Passage { get; } = new()
    {
        Title = Title,
        InstrumentId = "trumpet-bb",
        KeyFifths = -1,
        Tempi = [new TempoMark(Fraction.Zero, QuartersPerMinute)],
        Notes = [.. _pitches.Select((pitch, i) => new PassageNote { MidiPitch = pitch, Onset = i, Length = 1 })],
    };

    /// <summary>Puts it into the library of a program that is not running.</summary>
    public static void AddTo(string dataFolder) => Add(dataFolder, Passage);

    /// <summary>Puts passages into the library of a program that is not running.</summary>
    public static void Add(string dataFolder, params Passage[] passages)
    {
        using SqliteStore store = SqliteStore.Open(dataFolder);
        foreach (Passage passage in passages)
        {
            store.Passages.Save(new LibraryPassage { Id = Guid.NewGuid(), Passage = passage, AddedAt = DateTimeOffset.UtcNow });
        }
    }

    /// <summary>Some of its notes as they should be.</summary>
    /// <param name="first">The first, from 0.</param>
    /// <param name="count">How many.</param>
    public static IReadOnlyList<PlayedNote> Part(int first, int count) =>
        [.. Clean.Skip(first).Take(count).Select(note => note with { OnsetSeconds = note.OnsetSeconds - Clean[first].OnsetSeconds })];

    /// <summary>An attempt as it should be.</summary>
    public static IReadOnlyList<PlayedNote> Clean => NotesOf(Passage, QuartersPerMinute);

    /// <summary>An attempt whose third note is a semitone too high.</summary>
    public static IReadOnlyList<PlayedNote> Missed => [.. Clean.Select((note, i) => i == 2 ? note with { Midi = note.Midi + 1 } : note)];

    /// <summary>Any passage as it should be played: each note sounds nine tenths of its length.</summary>
    public static ImmutableArray<PlayedNote> NotesOf(Passage passage, double quartersPerMinute)
    {
        double quarter = 60 / quartersPerMinute;
        return [.. passage.Notes.Select(note => new PlayedNote(note.MidiPitch, note.Onset.ToDouble() * quarter, note.Length.ToDouble() * quarter * 0.9))];
    }
}
