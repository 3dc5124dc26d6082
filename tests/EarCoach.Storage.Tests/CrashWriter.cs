using System.Globalization;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using EarCoach.Engine.Tests.Sessions;

namespace EarCoach.Storage.Tests;

/// <summary>A practice session that goes on until it is killed, and says each verdict on its standard output as a page would show it.</summary>
internal static class CrashWriter
{
    public const int RateHz = 16_000;

    public static ProofPlan Plan { get; } = new() { Sets = 30, CleanInARow = 50 };

    public static Passage Passage { get; } = new()
    {
        Title = "Invented",
        Notes = [.. Enumerable.Range(0, 8).Select(i => new PassageNote { MidiPitch = 60 + i, Onset = i, Length = 1 })],
    };

    /// <summary>The sample that the whole clip of an attempt consists of.</summary>
    public static short LoudnessOf(int number) => (short)(100 + (number % 300 * 100));

    /// <summary>Every seventh is missed.</summary>
    public static Verdict VerdictOf(int number) => number % 7 == 0 ? Verdict.Missed : Verdict.Clean;

    public static void Run(string folder)
    {
        using SqliteStore store = SqliteStore.Open(folder);
        SessionRecord? unfinished = store.Attempts.NewestUnfinished();
        int before = unfinished?.Log.Count ?? 0;
        SessionOptions options = new()
        {
            MakeEar = (rate, task) => new ScriptedEar(rate, task, i => VerdictOf(before + i + 1) == Verdict.Missed ? 'm' : 'c'),
        };
        SayingFeed feed = new();
        PracticeSession session = unfinished is null
            ? PracticeSession.Begin([new SessionPassage(null, Passage)], Plan, store.Attempts, feed, TimeProvider.System, options)
            : PracticeSession.TakeUp(unfinished, store.Attempts, feed, TimeProvider.System, options);
        session.OpenStream(RateHz);
        float[] twoSeconds = new float[2 * RateHz];
        for (int attempt = 0; ; attempt++)
        {
            Array.Fill(twoSeconds, LoudnessOf(before + attempt + 1) / 32767f);
            session.Hear(new AudioBlock(twoSeconds, (long)attempt * twoSeconds.Length));
        }
    }

    private sealed class SayingFeed : IVerdictFeed
    {
        private readonly Stream _out = Console.OpenStandardOutput();

        public void Publish(SessionEvent news)
        {
            if (news is SessionEvent.Verdict verdict)
            {
                string line = string.Create(
                    CultureInfo.InvariantCulture,
                    $"{verdict.Report.Number} {FaultNames.Of(verdict.Report.Result.Verdict)} {verdict.View.Drill.Seals} {verdict.View.Drill.Count}\n");
                _out.Write(System.Text.Encoding.ASCII.GetBytes(line));
                _out.Flush();
            }
        }
    }
}
