using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Written;

/// <summary>Makes a line of sounding notes from written ones: joins ties, follows slurs, gives grace notes their time, refuses chords.</summary>
internal sealed class LineBuilder(GraceNoteReading graceNotes, int mostNotes)
{
    private readonly ImmutableArray<PassageNote>.Builder _notes = ImmutableArray.CreateBuilder<PassageNote>();
    private readonly List<(Fraction At, Transposition Transposition)> _transpositions = [];
    private readonly Dictionary<string, bool> _openSlurs = []; // number, and whether it began on a grace note
    private readonly List<WrittenNote> _waitingGraces = [];
    private Fraction _soundingUntil = Fraction.Zero; // of the last note as written, before grace notes took from it
    private bool _tieIsOpen;
    private bool _lastHasFermata;

    public ImmutableArray<PassageNote> Notes => _notes.ToImmutable();

    /// <summary>Where the transposition of the page changes, the first note's included.</summary>
    public IReadOnlyList<(Fraction At, Transposition Transposition)> Transpositions => _transpositions;

    public List<string> Remarks { get; } = [];

    /// <summary>Takes the next note in the order of playing.</summary>
    /// <param name="note">As written.</param>
    /// <param name="onset">Quarter notes from the start of the passage.</param>
    /// <exception cref="ScoreException">A chord, a note that cannot be judged, too many notes.</exception>
    public void Add(WrittenNote note, Fraction onset)
    {
        if (note.Problem is not null)
        {
            throw note.Problem;
        }

        if (note.IsInChord || (!note.IsGrace && onset < _soundingUntil))
        {
            throw new ScoreException(
                ScoreFailure.Polyphony,
                note.Place,
                $"Another note sounds together with {PitchSpelling.FromMidi(note.MidiPitch)} (sounding pitch); a passage is one line. Choose another voice or part, or leave one note only.");
        }

        if (note.IsGrace)
        {
            _waitingGraces.Add(note);
            return;
        }

        if (IsTiedOn(note, onset))
        {
            PassageNote last = _notes[^1];
            _notes[^1] = last with { Length = onset + note.Length - last.Onset, Articulations = last.Articulations | note.Articulations };
            _lastHasFermata |= note.Articulations.HasFlag(Articulations.Fermata);
        }
        else
        {
            PlaceGraces(onset);
            Put(note, onset);
        }

        FollowSlurs(note);
        _tieIsOpen = note.TieStarts;
        _soundingUntil = onset + note.Length;
    }

    private bool IsTiedOn(WrittenNote note, Fraction onset) =>
        note.TieStops && _tieIsOpen && _waitingGraces.Count == 0 && _notes.Count > 0 && _notes[^1].MidiPitch == note.MidiPitch && _soundingUntil == onset;

    private void Put(WrittenNote note, Fraction onset)
    {
        bool isJoined = _notes.Count > 0 && _soundingUntil == onset && _openSlurs.Values.Any(beganOnGrace => !beganOnGrace);
        Append(
            note,
            new PassageNote
            {
                MidiPitch = note.MidiPitch,
                Onset = onset,
                Length = note.Length,
                SlurredFromPrevious = isJoined,
                Articulations = note.Articulations,
                WrittenSpelling = note.Spelling,
                TimingJudged = note.IsTimingJudged ?? !(note.IsInFreeTime || _lastHasFermata),
                Required = !note.IsOptional,
                IsGrace = note.WasGrace,
            });
        _lastHasFermata = note.Articulations.HasFlag(Articulations.Fermata);
    }

    /// <summary>Gives the waiting grace notes a thirty-second note each, or less where the note before them is too short to lend that much.</summary>
    private void PlaceGraces(Fraction onset)
    {
        Fraction room = onset - (_notes.Count > 0 ? _notes[^1].Onset : Fraction.Zero);
        int count = _waitingGraces.Count;
        if (count == 0)
        {
            return;
        }

        if (graceNotes == GraceNoteReading.Dropped || room <= Fraction.Zero)
        {
            Remarks.Add($"{_waitingGraces[0].Place}: {(count == 1 ? "a grace note was" : $"{count} grace notes were")} left out.");
            _waitingGraces.Clear();
            return;
        }

        Fraction wanted = new(1, 8);
        Fraction most = room / (2 * count);
        Fraction each = wanted < most ? wanted : most;
        Fraction start = onset - (each * count);
        if (_notes.Count > 0 && _notes[^1].End > start)
        {
            _notes[^1] = _notes[^1] with { Length = start - _notes[^1].Onset };
        }

        Remarks.Add($"{_waitingGraces[0].Place}: {(count == 1 ? "a grace note" : $"{count} grace notes")} may be played or left out.");
        foreach (WrittenNote grace in _waitingGraces)
        {
            Append(grace, new PassageNote
            {
                MidiPitch = grace.MidiPitch,
                Onset = start,
                Length = each,
                SlurredFromPrevious = _openSlurs.Count > 0 && _notes.Count > 0 && _notes[^1].End == start,
                WrittenSpelling = grace.Spelling,
                TimingJudged = false,
                Required = false,
                IsGrace = true,
            });
            start += each;
            FollowSlurs(grace);
        }

        _waitingGraces.Clear();
    }

    private void Append(WrittenNote written, PassageNote note)
    {
        if (_notes.Count == mostNotes)
        {
            throw new ScoreException(
                ScoreFailure.TooLarge, written.Place, $"The part has more than {mostNotes} notes, the most a passage has. Export only the bars you practise.");
        }

        if (_transpositions.Count == 0 || _transpositions[^1].Transposition != written.Transposition)
        {
            _transpositions.Add((_transpositions.Count == 0 ? Fraction.Zero : note.Onset, written.Transposition));
        }

        _notes.Add(note);
    }

    private void FollowSlurs(WrittenNote note)
    {
        foreach (string number in note.SlurStops)
        {
            _openSlurs.Remove(number);
        }

        foreach (string number in note.SlurStarts)
        {
            _openSlurs[number] = note.IsGrace;
        }
    }
}
