using System.Collections.Immutable;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Engine.Sessions;

/// <summary>Notices that a player did not stop where the task ends but played on: what follows is no new attempt at it.</summary>
internal sealed class PlayOnWatch(ImmutableArray<Passage> passages)
{
    private const double LongestPauseSeconds = 0.8; // who takes up the instrument anew needs longer
    private (int Passage, int NextNote, double EndSeconds)? _before;

    /// <summary>Takes the next judged attempt of a stream.</summary>
    /// <returns>Whether it is the passage going on where the attempt before it ended. Never true of one that is clean.</returns>
    public bool GoesOn(AttemptResult result, DrillTask task)
    {
        int[] heard = [.. result.Notes.Where(note => note is { OnsetSeconds: not null, HeardMidi: not null })
            .Select(note => (Onset: note.OnsetSeconds!.Value, Midi: note.HeardMidi!.Value))
            .Concat(result.ExtraNotes.Select(extra => (Onset: extra.OnsetSeconds, Midi: extra.HeardMidi)))
            .OrderBy(note => note.Onset)
            .Select(note => (int)Math.Round(note.Midi))];
        bool goesOn = result.Verdict == Verdict.Missed
            && _before is { } before
            && before.Passage == task.PassageIndex
            && result.StartSeconds - before.EndSeconds <= LongestPauseSeconds
            && heard.Length > 0
            && before.NextNote < passages[before.Passage].Notes.Length
            && heard[0] == passages[before.Passage].Notes[before.NextNote].MidiPitch;
        int next = goesOn ? _before!.Value.NextNote + heard.Length : task.FirstNote + task.NoteCount;
        _before = (task.PassageIndex, next, result.EndSeconds);
        return goesOn;
    }
}
