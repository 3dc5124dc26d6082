using System.ComponentModel;
using System.Diagnostics;

namespace EarCoach.ReferenceTests;

/// <summary>What people say, from outside the project.</summary>
internal static class Speech
{
    private const string Readings = "/usr/share/pocketsphinx/test/data";

    private static readonly string[] _remarks = ["No, that was flat again.", "Once more, from the beginning.", "One, two, three, four.", "Why does it always crack?", "Right. Again."];
    private static readonly string[] _voices = ["en-us", "en-gb+f3", "en-us+m3", "de", "fr"];

    /// <summary>Recordings of people: sentences read by volunteers, and cards called out (Debian's pocketsphinx-testdata).</summary>
    public static Sound[] OfPeople() => Directory.Exists(Readings)
        ? [.. Directory.GetFiles(Readings, "*.wav", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(Sound.Read)]
        : throw new InvalidOperationException($"There is no folder '{Readings}'. Install Debian's pocketsphinx-testdata and run the tests again; .ci/run does so.");

    /// <summary>Remarks of a player, spoken by five voices of espeak-ng.</summary>
    public static Sound[] OfVoices() => [.. _remarks.Zip(_voices, Speak)];

    private static Sound Speak(string remark, string voice)
    {
        using var wav = new TemporaryFile(".wav");
        try
        {
            using Process process = Process.Start(new ProcessStartInfo("espeak-ng", ["-v", voice, "-s", "150", "-w", wav.Path, remark]))!;
            process.WaitForExit();
            return Sound.Read(wav.Path);
        }
        catch (Win32Exception e)
        {
            throw new InvalidOperationException("espeak-ng is not installed. Install Debian's espeak-ng and run the tests again; .ci/run does so.", e);
        }
    }
}
