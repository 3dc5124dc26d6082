using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>A printed note or rest: part of a sounding note or of a silence that fits into its bar and has a note value.</summary>
/// <param name="Start">Quarter notes from the start of the passage.</param>
/// <param name="Length">Quarter notes.</param>
/// <param name="NoteIndex">Index of the note in the passage; null: a rest.</param>
/// <param name="Order">Place among the pieces of its note, counted from 0.</param>
/// <param name="IsLast">Whether it is the last piece of its note.</param>
/// <param name="FillsBar">Whether it is a rest over a whole bar.</param>
internal sealed record ScorePiece(Fraction Start, Fraction Length, int? NoteIndex, int Order, bool IsLast, bool FillsBar)
{
    public NoteValue? Value { get; } = NoteValue.Of(Length);

    public Fraction End => Start + Length;

    /// <summary>Cuts a passage into pieces, bar by bar.</summary>
    public static IReadOnlyList<(int Bar, List<ScorePiece> Pieces)> BarsOf(Passage passage, BarMap bars)
    {
        List<(int Bar, List<ScorePiece> Pieces)> result = [];
        int next = 0;
        int order = 0;
        for (int bar = bars.StartBar; bars.StartOf(bar) < passage.End; bar++)
        {
            Fraction barEnd = bars.StartOf(bar) + bars.LengthOf(bar);
            List<ScorePiece> pieces = [];
            Fraction now = bars.StartOf(bar);
            while (now < barEnd)
            {
                PassageNote? note = next < passage.Notes.Length ? passage.Notes[next] : null;
                bool sounds = note is not null && note.Onset <= now;
                Fraction until = sounds ? note!.End : note?.Onset ?? barEnd;
                bool isCut = until > barEnd;
                until = isCut ? barEnd : until;
                IReadOnlyList<Fraction> lengths = NoteValue.Split(until - now);
                for (int index = 0; index < lengths.Count; index++)
                {
                    bool isLast = !isCut && index == lengths.Count - 1;
                    bool fillsBar = !sounds && lengths.Count == 1 && pieces.Count == 0 && until == barEnd;
                    pieces.Add(new ScorePiece(now, lengths[index], sounds ? next : null, sounds ? order++ : 0, isLast, fillsBar));
                    now += lengths[index];
                }

                if (sounds && !isCut)
                {
                    next++;
                    order = 0;
                }
            }

            result.Add((bar, pieces));
        }

        return result;
    }
}
