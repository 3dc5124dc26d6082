namespace EarCoach.Scores;

/// <summary>Reads a whole stream into memory, up to a limit.</summary>
internal static class BoundedStreamReading
{
    /// <summary>All bytes that are left in the stream.</summary>
    /// <exception cref="ScoreException">More than the limit.</exception>
    public static byte[] ReadAll(Stream stream, int mostBytes, string whatItIs)
    {
        ArgumentNullException.ThrowIfNull(stream);
        using MemoryStream copy = new();
        byte[] buffer = new byte[16_384];
        for (int read = stream.Read(buffer); read > 0; read = stream.Read(buffer))
        {
            if (copy.Length + read > mostBytes)
            {
                throw new ScoreException(
                    ScoreFailure.TooLarge,
                    $"byte {mostBytes}",
                    $"The {whatItIs} is larger than {mostBytes} bytes, the most that is read. Save only the part you practise and import that.");
            }

            copy.Write(buffer, 0, read);
        }

        return copy.ToArray();
    }
}
