namespace EarCoach.Scores.Tests.Fuzzing;

/// <summary>Damages files in the ways that transfers, editors and attackers do. The same number gives the same damage.</summary>
internal static class Mutation
{
    private static readonly byte[] _telling = [0x00, 0x01, 0x7F, 0x80, 0xFF, 0x2F, 0x51, 0x58, (byte)'<', (byte)'>', (byte)'&', (byte)'"', (byte)'0', (byte)'9', (byte)'-', (byte)'/'];

    /// <summary>One of the files, changed in one to eight places.</summary>
    public static byte[] Of(IReadOnlyList<byte[]> files, int number)
    {
        Random random = new(number);
        List<byte> bytes = [.. files[random.Next(files.Count)]];
        int changes = 1 << random.Next(4);
        for (int change = 0; change < changes && bytes.Count > 0; change++)
        {
            Change(bytes, files, random);
        }

        return [.. bytes];
    }

    private static void Change(List<byte> bytes, IReadOnlyList<byte[]> files, Random random)
    {
        int at = random.Next(bytes.Count);
        int length = Math.Min(bytes.Count - at, 1 << random.Next(8));
        switch (random.Next(8))
        {
            case 0:
                bytes[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1:
                bytes[at] = (byte)random.Next(256);
                break;
            case 2:
                bytes[at] = _telling[random.Next(_telling.Length)];
                break;
            case 3:
                bytes.RemoveRange(at, length);
                break;
            case 4:
                bytes.InsertRange(at, bytes.GetRange(at, length));
                break;
            case 5:
                bytes.InsertRange(at, Enumerable.Range(0, random.Next(1, 9)).Select(_ => _telling[random.Next(_telling.Length)]));
                break;
            case 6 when random.Next(4) == 0:
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            default:
                byte[] other = files[random.Next(files.Count)];
                int from = random.Next(other.Length);
                bytes.InsertRange(at, other[from..Math.Min(other.Length, from + length)]);
                break;
        }
    }
}
