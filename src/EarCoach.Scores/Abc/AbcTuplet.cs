using EarCoach.Core.Passages;

namespace EarCoach.Scores.Abc;

/// <summary>A tuplet under way: so many notes still to come, each changed by a factor (ABC 2.1, section 4.13).</summary>
internal sealed class AbcTuplet
{
    private int _left;
    private Fraction _factor = Fraction.One;

    public bool IsOpen => _left > 0;

    /// <summary>Reads "3", "3:2" or "3:2:4" behind the opening parenthesis.</summary>
    public void Begin(AbcCursor cursor, MeterMark meter)
    {
        if (IsOpen)
        {
            throw cursor.Unsupported("A tuplet begins within a tuplet, which is not understood. Write one of them out.");
        }

        int notes = cursor.TakeNumber() ?? 0;
        int? time = null;
        int? count = null;
        if (cursor.TakeIf(':'))
        {
            time = cursor.TakeNumber();
            count = cursor.TakeIf(':') ? cursor.TakeNumber() : null;
        }

        bool isCompound = meter.BeatType >= 8 && meter.Beats > 3 && meter.Beats % 3 == 0;
        int usual = notes switch
        {
            2 or 4 or 8 => 3,
            3 or 6 => 2,
            _ => isCompound ? 3 : 2,
        };
        if (notes is < 2 or > 32 || time is < 1 or > 32 || count is < 1 or > 64)
        {
            throw cursor.Malformed("This tuplet is none; write for example (3abc or (5:4:5abcde.");
        }

        _factor = new Fraction(time ?? usual, notes);
        _left = count ?? notes;
    }

    /// <summary>The factor of the next note or rest.</summary>
    public Fraction Next()
    {
        if (_left == 0)
        {
            return Fraction.One;
        }

        _left--;
        return _factor;
    }
}
