using EarCoach.Core.Judging;
using FluentAssertions;
using Xunit;

namespace EarCoach.ReferenceTests;

/// <summary>What is said between attempts, and what is played next door, changes no verdict. The sounds come from outside the project.</summary>
public sealed class OtherSoundTests
{
    private const double SpeechDb = -10;     // against the playing; common practice: a voice at arm's length is softer than any wind instrument
    private const double NextDoorDb = -26;   // a guess: what a light wall between two rooms leaves
    private const double PauseSeconds = 0.6;

    public static TheoryData<string> Names => ReferenceAudioTests.Names;

    [Theory]
    [MemberData(nameof(Names))]
    public void ReadingsBetweenAttempts_AreNone(string name) => VerdictsStand(name, recording => WithSpeech(recording, Speech.OfPeople()));

    [Theory]
    [MemberData(nameof(Names))]
    public void RemarksBetweenAttempts_AreNone(string name) => VerdictsStand(name, recording => WithSpeech(recording, Speech.OfVoices()));

    [Theory]
    [MemberData(nameof(Names))]
    public void PlayingNextDoor_IsNone(string name)
    {
        string[] names = [.. ((IEnumerable<object[]>)Names).Select(row => (string)row[0])];
        string other = names[(Array.IndexOf(names, name) + 1) % names.Length];
        VerdictsStand(name, recording => WithNextDoor(recording, ReferenceRecording.Read(other).Sound));
    }

    private static void VerdictsStand(string name, Func<ReferenceRecording, Sound> among)
    {
        ReferenceRecording recording = ReferenceRecording.Read(name);
        Verdict[] alone = [.. recording.Judge(recording.Sound).Select(a => a.Verdict)];
        recording.Judge(among(recording)).Select(a => a.Verdict).Should().Equal(alone);
        alone.Should().HaveCount(recording.Attempts.Length);
    }

    /// <summary>With something said in the middle of each pause, which is made longer for it.</summary>
    private static Sound WithSpeech(ReferenceRecording recording, Sound[] said)
    {
        Sound sound = recording.Sound;
        int rate = sound.SampleRateHz;
        double level = LevelOf(recording) * Math.Pow(10, SpeechDb / 20);
        var among = new List<float>();
        int from = 0;
        for (int k = 0; k + 1 < recording.Attempts.Length; k++)
        {
            int middle = (int)(0.5 * (recording.Attempts[k].End + recording.Attempts[k + 1].Start) * rate);
            among.AddRange(sound.Samples[from..middle]);
            float[] words = Scaled(Resampled(said[k % said.Length], rate), level);
            float[] pause = [.. Enumerable.Range(0, words.Length + (2 * (int)(PauseSeconds * rate))).Select(i => sound.Samples[middle - 1 - (i % (rate / 10))])];
            for (int i = 0; i < words.Length; i++)
            {
                pause[(int)(PauseSeconds * rate) + i] += words[i];
            }

            among.AddRange(pause);
            from = middle;
        }

        among.AddRange(sound.Samples[from..]);
        return sound with { Samples = [.. among] };
    }

    /// <summary>With another recording behind it from its first attempt on, without its treble.</summary>
    private static Sound WithNextDoor(ReferenceRecording recording, Sound other)
    {
        Sound sound = recording.Sound;
        int rate = sound.SampleRateHz;
        float[] through = Muffled(Muffled(Resampled(other, rate), rate), rate);
        through = Scaled(through, LevelOf(recording) * Math.Pow(10, NextDoorDb / 20));
        int from = (int)(recording.Attempts[0].End * rate); // the program knows by then how loud the player is
        return sound with { Samples = [.. sound.Samples.Select((x, i) => i < from ? x : x + through[(i - from) % through.Length])] };
    }

    private static double LevelOf(ReferenceRecording recording) => RootMeanSquare(
        [.. recording.Attempts.SelectMany(a => recording.Sound.Samples[(int)(a.Start * recording.Sound.SampleRateHz)..(int)(a.End * recording.Sound.SampleRateHz)])]);

    /// <summary>Its louder parts brought to a level.</summary>
    private static float[] Scaled(float[] samples, double level)
    {
        float loud = 0.1f * samples.Max(Math.Abs);
        double gain = level / RootMeanSquare([.. samples.Where(x => Math.Abs(x) > loud)]);
        return [.. samples.Select(x => (float)(gain * x))];
    }

    private static double RootMeanSquare(float[] samples) => Math.Sqrt(samples.Average(x => (double)x * x));

    /// <summary>By straight lines between its samples.</summary>
    private static float[] Resampled(Sound sound, int rate)
    {
        double step = (double)sound.SampleRateHz / rate;
        return
        [
            .. Enumerable.Range(0, (int)((sound.Samples.Length - 1) / step)).Select(i =>
            {
                int whole = (int)(i * step);
                float part = (float)((i * step) - whole);
                return sound.Samples[whole] + (part * (sound.Samples[whole + 1] - sound.Samples[whole]));
            }),
        ];
    }

    /// <summary>Through a low-pass of the first order at 1 kHz.</summary>
    private static float[] Muffled(float[] samples, int rate)
    {
        double share = 1 - Math.Exp(-2 * Math.PI * 1_000 / rate);
        double state = 0;
        return [.. samples.Select(x => (float)(state += share * (x - state)))];
    }
}
