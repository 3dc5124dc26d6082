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
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.mid");
        try
        {
            File.WriteAllBytes(path, midi);
            return Render(path);
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>Renders dry, at 44.1 kHz; returns the sound mixed to mono.</summary>
    public static Sound Render(string midiPath)
    {
        string wav = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.wav");
        try
        {
            var start = new ProcessStartInfo("fluidsynth", ["-ni", "-g", "0.6", "-R", "0", "-C", "0", "-r", "44100", "-T", "wav", "-F", wav, SoundFont, midiPath])
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            };
            using Process process = Process.Start(start)!;
            Task<string> said = process.StandardOutput.ReadToEndAsync();
            string complaint = process.StandardError.ReadToEnd();
            process.WaitForExit();
            return File.Exists(wav)
                ? Sound.Read(wav)
                : throw new InvalidOperationException($"fluidsynth made no sound of '{midiPath}': {complaint} {said.Result}. Is Debian's fluid-soundfont-gm installed?");
        }
        catch (Win32Exception e)
        {
            throw new InvalidOperationException("fluidsynth is not installed. Install Debian's fluidsynth and fluid-soundfont-gm and run the tests again; .ci/run does so.", e);
        }
        finally
        {
            File.Delete(wav);
        }
    }
}
