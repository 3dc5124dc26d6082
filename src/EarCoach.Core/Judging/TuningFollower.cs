namespace EarCoach.Core.Judging;

/// <summary>Follows the tuning of the whole instrument from attempt to attempt, so that a cold or warm instrument is not every note's fault.</summary>
/// <remarks>
/// A Kalman filter of one number (Kalman 1960): the deviation from the player's A in cents, fed with the median of each attempt's notes.
/// A single note never moves it: an attempt of fewer than four notes is not used, and a median ignores the odd one.
/// </remarks>
internal sealed class TuningFollower(double limitCents)
{
    private const int LeastNotes = 4;
    private const double PriorSpread = 8;      // how far instruments stand from their A before they are heard; a guess
    private const double DriftSpread = 1.5;    // from one attempt to the next
    private const double AttemptSpread = 3;    // of an attempt's own median
    private const double NoteSpread = 6;       // of single notes: professionals' deviations, Kopiez 2003 (4.9 cents, SD 6.5)
    private double _mean;
    private double _variance = PriorSpread * PriorSpread;

    /// <summary>A follower that knows the same and goes its own way from here.</summary>
    public TuningFollower Copy() => (TuningFollower)MemberwiseClone();

    /// <summary>Takes an attempt's notes and gives the reference to judge them from, in cents.</summary>
    public double Follow(ReadOnlySpan<MeasuredNote> notes, ReadOnlySpan<TargetNote> targets)
    {
        if (limitCents <= 0)
        {
            return 0;
        }

        List<double> deviations = Deviations(notes, targets);
        if (deviations.Count >= LeastNotes)
        {
            deviations.Sort();
            double median = 0.5 * (deviations[(deviations.Count - 1) / 2] + deviations[deviations.Count / 2]);
            _variance += DriftSpread * DriftSpread;
            double noise = (AttemptSpread * AttemptSpread) + (1.57 * NoteSpread * NoteSpread / deviations.Count); // a median varies pi/2 times as much as a mean
            double gain = _variance / (_variance + noise);
            _mean += gain * (median - _mean);
            _variance *= 1 - gain;
        }

        return Math.Clamp(_mean, -limitCents, limitCents);
    }

    /// <summary>Deviations in cents of the notes that are near their target.</summary>
    public static List<double> Deviations(ReadOnlySpan<MeasuredNote> notes, ReadOnlySpan<TargetNote> targets)
    {
        var deviations = new List<double>();
        for (int i = 0; i < notes.Length; i++)
        {
            if (notes[i] is { HeardMidi: { } heard, SemitoneOnly: false } && Math.Abs(heard - targets[i].Midi) < 0.45)
            {
                deviations.Add(100 * (heard - targets[i].Midi));
            }
        }

        return deviations;
    }
}
