using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Core.Drills;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Scores;

namespace EarCoach.App.Web.Library;

/// <summary>From passages to what the page shows of them.</summary>
internal static class LibraryViews
{
    private static readonly RhythmPlan _rhythms = new();

    /// <summary>A row of the list.</summary>
    public static PageLibraryRow RowOf(LibraryPassage kept, IReadOnlyList<LibraryPassage> all, DateOnly today)
    {
        Passage passage = kept.Passage;
        return new PageLibraryRow
        {
            Id = kept.Id,
            Title = passage.Title,
            Instrument = NameOf(passage),
            Tags = kept.Tags,
            Notes = passage.Notes.Length,
            Bars = BarWords.Of(passage),
            QuartersPerMinute = kept.GoalQuartersPerMinute ?? passage.Tempi[0].QuartersPerMinute,
            HasGoal = kept.GoalQuartersPerMinute is not null,
            PerformanceDate = kept.PerformanceDate,
            DaysLeft = kept.PerformanceDate is { } day ? day.DayNumber - today.DayNumber : null,
            AddedAt = kept.AddedAt,
            PartTitle = all.FirstOrDefault(part => part.Id == kept.PartId)?.Passage.Title,
        };
    }

    /// <summary>All of one passage.</summary>
    public static PageLibraryPassage Of(LibraryPassage kept, LibraryPassage? part)
    {
        Passage passage = kept.Passage;
        BarMap bars = new(passage);
        return new PageLibraryPassage
        {
            Id = kept.Id,
            Title = passage.Title,
            InstrumentId = passage.InstrumentId,
            Instrument = NameOf(passage),
            CrookId = CrookOf(passage),
            Transposition = TranspositionOf(passage),
            Tags = kept.Tags,
            GoalQuartersPerMinute = kept.GoalQuartersPerMinute,
            QuartersPerMinute = passage.Tempi[0].QuartersPerMinute,
            PerformanceDate = kept.PerformanceDate,
            Strictness = StrictnessOf(kept.Strictness ?? new PassageStrictness()),
            Notes = [.. passage.Notes.Select(note => NoteOf(passage, note, bars))],
            PartId = part?.Id,
            PartWords = kept is { PartId: not null, PartNotes: { } range }
                ? $"Notes {range.First + 1} to {range.Last + 1} of {part?.Passage.Title ?? "a part that is no longer in the library"}"
                : null,
            RangeWarning = RangeWording.Of(passage),
            Variants = VariantsOf(passage),
        };
    }

    /// <summary>A passage that was read but not yet kept.</summary>
    public static PageReading Of(ScoreReading reading)
    {
        Passage passage = reading.Passage;
        return new PageReading
        {
            Title = passage.Title,
            InstrumentId = passage.InstrumentId,
            Instrument = NameOf(passage),
            CrookId = CrookOf(passage),
            About = $"{AboutOf(passage)} {TranspositionOf(passage)}",
            MusicXml = ShownScore.Of(passage),
            Remarks = reading.Remarks,
            RangeWarning = RangeWording.Of(passage),
        };
    }

    /// <summary>The rhythms that change something in a passage.</summary>
    public static IReadOnlyList<PageVariant> VariantsOf(Passage passage) =>
        [.. RhythmVariation.ThatFit(passage).Select(variant => new PageVariant(variant.Code, $"{variant.Code}: {variant.Name}", _rhythms.Variants.Contains(variant.Code)))];

    /// <summary>What can be taken back, in words.</summary>
    public static PageUndo? Of(LibraryChange? change) => change is null
        ? null
        : new PageUndo(change.Number, change.Kind == LibraryChangeKind.Deleted ? $"“{change.Title}” was deleted." : $"“{change.Title}” was changed.");

    private static string NameOf(Passage passage) => InstrumentTable.ById(passage.InstrumentId)?.Name ?? string.Empty;

    private static PageStrictness StrictnessOf(PassageStrictness own) =>
        new(own.Cents, own.SemitoneOnly, own.OnsetMs, own.TempoShare is { } share ? Math.Round(share * 100, 1) : null);

    private static PageLibraryNote NoteOf(Passage passage, PassageNote note, BarMap bars)
    {
        BarPosition place = bars.PositionOf(note.Onset);
        return new PageLibraryNote(
            place.Bar,
            place.Beat.ToDouble(),
            place.ToString(),
            WrittenPitch.Of(passage, note).ToString(),
            PitchSpelling.FromMidi(note.MidiPitch, passage.KeyFifths).ToString(),
            note.TimingJudged,
            note.Required,
            note.IsGrace);
    }

    private static string AboutOf(Passage passage) => $"{passage.Notes.Length} {(passage.Notes.Length == 1 ? "note" : "notes")}, {BarWords.Of(passage)}.";

    private static string TranspositionOf(Passage passage)
    {
        Transposition at = WrittenPitch.TranspositionAt(passage, passage.Notes[0].Onset);
        PassageNote note = passage.Notes[0];
        string first = $"The first note is written {WrittenPitch.Of(passage, note)} and sounds {PitchSpelling.FromMidi(note.MidiPitch, passage.KeyFifths)}";
        return at == Transposition.None ? "Written as it sounds." : $"{first}: {at}.";
    }

    private static string? CrookOf(Passage passage) => PartChoice.HasCrooks(InstrumentTable.ById(passage.InstrumentId)) && passage.Transpositions is [var mark, ..] && mark.At == Fraction.Zero
        ? HornCrooks.All.FirstOrDefault(crook => crook.Transposition == mark.Transposition)?.Id
        : null;
}
