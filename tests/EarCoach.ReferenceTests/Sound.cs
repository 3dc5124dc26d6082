using EarCoach.Audio;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;

namespace EarCoach.ReferenceTests;

/// <summary>A recording in memory.</summary>
internal sealed record Sound(float[] Samples, int SampleRateHz)
{
    public static Sound Read(string path)
    {
        using WavFileSource source = WavFileSource.Open(path);
        float[] samples = new float[source.LengthSamples!.Value];
        int at = 0;
        for (int count = source.Read(samples); count > 0; count = source.Read(samples.AsSpan(at)))
        {
            at += count;
        }

        return new Sound(samples, source.SampleRateHz);
    }

    /// <summary>With silence around it, and its end faded: isolated tones start at the first sample and may end abruptly.</summary>
    public Sound Framed(double silenceSeconds, double fadeSeconds)
    {
        int silence = (int)(silenceSeconds * SampleRateHz);
        int fade = Math.Min((int)(fadeSeconds * SampleRateHz), Samples.Length);
        float[] framed = new float[Samples.Length + (2 * silence)];
        Samples.CopyTo(framed, silence);
        for (int i = 0; i < fade; i++)
        {
            framed[silence + Samples.Length - 1 - i] *= (float)i / fade;
        }

        return this with { Samples = framed };
    }

    /// <summary>Another one after it, with silence before each and after the last.</summary>
    public Sound FollowedBy(Sound next, double silenceSeconds)
    {
        float[] silence = new float[(int)(silenceSeconds * SampleRateHz)];
        return this with { Samples = [.. silence, .. Samples, .. silence, .. next.Samples, .. silence] };
    }

    /// <summary>The attempts at a passage that the ear hears in it.</summary>
    public IReadOnlyList<AttemptResult> JudgedAs(Passage passage, Tolerances tolerances)
    {
        var ear = new Ear(SampleRateHz, new JudgingTask(passage, null, tolerances));
        const int BlockLength = 640;
        for (int at = 0; at < Samples.Length; at += BlockLength)
        {
            ear.Hear(new AudioBlock(Samples.AsSpan(at, Math.Min(BlockLength, Samples.Length - at)), at));
        }

        ear.Finish();
        var attempts = new List<AttemptResult>();
        while (ear.TryTake(out AttemptResult? attempt))
        {
            attempts.Add(attempt!);
        }

        return attempts;
    }

    /// <summary>The longest of the attempts at a passage that the ear hears in it, with silence around it.</summary>
    public AttemptResult LongestJudgedAs(Passage passage, Tolerances? tolerances = null) =>
        Framed(0.5, 0.03).JudgedAs(passage, tolerances ?? new Tolerances()).MaxBy(attempt => attempt.EndSeconds - attempt.StartSeconds)!;

    public void Write(string path) => WavClipWriter.Write(path, Samples, SampleRateHz);
}
