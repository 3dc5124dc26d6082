using EarCoach.Core.Listening;

namespace EarCoach.Engine.Sessions;

/// <summary>Plays a source of sound into a session, block by block, until it ends, the drill is done, or it is stopped.</summary>
public static class SourceRun
{
    private const int BlocksASecond = 100;

    /// <summary>Runs on the calling thread. Opens and closes the session's stream; the source stays the caller's.</summary>
    /// <param name="session">The session.</param>
    /// <param name="source">A recording, a pipe or a microphone.</param>
    /// <param name="stop">Ends the run after the block under way; an attempt that this cuts off is dropped. Dispose the source to end a read that waits.</param>
    /// <returns>How many samples were heard, lost ones included.</returns>
    public static long Run(PracticeSession session, IAudioSource source, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(source);
        float[] block = new float[source.SampleRateHz / BlocksASecond];
        long heard = 0;
        long lost = source.LostSamples;
        session.OpenStream(source.SampleRateHz);
        while (!stop.IsCancellationRequested && !session.IsOver)
        {
            int count = source.Read(block);
            if (count == 0)
            {
                break;
            }

            // What was dropped came just before the block read last: its place on the capture clock is kept free.
            long gap = source.LostSamples - lost;
            lost += gap;
            heard += gap;
            session.Hear(new AudioBlock(block.AsSpan(0, count), heard, followsGap: gap > 0));
            heard += count;
        }

        session.CloseStream(decide: !stop.IsCancellationRequested);
        return heard;
    }
}
