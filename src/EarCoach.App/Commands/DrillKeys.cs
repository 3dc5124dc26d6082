using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;

namespace EarCoach.App.Commands;

/// <summary>Single keys during a live drill in the terminal: p pauses or goes on, d disputes, r repeats, s skips.</summary>
internal static class DrillKeys
{
    /// <summary>What they are, in one line.</summary>
    public const string Help = "Keys: p pause or go on, d dispute the last verdict, r start the stage over, s skip it; Ctrl+C stops.";

    private static readonly TimeSpan _pause = TimeSpan.FromMilliseconds(50);

    /// <summary>Obeys keys until stopped.</summary>
    public static async Task ObeyAsync(PracticeSession session, Func<char?> readKey, TextWriter error, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            try
            {
                while (readKey() is { } key)
                {
                    Obey(session, char.ToLowerInvariant(key));
                }
            }
            catch (StoreException e)
            {
                await error.WriteLineAsync(e.Message);
            }

            await Task.Delay(_pause, stop).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private static void Obey(PracticeSession session, char key)
    {
        switch (key)
        {
            case 'p' when session.View.Word == SessionWord.Paused:
                session.Resume();
                break;
            case 'p':
                session.Pause();
                break;
            case 'd':
                session.Dispute();
                break;
            case 'r':
                session.Repeat();
                break;
            case 's':
                session.Skip();
                break;
        }
    }
}
