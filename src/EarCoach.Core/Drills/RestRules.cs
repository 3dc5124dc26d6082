using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>When a rest, or an end, is proposed. Proposals never stop the judging, and none of them claims that anything is safe.</summary>
/// <remarks>Sources: rest about as long as you played: wilktone.com, "Rest as much as you play"; 25 minutes on, 5 off, and a daily limit: common
/// practice; regular breaks and no sudden increases: NASM-PAMA student information sheet. The numbers of attempts: our choice.</remarks>
public sealed record RestRules
{
    /// <summary>A rest is proposed once playing is ahead of resting by so many seconds; it is as long as what is owed.</summary>
    public double PlayingAheadSeconds { get; init; } = 90;

    /// <summary>A break is proposed after so many minutes without one.</summary>
    public double WorkMinutes { get; init; } = 25;

    /// <summary>A first break is proposed after so many minutes of work, once a session; 0: none.</summary>
    /// <remarks>Source: a five-minute rest early in the work gave the largest gains overnight (Cash 2009, J. Res. Music Educ. 57, 252-266, abstract).</remarks>
    public double EarlyBreakMinutes { get; init; } = 8;

    /// <summary>How long a break is, in minutes.</summary>
    public double BreakMinutes { get; init; } = 5;

    /// <summary>An end for today is proposed after so many minutes of playing in a day.</summary>
    public double DailyPlayingMinutes { get; init; } = 75;

    /// <summary>A rest between sets, in seconds; 0: none.</summary>
    public double BetweenSetsSeconds { get; init; } = 30;

    /// <summary>Something easier is proposed after so many attempts at one stage.</summary>
    public int AttemptsPerStage { get; init; } = 20;

    /// <summary>Something easier is proposed after so many misses running at one stage.</summary>
    public int MissesRunning { get; init; } = 3;

    /// <summary>Late misses are taken for tiredness only after so many clean attempts.</summary>
    public int CleanBeforeTiredness { get; init; } = 8;

    /// <summary>So many misses among the newest four attempts are taken for tiredness.</summary>
    public int LateMisses { get; init; } = 3;

    /// <summary>The usual rules for these passages: on brass instruments a passage that lies high tires the lip sooner, and the limits are closer.</summary>
    /// <remarks>That high passages need closer limits: teachers of brass, common practice. The numbers: our choice. How loud a passage is, is not known.</remarks>
    public static RestRules For(IEnumerable<Passage> passages)
    {
        ArgumentNullException.ThrowIfNull(passages);
        return passages.Any(LiesHigh)
            ? new RestRules { PlayingAheadSeconds = 60, DailyPlayingMinutes = 45, AttemptsPerStage = 10 }
            : new RestRules();
    }

    // At least a quarter of the playing time within a fourth of the top of the usual range.
    private static bool LiesHigh(Passage passage)
    {
        const int Fourth = 5;
        if (InstrumentTable.ById(passage.InstrumentId) is not { PartialsLikely: true } brass)
        {
            return false;
        }

        double all = passage.Notes.Sum(note => note.Length.ToDouble());
        double high = passage.Notes.Where(note => note.MidiPitch >= brass.Highest - Fourth).Sum(note => note.Length.ToDouble());
        return high >= 0.25 * all;
    }

    /// <summary>Every broken rule.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(PlayingAheadSeconds is >= 10 and <= 3600))
        {
            yield return $"Seconds of playing before a rest is {PlayingAheadSeconds}; give 10 to 3600.";
        }

        if (!(WorkMinutes is >= 1 and <= 240))
        {
            yield return $"Minutes before a break is {WorkMinutes}; give 1 to 240.";
        }

        if (!(EarlyBreakMinutes is >= 0 and <= 240))
        {
            yield return $"Minutes before the first break is {EarlyBreakMinutes}; give 0 to 240.";
        }

        if (!(BreakMinutes is >= 0.5 and <= 120))
        {
            yield return $"Minutes of a break is {BreakMinutes}; give 0.5 to 120.";
        }

        if (!(DailyPlayingMinutes is >= 1 and <= 600))
        {
            yield return $"Minutes of playing a day is {DailyPlayingMinutes}; give 1 to 600.";
        }

        if (!(BetweenSetsSeconds is >= 0 and <= 3600))
        {
            yield return $"Seconds between sets is {BetweenSetsSeconds}; give 0 to 3600.";
        }

        if (AttemptsPerStage is < 1 or > 1000)
        {
            yield return $"Attempts at one stage is {AttemptsPerStage}; give 1 to 1000.";
        }

        if (MissesRunning is < 1 or > 1000)
        {
            yield return $"Misses running is {MissesRunning}; give 1 to 1000.";
        }

        if (CleanBeforeTiredness is < 1 or > 1000)
        {
            yield return $"Clean attempts before tiredness is {CleanBeforeTiredness}; give 1 to 1000.";
        }

        if (LateMisses is < 1 or > 4)
        {
            yield return $"Late misses is {LateMisses}; give 1 to 4.";
        }
    }
}
