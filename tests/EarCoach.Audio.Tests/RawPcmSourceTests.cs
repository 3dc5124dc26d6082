using CsCheck;
using FluentAssertions;
using Xunit;

namespace EarCoach.Audio.Tests;

public sealed class RawPcmSourceTests
{
    [Theory]
    [InlineData(15_999)]
    [InlineData(192_001)]
    public void New_RateOutsideTheLimits_SaysSo(int rateHz)
    {
        Action make = () => new RawPcmSource(Stream.Null, rateHz).Dispose();

        make.Should().Throw<AudioException>().Which.Failure.Should().Be(AudioFailure.UnsupportedRate);
    }

    [Fact]
    public void Read_PipeThatDeliversOddPieces_GivesEverySampleOnce()
    {
        Gen.Select(Gen.Int[1, 5].Array[1, 40], Gen.Int[1, 9]).Sample(
            (pieces, blockLength) =>
            {
                byte[] bytes = [.. Enumerable.Range(0, 200).SelectMany(i => BitConverter.GetBytes((short)(i * 50)))];
                using var source = new RawPcmSource(new Dribble(bytes, pieces), 48_000);
                var all = new List<float>();
                float[] block = new float[blockLength];
                for (int n = source.Read(block); n > 0; n = source.Read(block))
                {
                    all.AddRange(block.AsSpan(0, n));
                }

                all.Should().Equal(Enumerable.Range(0, 200).Select(i => i * 50 / 32_768f));
                source.Remarks.Should().BeEmpty();
            },
            iter: 200, threads: 1);
    }

    [Fact]
    public void Read_EndWithinASample_IsRemarked()
    {
        using var source = new RawPcmSource(new MemoryStream([0, 0x40, 1]), 48_000);
        float[] block = new float[4];

        source.Read(block).Should().Be(1);
        source.Read(block).Should().Be(0);
        source.Remarks.Should().ContainSingle().Which.Should().Contain("middle of a sample");
    }

    [Fact]
    public void Read_FloatStereo_IsMixed()
    {
        using var source = new RawPcmSource(new MemoryStream([.. BitConverter.GetBytes(0.5f), .. BitConverter.GetBytes(-0.25f)]), 44_100, SampleFormat.Real32, 2);
        float[] block = new float[4];

        source.Read(block).Should().Be(1);
        block[0].Should().Be(0.125f);
        source.Remarks.Should().ContainSingle().Which.Should().Contain("2 channels");
    }

    private sealed class Dribble(byte[] bytes, int[] pieces) : MemoryStream(bytes)
    {
        private int _turn;

        public override int Read(Span<byte> buffer) => base.Read(buffer[..Math.Min(buffer.Length, pieces[_turn++ % pieces.Length])]);
    }
}
