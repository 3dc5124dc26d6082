using CsCheck;
using FluentAssertions;
using Xunit;

namespace EarCoach.Audio.Tests;

public sealed class WavClipWriterTests
{
    // Source: RIFF WAVE, "Multimedia Programming Interface and Data Specifications 1.0" (1991): PCM format chunk, little-endian.
    [Fact]
    public void ToBytes_TwoSamples_IsTheRiffLayout()
    {
        byte[] bytes = WavClipWriter.ToBytes([0.5f, -1f], 48_000);

        Convert.ToHexString(bytes).Should().Be(
            "52494646" + "28000000" + "57415645"          // "RIFF", 40 bytes follow, "WAVE"
            + "666D7420" + "10000000" + "0100" + "0100"   // "fmt ", 16 bytes, PCM, 1 channel
            + "80BB0000" + "00770100" + "0200" + "1000"   // 48,000 a second, 96,000 bytes a second, 2 bytes a frame, 16 bits
            + "64617461" + "04000000" + "0040" + "0080"); // "data", 4 bytes, 16,384 and -32,768
    }

    [Fact]
    public void Write_ThenOpen_GivesTheSamplesBackWithinOneStep()
    {
        Gen.Float[-1f, 1f].Array[1, 200].Sample(
            samples =>
            {
                using var file = new TemporaryFile();
                WavClipWriter.Write(file.Path, samples, 44_100);
                using WavFileSource source = WavFileSource.Open(file.Path);
                float[] back = new float[samples.Length];
                source.Read(back).Should().Be(samples.Length);
                for (int i = 0; i < back.Length; i++)
                {
                    back[i].Should().BeApproximately(samples[i], 1f / 32_768, "sample {0}", i);
                }
            },
            iter: 50, threads: 1);
    }

    [Fact]
    public void ToBytes_NotANumberAndTooLoud_AreSilenceAndFullScale()
    {
        byte[] bytes = WavClipWriter.ToBytes([float.NaN, 2f, -2f], 16_000);

        Convert.ToHexString(bytes.AsSpan(44)).Should().Be("0000" + "FF7F" + "0080");
    }
}
