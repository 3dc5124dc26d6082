using EarCoach.Audio;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using EarCoach.Scores.Midi;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>Sessions over our own recordings with the real ear: the verdicts must be those of the ear alone, note faults included.</summary>
public sealed class RealSoundTests
{
    public static TheoryData<string> Recordings { get; } =
        ["bassoon-night-watch", "clarinet-mill-wheel", "flute-ferry-dance", "horn-valley-call", "trumpet-gate-signal", "violin-loom-study"];

    [Theory]
    [MemberData(nameof(Recordings))]
    public void AProof_OverARecording_HasTheVerdictsOfTheEarAlone(string name)
    {
        Passage passage = PassageOf(name);
        ProofPlan plan = new() { Sets = 30, CleanInARow = 50 };
        (float[] samples, int rate) = SoundOf(name);
        Ear alone = new(rate, new JudgingTask(passage, null, plan.Tolerances));
        alone.Hear(new AudioBlock(samples, 0));
        alone.Finish();
        List<string> expected = [];
        while (alone.TryTake(out AttemptResult? attempt))
        {
            expected.Add(Told(attempt!));
        }

        RecordingFeed feed = new();
        MemoryStore store = new();
        PracticeSession session = PracticeSession.Begin([new SessionPassage(null, passage)], plan, store, feed, TimeProvider.System);
        using WavFileSource source = WavFileSource.Open(FileOf("reference-audio", name + ".wav"));
        SourceRun.Run(session, source).Should().Be(samples.Length);
        feed.Verdicts.Select(verdict => Told(verdict.Report.Result)).Should().Equal(expected);
        expected.Should().NotBeEmpty();

        // The clip is the sound of the attempt: the same samples, to 16 bits.
        JudgedAttempt first = store.Attempts[0];
        int at = (int)(first.Result.StartSeconds * rate) + 100;
        ((double)first.Clip!.Samples.Span[at - (int)first.Clip.StartSample]).Should().BeApproximately(samples[at] * 32767, 1);
    }

    // Played by arithmetic: tones of eight harmonics, half a second a note, a second and a half of rest between attempts.
    [Fact]
    public void AChain_PlayedNoteByNote_GrowsWithItsCleanAttempts_AndAMissEmptiesTheCount()
    {
        const int Rate = 44_100;
        Passage passage = new() { Title = "Invented", Notes = [.. new[] { 60, 64, 62 }.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })] };
        int[][] played = [[60], [60], [60, 64], [60, 65], [60, 64], [60, 64], [60, 64, 62], [60, 64, 62]];
        float[] sound = TonesOf(played, Rate);
        RecordingFeed feed = new();
        MemoryStore store = new();
        PracticeSession session = PracticeSession.Begin([new SessionPassage(null, passage)], new ChainPlan { CleanInARow = 2 }, store, feed, TimeProvider.System);
        session.OpenStream(Rate);
        session.Hear(new AudioBlock(sound, 0));
        session.CloseStream();
        feed.Verdicts.Select(verdict => (verdict.Report.Task.NoteCount, verdict.Report.Result.Verdict, verdict.View.Drill.Count)).Should().Equal(
            (1, Verdict.Clean, 1),
            (1, Verdict.Clean, 0), // passed: the next length begins at nothing
            (2, Verdict.Clean, 1),
            (2, Verdict.Missed, 0),
            (2, Verdict.Clean, 1),
            (2, Verdict.Clean, 0),
            (3, Verdict.Clean, 1),
            (3, Verdict.Clean, 0));
        feed.Verdicts[3].Report.Lines.Should().Equal("bar 1, second note (E4): wrong pitch, F4 heard");
        session.View.Word.Should().Be(SessionWord.Done);

        // Taken up by another process after any of its attempts, the session would stand where it stood.
        SessionRecord record = store.NewestUnfinished()!;
        for (int told = 0; told <= record.Log.Count; told++)
        {
            DrillView expected = told == 0 ? new Drill([passage]).ViewOf(new Drill([passage]).Start(record.Start.Plan)) : feed.Verdicts[told - 1].View.Drill;
            PracticeSession again = PracticeSession.TakeUp(record with { Log = [.. record.Log.Take(told)] }, store, new RecordingFeed(), TimeProvider.System);
            again.View.Drill.Should().Be(expected);
        }
    }

    [Theory]
    [InlineData(0.1)] // heard in one go: judged together once there is quiet
    [InlineData(0.25)] // the one note is judged before the next begins
    public void PlayingOnPastAOneNoteTask_NeitherCountsNorEmptiesTheCount(double pauseSeconds)
    {
        const int Rate = 44_100;
        Passage passage = new() { Title = "Invented", Notes = [.. new[] { 60, 64, 62 }.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })] };
        RecordingFeed feed = new();
        PracticeSession session = PracticeSession.Begin([new SessionPassage(null, passage)], new ChainPlan { CleanInARow = 3 }, new MemoryStore(), feed, TimeProvider.System);
        session.OpenStream(Rate);

        // One note, properly; then the whole passage; then, after a pause, a wrong note, which is a miss as ever.
        session.Hear(new AudioBlock(TonesOf([[60], [60, 64, 62], [61]], Rate, pauseSeconds), 0));
        session.CloseStream();

        feed.Verdicts.Select(verdict => (verdict.Report.Result.Verdict, verdict.View.Drill.Count)).Should().Equal(
            (Verdict.Clean, 1), (Verdict.Clean, 2), (Verdict.NotCounted, 2), (Verdict.NotCounted, 2), (Verdict.Missed, 0));
        feed.Verdicts[2].Report.Headline.Should().Be("Not counted: you played on past the end of the task.");
    }

    // 30 ms is what a browser under load was seen to skip; three seconds, a laptop that stalls.
    [Theory]
    [InlineData(0.03)]
    [InlineData(3.0)]
    public void SoundLostWithinAnAttempt_IsTold_AndOnlyThatAttemptIsNotCounted(double lostSeconds)
    {
        const int Rate = 44_100;
        Passage passage = new() { Title = "Invented", Notes = [.. new[] { 60, 64, 62 }.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })] };
        float[] sound = TonesOf([[60, 64, 62], [60, 64, 62], [60, 64, 62]], Rate);
        int cut = (int)(Rate * 4.75); // in the second note of the second attempt: attempts begin at 1 s and at 4 s
        int lost = (int)(Rate * lostSeconds);
        RecordingFeed feed = new();
        PracticeSession session = PracticeSession.Begin(
            [new SessionPassage(null, passage)], new ProofPlan { Sets = 1, CleanInARow = 9, Tolerances = new Tolerances { Timing = TimingMode.Off } }, new MemoryStore(), feed, TimeProvider.System);
        session.OpenStream(Rate);
        session.Hear(new AudioBlock(sound.AsSpan(0, cut), 0));
        int goesOn = lostSeconds < 1 ? cut + lost : cut; // a short loss cuts a piece out; after a long one the player has begun anew
        session.Hear(new AudioBlock(sound.AsSpan(goesOn), cut + lost, followsGap: true));
        session.CloseStream();

        feed.News.OfType<SessionEvent.SoundLost>().Should().ContainSingle().Which.Seconds.Should().BeApproximately(lostSeconds, 0.001);
        feed.Verdicts.Where(verdict => verdict.Report.Result.Verdict == Verdict.Clean).Should().HaveCount(2);
        feed.Verdicts.Where(verdict => verdict.Report.Result.Verdict == Verdict.Missed).Should().BeEmpty();
        feed.Verdicts.Where(verdict => verdict.Report.Result.Verdict == Verdict.NotCounted)
            .Select(verdict => verdict.Report.Headline).Distinct().Should().Equal(lostSeconds < 1 ? ["Not counted: sound was lost on the way while you played."] : []);
        feed.Verdicts[^1].View.Drill.Count.Should().Be(2);
    }

    [Fact]
    public void Word_IsJudging_BetweenTheLastNoteAndTheVerdict_AndNotBetweenTonguedNotes()
    {
        const int Rate = 44_100;
        Passage passage = new() { Title = "Invented", Notes = [.. new[] { 60, 64, 62 }.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })] };
        RecordingFeed feed = new();
        PracticeSession session = PracticeSession.Begin([new SessionPassage(null, passage)], new ProofPlan(), new MemoryStore(), feed, TimeProvider.System);
        session.OpenStream(Rate);
        session.Hear(new AudioBlock(TonesOf([[60, 64, 62]], Rate), 0)); // notes of 0.46 s with 0.04 s between them
        session.CloseStream();

        List<SessionWord> words = [];
        foreach (SessionWord word in feed.News.OfType<SessionEvent.Live>().Select(live => live.Word))
        {
            if (words.Count == 0 || words[^1] != word)
            {
                words.Add(word);
            }
        }

        words.Should().Equal(SessionWord.Ready, SessionWord.Listening, SessionWord.Judging, SessionWord.Ready);
    }

    private static float[] TonesOf(int[][] attempts, int rate, double pauseSeconds = 0.04)
    {
        List<float> sound = [.. new float[rate]];
        foreach (int[] notes in attempts)
        {
            foreach (int midi in notes)
            {
                double hertz = 440 * Math.Pow(2, (midi - 69) / 12.0); // equal temperament, A4 = 440 Hz (ISO 16:1975)
                for (int i = 0; i < rate * (0.46 + pauseSeconds); i++)
                {
                    double envelope = Math.Min(1, Math.Min(i / (0.02 * rate), ((rate * 0.46) - i) / (0.02 * rate)));
                    double sample = Enumerable.Range(1, 8).Sum(h => Math.Sin(2 * Math.PI * hertz * h * i / rate) / h);
                    sound.Add((float)(0.15 * Math.Max(0, envelope) * sample));
                }
            }

            sound.AddRange(new float[rate * 3 / 2]);
        }

        return [.. sound];
    }

    private static string Told(AttemptResult attempt) => FormattableString.Invariant(
        $"{attempt.StartSeconds:0.000} {attempt.EndSeconds:0.000} {FaultNames.Of(attempt.Verdict)} {attempt.Reason} ")
        + string.Join(' ', attempt.Notes.Select(note => string.Join('+', note.Faults.Select(FaultNames.Of)))) + FormattableString.Invariant($" {attempt.ExtraNotes.Length}");

    private static Passage PassageOf(string name)
    {
        using FileStream file = File.OpenRead(FileOf("fixtures", "passages", name + ".mid"));
        return MidiPassageReader.Read(file, new MidiReadOptions());
    }

    private static (float[] Samples, int RateHz) SoundOf(string name)
    {
        using WavFileSource source = WavFileSource.Open(FileOf("reference-audio", name + ".wav"));
        float[] samples = new float[source.LengthSamples!.Value];
        for (int read = 0; read < samples.Length;)
        {
            read += source.Read(samples.AsSpan(read));
        }

        return (samples, source.SampleRateHz);
    }

    private static string FileOf(params string[] path)
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "EarCoach.sln")))
        {
            folder = folder.Parent;
        }

        return Path.Combine([folder?.FullName ?? throw new DirectoryNotFoundException("EarCoach.sln is in no folder above the tests."), .. path]);
    }
}
