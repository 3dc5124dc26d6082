namespace EarCoach.Engine.Ports;

/// <summary>The sound of all attempts as a whole: how much room it takes, and how to free some. Any thread; durable on return.</summary>
public interface IClipArchive
{
    /// <summary>How many bytes the clips take.</summary>
    long TotalBytes();

    /// <summary>Forgets the oldest clips until the rest takes no more than so many bytes. Verdicts stay, and so do the clips of cold takes and
    /// of disputed attempts.</summary>
    /// <returns>How many clips were forgotten.</returns>
    int ForgetOldest(long keepBytes);
}
