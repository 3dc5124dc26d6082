using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Lays the notes of a rhythm variant out one after the other, and remembers where each place of the passage has gone.</summary>
internal sealed class VariantLine(ImmutableArray<PassageNote> source, RhythmVariant variant, ImmutableArray<Fraction> times)
{
    private readonly ImmutableArray<PassageNote>.Builder _notes = ImmutableArray.CreateBuilder<PassageNote>();
    private readonly List<(Fraction From, Fraction To)> _moves = [(Fraction.Zero, Fraction.Zero)];
    private Fraction _now = source[0].Onset;
    private Fraction _sourceTotal;
    private Fraction _variedTotal;
    private Fraction? _firstGroup;
    private bool _nextIsFree;

    public ImmutableArray<PassageNote> Notes => _notes.ToImmutable();

    public bool KeepsTotal => _sourceTotal == _variedTotal;

    /// <summary>Length of the first whole group, in quarter notes; one quarter note where there was none.</summary>
    public Fraction FirstGroupLength => _firstGroup ?? Fraction.One;

    public void Add(EvenRun run, bool keepsSteps)
    {
        int groups = run.Range.Count / variant.GroupSize;
        bool isVaried = groups > 0 && (run.Range.Count > 1 || !keepsSteps);
        for (int index = run.Range.First; index <= run.Range.Last; index++)
        {
            int inRun = index - run.Range.First;
            int inGroup = inRun % variant.GroupSize;
            Fraction sourceStep = EvenRun.StepOf(source, index);
            Fraction share = keepsSteps ? source[index].Length / sourceStep : ShareWithoutRest(index);
            _moves.Add((source[index].Onset, _now));
            _sourceTotal += sourceStep;
            Fraction start = _now;
            if (isVaried && inRun / variant.GroupSize < groups)
            {
                AddVaried(index, inRun, inGroup, run.Step, share);
            }
            else
            {
                Put(source[index], run.Step, share * run.Step, source[index].Articulations);
            }

            _variedTotal += _now - start;
        }

        if (isVaried && _firstGroup is null)
        {
            _firstGroup = times.Aggregate(Fraction.Zero, (sum, time) => sum + (time * run.Step)) * (variant.AccentEvery > 0 ? variant.AccentEvery : 1);
        }
    }

    /// <summary>Where a place of the passage has gone: with the note that sounds there, in proportion after it.</summary>
    public Fraction Moved(Fraction place)
    {
        int last = _moves.FindLastIndex(move => move.From <= place);
        (Fraction from, Fraction to) = _moves[last];
        Fraction nextFrom = last + 1 < _moves.Count ? _moves[last + 1].From : source[^1].Onset + EvenRun.StepOf(source, source.Length - 1);
        Fraction nextTo = last + 1 < _moves.Count ? _moves[last + 1].To : _now;
        return nextFrom == from ? to : to + ((place - from) * (nextTo - to) / (nextFrom - from));
    }

    private void AddVaried(int index, int inRun, int inGroup, Fraction step, Fraction share)
    {
        bool closesGroup = inGroup == variant.GroupSize - 1;
        for (int strike = 0; strike < variant.Strikes; strike++)
        {
            Fraction time = times[(inGroup * variant.Strikes) + strike] * step;
            Fraction sounding = share * (closesGroup && variant.Stops ? step : time);
            PassageNote note = strike == 0 ? source[index] : source[index] with { SlurredFromPrevious = false };
            Put(note, time, sounding, MarksOf(index, inRun, closesGroup));
        }

        _nextIsFree = closesGroup && variant.HoldsFreely;
    }

    private Articulations MarksOf(int index, int inRun, bool closesGroup)
    {
        Articulations marks = source[index].Articulations;
        if (variant.AccentEvery > 0)
        {
            bool accented = inRun % variant.AccentEvery == variant.AccentPhase;
            marks = accented ? marks | Articulations.Accent : marks & ~(Articulations.Accent | Articulations.Marcato);
        }

        return closesGroup && variant.HoldsFreely ? marks | Articulations.Fermata : marks;
    }

    private void Put(PassageNote note, Fraction time, Fraction sounding, Articulations marks)
    {
        // A slur needs the note before it to sound until this one begins.
        bool joined = note.SlurredFromPrevious && _notes.Count > 0 && _notes[^1].End == _now;
        _notes.Add(note with
        {
            Onset = _now,
            Length = sounding,
            Articulations = marks,
            SlurredFromPrevious = joined,
            TimingJudged = note.TimingJudged && !_nextIsFree,
        });
        _nextIsFree = false;
        _now += time;
    }

    /// <summary>The share of its time that a note sounds; a rest after it does not count.</summary>
    private Fraction ShareWithoutRest(int index) =>
        EvenRun.RestsAfter(source, index) ? Fraction.One : source[index].Length / EvenRun.StepOf(source, index);
}
