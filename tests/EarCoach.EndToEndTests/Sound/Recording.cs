using EarCoach.Audio;

namespace EarCoach.EndToEndTests.Sound;

/// <summary>Puts together what the microphone of a test hears: attempts one after another, with silence around each, as mono samples.</summary>
/// <remarks>Digital silence of a second stands at both ends: the browser's fake microphone loses up to 50 ms at the start, and repeats the
/// last 10 ms for ever at the end.</remarks>
internal sealed class Recording(int sampleRateHz)
{
    private const double EndSilenceSeconds = 1.2;
    private readonly List<float> _samples = [.. new float[(int)(EndSilenceSeconds * sampleRateHz)]];

    /// <summary>Samples a second.</summary>
    public int SampleRateHz { get; } = sampleRateHz;

    /// <summary>Where each attempt's last note ends, in seconds from the start of the file.</summary>
    public List<double> EndsSeconds { get; } = [];

    /// <summary>Where each attempt's first note begins, in seconds from the start of the file.</summary>
    public List<double> StartsSeconds { get; } = [];

    /// <summary>Length so far.</summary>
    public double Seconds => (double)_samples.Count / SampleRateHz;

    /// <summary>Adds an attempt made of tones.</summary>
    public Recording Play(IReadOnlyList<PlayedNote> notes, double silenceAfterSeconds = 1.6)
    {
        double length = notes.Max(note => note.OnsetSeconds + note.LengthSeconds);
        float[] attempt = new float[(int)((length + 0.1) * SampleRateHz)];
        foreach (PlayedNote note in notes)
        {
            Tone.Add(attempt, note, SampleRateHz);
        }

        StartsSeconds.Add(Seconds + notes[0].OnsetSeconds);
        EndsSeconds.Add(Seconds + length);
        _samples.AddRange(attempt);
        return Rest(silenceAfterSeconds);
    }

    /// <summary>Adds an attempt of one of the reference recordings, or its beginning.</summary>
    /// <param name="samples">The reference recording.</param>
    /// <param name="startSeconds">Where the attempt's first note begins in it.</param>
    /// <param name="endSeconds">Where the last note that is taken ends in it.</param>
    /// <param name="tailSeconds">How much of what follows is taken too, fading away.</param>
    /// <param name="silenceAfterSeconds">Silence after it.</param>
    public Recording Cut(float[] samples, double startSeconds, double endSeconds, double tailSeconds = 0.25, double silenceAfterSeconds = 1.4)
    {
        const double Before = 0.1;
        int from = Math.Max(0, (int)((startSeconds - Before) * SampleRateHz));
        int to = Math.Min(samples.Length, (int)((endSeconds + tailSeconds) * SampleRateHz));
        float[] cut = samples[from..to];
        int fade = (int)(0.05 * SampleRateHz);
        int tail = (int)(tailSeconds * SampleRateHz);
        for (int i = 0; i < fade; i++)
        {
            cut[i] *= (float)i / fade;
        }

        for (int i = 0; i < tail; i++)
        {
            cut[^(i + 1)] *= (float)i / tail;
        }

        StartsSeconds.Add(Seconds + startSeconds - ((double)from / SampleRateHz));
        EndsSeconds.Add(Seconds + endSeconds - ((double)from / SampleRateHz));
        _samples.AddRange(cut);
        return Rest(silenceAfterSeconds);
    }

    /// <summary>Where a moment of the reference recording lies in this file, for the attempt cut out last.</summary>
    public double PlaceOf(double referenceSeconds, double startSeconds) => StartsSeconds[^1] + referenceSeconds - startSeconds;

    /// <summary>Adds silence: as quiet as a good room, not digital, so that the ear has a floor to measure.</summary>
    public Recording Rest(double seconds)
    {
        Random quiet = new(7);
        for (int i = 0; i < seconds * SampleRateHz; i++)
        {
            _samples.Add((float)((quiet.NextDouble() - 0.5) * 2e-4));
        }

        return this;
    }

    /// <summary>Everything so far, with silence at its end.</summary>
    public float[] Samples => [.. _samples, .. new float[(int)(EndSilenceSeconds * SampleRateHz)]];

    /// <summary>Writes the file, 16-bit PCM, with silence at its end.</summary>
    public string Write(string folder, string name)
    {
        string path = Path.Combine(folder, name);
        WavClipWriter.Write(path, Samples, SampleRateHz);
        return path;
    }
}
