using CsCheck;
using FluentAssertions;
using Xunit;

namespace EarCoach.Audio.Tests;

public sealed class WavFuzzTests
{
    private static readonly string[] _seeds = ["chunks-around.wav", "extensible-24-bit-stereo.wav", "truncated.wav", "not-a-number.wav"];

    // Whatever stands in the file: samples in [-1, 1], or the one kind of exception.
    [Fact]
    public void Open_AnyBytesChanged_GivesSamplesOrAnAudioException()
    {
        Gen<(string Seed, (int At, byte Value)[] Changes, int Keep)> damage = Gen.Select(
            Gen.Int[0, _seeds.Length - 1].Select(i => _seeds[i]), Gen.Select(Gen.Int[0, 120], Gen.Byte).Array[1, 6], Gen.Int[0, 400]);
        using var file = new TemporaryFile();
        damage.Sample(
            d =>
            {
                byte[] bytes = File.ReadAllBytes(Fixtures.Path("malformed-wav", d.Seed));
                bytes = bytes[..Math.Min(bytes.Length, d.Keep < 20 ? d.Keep : bytes.Length)];
                foreach ((int at, byte value) in d.Changes)
                {
                    if (at < bytes.Length)
                    {
                        bytes[at] = value;
                    }
                }

                File.WriteAllBytes(file.Path, bytes);
                try
                {
                    using WavFileSource source = WavFileSource.Open(file.Path);
                    float[] block = new float[64];
                    for (int n = source.Read(block); n > 0; n = source.Read(block))
                    {
                        block.AsSpan(0, n).ToArray().Should().OnlyContain(x => x >= -1 && x <= 1);
                    }
                }
                catch (AudioException)
                {
                    // a sentence for the person
                }
            },
            iter: 3_000, threads: 1);
    }
}
