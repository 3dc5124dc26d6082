using System.ComponentModel;
using System.Diagnostics;

namespace EarCoach.ReferenceTests;

/// <summary>Renders MIDI files by fluidsynth with Debian's general sound font.</summary>
internal static class Fluidsynth
{
    private const string SoundFont = "/usr/share/sounds/sf2/FluidR3_GM.sf2";

    /// <summary>Renders a MIDI file that is not on disk.</summary>
    public static Sound Render(byte[] midi)
    {
        using var file = new TemporaryFile(".mid");
        File.WriteAllBytes(file.Path, midi);
        return Render(file.Path);
    }

    /// <summary>Renders dry, at 44.1 kHz; returns the sound mixed to mono.</summary>
    public static Sound Render(string midiPath)
    {
        using var wav = new TemporaryFile(".wav");
        try
        {
            var start = new ProcessStartInfo("fluidsynth", ["-ni", "-g", "0.6", "-R", "0", "-C", "0", "-r", "44100", "-T", "wav", "-F", wav.Path, SoundFont, midiPath])
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            };
            using Process process = Process.Start(start)!;
            Task<string> said = process.StandardOutput.ReadToEndAsync();
            string complaint = process.StandardError.ReadToEnd();
            process.WaitForExit();
            return File.Exists(wav.Path)
                ? Sound.Read(wav.Path)
                : throw new InvalidOperationException($"fluidsynth made no sound of '{midiPath}': {complaint} {said.Result}. Is Debian's fluid-soundfont-gm installed?");
        }
        catch (Win32Exception e)
        {
            throw new InvalidOperationException("fluidsynth is not installed. Install Debian's fluidsynth and fluid-soundfont-gm and run the tests again; .ci/run does so.", e);
        }
    }
}
