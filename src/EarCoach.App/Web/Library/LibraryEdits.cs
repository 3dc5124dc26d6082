using System.Collections.Immutable;
using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;

namespace EarCoach.App.Web.Library;

/// <summary>Carries out what the player changes about a passage.</summary>
internal static class LibraryEdits
{
    private const int LongestTitle = 200;
    private const int LongestTag = 40;
    private const int MostTags = 30;

    /// <summary>What is written about it.</summary>
    /// <exception cref="SetupException">Something cannot be so.</exception>
    public static LibraryPassage Apply(LibraryPassage kept, PageLibraryEdit edit)
    {
        PassageStrictness? own = edit.Strictness is { } given
            ? new PassageStrictness(given.Cents, given.SemitoneOnly, given.OnsetMs, given.TempoPercent / 100)
            : null;
        if (own?.Problems().FirstOrDefault() is { } problem)
        {
            throw new SetupException(problem);
        }

        if (edit.GoalQuartersPerMinute is { } goal && !(goal is >= 5 and <= 1000))
        {
            throw new SetupException($"The goal tempo is {goal} quarter notes a minute; give 5 to 1000, or leave it empty.");
        }

        return kept with
        {
            Passage = kept.Passage with { Title = TitleOf(edit.Title, kept.Passage.Title) },
            Tags = TagsOf(edit.Tags ?? []),
            GoalQuartersPerMinute = edit.GoalQuartersPerMinute,
            PerformanceDate = edit.PerformanceDate,
            Strictness = own == new PassageStrictness() ? null : own,
        };
    }

    /// <summary>Another instrument or crook.</summary>
    /// <exception cref="SetupException">There is none such, or a note would lie out of all range.</exception>
    public static LibraryPassage Apply(LibraryPassage kept, PageInstrumentEdit edit)
    {
        PartChoice part = PartChoice.Of(edit.InstrumentId, edit.CrookId);
        return kept with
        {
            Passage = Possible(() => edit.KeepWritten
                ? PartInstrument.KeepWritten(kept.Passage, part.Instrument, part.Transposition)
                : PartInstrument.KeepSounding(kept.Passage, part.Instrument, part.Transposition)),
        };
    }

    /// <summary>Some of its notes.</summary>
    /// <exception cref="SetupException">There are no such notes, or they cannot be so.</exception>
    public static LibraryPassage Apply(LibraryPassage kept, PageNotesEdit edit)
    {
        NoteRange range = new(edit.First, edit.Last);
        Passage passage = kept.Passage;
        if (edit.TimingJudged is { } judged)
        {
            passage = Possible(() => NoteRelaxation.WithTiming(passage, range, judged));
        }

        if (edit.Required is { } required)
        {
            passage = Possible(() => NoteRelaxation.WithRequired(passage, range, required));
        }

        if (!string.IsNullOrEmpty(edit.CrookId))
        {
            HornCrook crook = PartChoice.Of(passage.InstrumentId, edit.CrookId).Crook!;
            Transposition transposition = edit.OldBassClef ? crook.OldBassClef : crook.Transposition;
            passage = Possible(() => PartInstrument.OfNotes(passage, range, transposition, edit.OldBassClef ? Clef.Bass : null, edit.KeepWritten));
        }

        return kept with { Passage = passage };
    }

    /// <summary>Some of its notes as a passage of their own, linked to it.</summary>
    /// <exception cref="SetupException">There are no such notes.</exception>
    public static LibraryPassage ExcerptOf(LibraryPassage kept, PageExcerpt excerpt, DateTimeOffset now)
    {
        NoteRange range = new(excerpt.First, excerpt.Last);
        Passage cut = Possible(() => Excerpt.OfNotes(kept.Passage, range));
        string usual = $"{kept.Passage.Title}, {BarWords.Of(cut)}";
        return kept with
        {
            Id = Guid.NewGuid(),
            Passage = cut with { Title = TitleOf(excerpt.Title, usual) },
            AddedAt = now,
            IsDemo = false,
            PartId = kept.Id,
            PartNotes = range,
        };
    }

    /// <summary>Tags without spaces around them, each once.</summary>
    /// <exception cref="SetupException">Too many, or one too long.</exception>
    public static ImmutableArray<string> TagsOf(IEnumerable<string> given)
    {
        string[] tags = [.. given.Select(tag => tag.Trim()).Where(tag => tag.Length > 0).Distinct(StringComparer.OrdinalIgnoreCase)];
        if (tags.FirstOrDefault(tag => tag.Length > LongestTag) is { } tooLong)
        {
            throw new SetupException($"The tag '{tooLong}' has {tooLong.Length} characters; at most {LongestTag} are kept. Put commas between tags.");
        }

        return tags.Length <= MostTags ? [.. tags] : throw new SetupException($"There are {tags.Length} tags; at most {MostTags} are kept.");
    }

    private static string TitleOf(string? given, string usual) => (given ?? string.Empty).Trim() switch
    {
        "" => usual,
        { Length: > LongestTitle } title => throw new SetupException($"The title has {title.Length} characters; at most {LongestTitle} are kept."),
        string title => title,
    };

    private static Passage Possible(Func<Passage> change)
    {
        try
        {
            return change();
        }
        catch (ArgumentException e)
        {
            throw new SetupException(e.Message.Split(" (Parameter", 2)[0]);
        }
    }
}
