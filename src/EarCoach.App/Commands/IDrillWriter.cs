using EarCoach.Core.Drills;
using EarCoach.Engine.Sessions;

namespace EarCoach.App.Commands;

/// <summary>Writes what happens in a drill.</summary>
internal interface IDrillWriter
{
    /// <summary>Before the first sound.</summary>
    void Begin(SessionView view);

    /// <summary>An attempt was judged and is kept.</summary>
    void Verdict(VerdictReport report, IReadOnlyList<DrillEffect> effects, SessionView view);

    /// <summary>Something else changed.</summary>
    void Changed(IReadOnlyList<DrillEffect> effects, SessionView view);

    /// <summary>The sound has ended, the drill is done, or the player has stopped.</summary>
    void End(SessionView view, bool stopped);
}
