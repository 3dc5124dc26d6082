using System.Buffers.Binary;
using FluentAssertions;
using Xunit;

namespace EarCoach.Audio.Tests;

public sealed class WavFileSourceTests
{
    // The files are made by fixtures/malformed-wav/make_malformed_wav.py, which says what is wrong with each.
    [Theory]
    [InlineData("empty.wav", AudioFailure.Empty)]
    [InlineData("only-riff.wav", AudioFailure.Malformed)]
    [InlineData("text.wav", AudioFailure.NotWav)]
    [InlineData("flac-inside.wav", AudioFailure.NotWav)]
    [InlineData("no-data-chunk.wav", AudioFailure.Malformed)]
    [InlineData("no-format-chunk.wav", AudioFailure.Malformed)]
    [InlineData("short-format-chunk.wav", AudioFailure.Malformed)]
    [InlineData("huge-format-chunk.wav", AudioFailure.Malformed)]
    [InlineData("zero-samples.wav", AudioFailure.NoSamples)]
    [InlineData("zero-channels.wav", AudioFailure.Malformed)]
    [InlineData("wrong-alignment.wav", AudioFailure.Malformed)]
    [InlineData("rate-8000.wav", AudioFailure.UnsupportedRate)]
    [InlineData("rate-0.wav", AudioFailure.UnsupportedRate)]
    [InlineData("mu-law.wav", AudioFailure.UnsupportedFormat)]
    [InlineData("extensible-cut.wav", AudioFailure.Malformed)]
    [InlineData("there-is-no-such-file.wav", AudioFailure.NotFound)]
    public void Open_UnusableFile_SaysWhichAndWhatToDo(string name, AudioFailure expected)
    {
        Action open = () => WavFileSource.Open(Fixtures.Path("malformed-wav", name)).Dispose();

        AudioException thrown = open.Should().Throw<AudioException>().Which;
        thrown.Failure.Should().Be(expected);
        thrown.Message.Should().Contain(name).And.EndWith(thrown.Message.Contains("ffmpeg", StringComparison.Ordinal) ? ".wav" : ".");
    }

    [Fact]
    public void Open_Folder_SaysSo()
    {
        Action open = () => WavFileSource.Open(Fixtures.Path("malformed-wav")).Dispose();

        open.Should().Throw<AudioException>().Which.Failure.Should().Be(AudioFailure.Unreadable);
    }

    // 160 samples at 16 kHz are in each of these; the ramp is 0, 100, 200, ... of 32,768.
    [Theory]
    [InlineData("truncated.wav", 160, "cut off")]
    [InlineData("half-a-sample.wav", 159, null)]
    [InlineData("unfinished.wav", 160, "does not say how long it is")]
    [InlineData("piped.wav", 160, "does not say how long it is")]
    [InlineData("chunks-around.wav", 160, null)]
    public void Read_DamagedLength_GivesWhatIsThereAndSaysSo(string name, int samples, string? remark)
    {
        using WavFileSource source = WavFileSource.Open(Fixtures.Path("malformed-wav", name));

        float[] all = ReadAll(source);

        source.LengthSamples.Should().Be(samples);
        all.Should().Equal(Enumerable.Range(0, samples).Select(i => i * 100 / 32_768f));
        if (remark is null)
        {
            source.Remarks.Should().BeEmpty();
        }
        else
        {
            source.Remarks.Should().ContainSingle().Which.Should().Contain(remark);
        }
    }

    [Fact]
    public void Read_OneSample_GivesIt()
    {
        using WavFileSource source = WavFileSource.Open(Fixtures.Path("malformed-wav", "one-sample.wav"));

        ReadAll(source).Should().Equal(0.5f); // 0x4000 of 0x8000
    }

    [Fact]
    public void Read_NotANumber_BecomesSilenceAndFullScale()
    {
        using WavFileSource source = WavFileSource.Open(Fixtures.Path("malformed-wav", "not-a-number.wav"));

        ReadAll(source).Should().Equal(0f, 0f, 0f, 1f, 0.5f);
    }

    [Fact]
    public void Read_ExtensibleStereo_IsMixedWithARemark()
    {
        using WavFileSource source = WavFileSource.Open(Fixtures.Path("malformed-wav", "extensible-24-bit-stereo.wav"));

        ReadAll(source).Should().Equal(0f, 0.25f); // (0.5 - 0.5) / 2, (0.25 + 0.25) / 2
        source.SampleRateHz.Should().Be(48_000);
        source.Remarks.Should().ContainSingle().Which.Should().Contain("2 channels");
    }

    // Full scale by the width of the format: 2^7, 2^15, 2^23, 2^31 (two's complement; 8 bits are offset by 128).
    [Theory]
    [InlineData(1, 8, new byte[] { 192, 64, 128 })]
    [InlineData(1, 16, new byte[] { 0, 0x40, 0, 0xC0, 0, 0 })]
    [InlineData(1, 24, new byte[] { 0, 0, 0x40, 0, 0, 0xC0, 0, 0, 0 })]
    [InlineData(1, 32, new byte[] { 0, 0, 0, 0x40, 0, 0, 0, 0xC0, 0, 0, 0, 0 })]
    [InlineData(3, 32, new byte[] { 0, 0, 0, 0x3F, 0, 0, 0, 0xBF, 0, 0, 0, 0 })]
    [InlineData(3, 64, new byte[] { 0, 0, 0, 0, 0, 0, 0xE0, 0x3F, 0, 0, 0, 0, 0, 0, 0xE0, 0xBF, 0, 0, 0, 0, 0, 0, 0, 0 })]
    public void Read_EveryFormat_GivesHalfMinusHalfAndZero(short code, short bits, byte[] data)
    {
        using TemporaryFile file = WriteWav(code, channels: 1, rateHz: 44_100, bits, data);
        using WavFileSource source = WavFileSource.Open(file.Path);

        ReadAll(source).Should().Equal(0.5f, -0.5f, 0f);
    }

    [Theory]
    [InlineData(16_000)]
    [InlineData(22_050)]
    [InlineData(192_000)]
    public void Open_RateWithinTheLimits_IsTaken(int rateHz)
    {
        using TemporaryFile file = WriteWav(1, channels: 1, rateHz, bits: 16, data: [1, 0]);
        using WavFileSource source = WavFileSource.Open(file.Path);

        source.SampleRateHz.Should().Be(rateHz);
    }

    [Fact]
    public void Read_ManyChannels_GivesTheirMean()
    {
        byte[] data = new byte[2 * 12];
        BinaryPrimitives.WriteInt16LittleEndian(data.AsSpan(10), 12_288); // 0.375 in one of 12 channels
        using TemporaryFile file = WriteWav(1, channels: 12, rateHz: 48_000, bits: 16, data);
        using WavFileSource source = WavFileSource.Open(file.Path);

        ReadAll(source).Should().Equal(0.375f / 12);
    }

    [Fact]
    public void Read_LongFile_DoesNotLieInMemory()
    {
        // Ten minutes at 48 kHz are 57.6 MB; reading them may hold no more than a few buffers.
        using var file = new TemporaryFile();
        using (FileStream stream = File.Create(file.Path))
        {
            stream.Write(WavClipWriter.ToBytes([], 48_000).AsSpan(0, 40));
            stream.Write([0x00, 0xE8, 0x6E, 0x03]); // 57,600,000 bytes
            stream.SetLength(44 + 57_600_000);
        }

        using WavFileSource source = WavFileSource.Open(file.Path);
        float[] block = new float[4_800];
        source.Read(block);
        long before = GC.GetAllocatedBytesForCurrentThread();
        long count = 4_800;
        for (int n = source.Read(block); n > 0; n = source.Read(block))
        {
            count += n;
        }

        count.Should().Be(28_800_000);
        (GC.GetAllocatedBytesForCurrentThread() - before).Should().BeLessThan(100_000);
    }

    private static float[] ReadAll(WavFileSource source)
    {
        var all = new List<float>();
        float[] block = new float[7]; // an odd size, so that frames are cut everywhere
        for (int n = source.Read(block); n > 0; n = source.Read(block))
        {
            all.AddRange(block.AsSpan(0, n));
        }

        return [.. all];
    }

    private static TemporaryFile WriteWav(short code, short channels, int rateHz, short bits, byte[] data)
    {
        byte[] bytes = [.. WavClipWriter.ToBytes([], rateHz), .. data];
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(4), bytes.Length - 8);
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(20), code);
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(22), channels);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(28), rateHz * channels * bits / 8);
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(32), (short)(channels * bits / 8));
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(34), bits);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(40), data.Length);
        var file = new TemporaryFile();
        File.WriteAllBytes(file.Path, bytes);
        return file;
    }
}
