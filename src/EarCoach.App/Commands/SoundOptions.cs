using System.CommandLine;
using EarCoach.Audio;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>The argument and options by which a command is told where its sound comes from.</summary>
internal sealed class SoundOptions
{
    private readonly Argument<string>? _argument;
    private readonly Option<string>? _option;

    private readonly Option<int?> _rate = new("--rate") { Description = "Samples a second of raw PCM, 16000 to 192000; needed with -.", HelpName = "HZ" };

    private readonly Option<string> _format = new("--format") { Description = "How raw PCM is stored: s16le or f32le.", DefaultValueFactory = _ => "s16le", HelpName = "FORMAT" };

    private readonly Option<int> _channels = new("--channels") { Description = "Channels of raw PCM, mixed to one.", DefaultValueFactory = _ => 1, HelpName = "N" };

    private SoundOptions(Argument<string>? argument, Option<string>? option)
    {
        _argument = argument;
        _option = option;
        _format.AcceptOnlyFromAmong("s16le", "f32le");
        _channels.Validators.Add(result => Limits.Require(result, 1, 64));
        _rate.Validators.Add(result => Limits.Require(result, SampleRates.LowestHz, SampleRates.HighestHz));
    }

    /// <summary>The sound is named by an argument that must be given.</summary>
    public static SoundOptions AsArgument() => new(
        new Argument<string>("AUDIO") { Description = "WAV file; - for raw PCM on standard input; mic for the microphone (Ctrl+C ends it)." }, option: null);

    /// <summary>The sound is named by --source; the microphone unless given.</summary>
    public static SoundOptions AsOption() => new(argument: null, new Option<string>("--source")
    {
        Description = "WAV file; - for raw PCM on standard input; device for the microphone.",
        HelpName = "FILE|-|device",
        DefaultValueFactory = _ => "device",
    });

    public void AddTo(Command command)
    {
        if (_argument is not null)
        {
            command.Add(_argument);
        }

        if (_option is not null)
        {
            command.Add(_option);
        }

        command.Add(_rate);
        command.Add(_format);
        command.Add(_channels);
    }

    /// <summary>What the person called the sound.</summary>
    public string NameOf(ParseResult parsed) => _argument is not null ? parsed.GetRequiredValue(_argument) : parsed.GetRequiredValue(_option!);

    /// <summary>Opens it.</summary>
    /// <exception cref="AudioException">It cannot be used.</exception>
    /// <exception cref="UsageException">Raw sound without its rate.</exception>
    public IAudioSource Open(ParseResult parsed, Streams streams)
    {
        string name = NameOf(parsed);
        return name switch
        {
            "-" => OpenPipe(parsed, streams),
            "mic" or "device" => Microphone.Open(parsed.GetValue(_rate) ?? 48_000),
            _ => WavFileSource.Open(name),
        };
    }

    private RawPcmSource OpenPipe(ParseResult parsed, Streams streams)
    {
        int rate = parsed.GetValue(_rate) ?? throw new UsageException("Raw sound on standard input needs its rate, for example: --rate 48000");
        SampleFormat format = parsed.GetValue(_format) == "f32le" ? SampleFormat.Real32 : SampleFormat.Signed16;
        return new RawPcmSource(streams.OpenInput(), rate, format, parsed.GetValue(_channels));
    }
}
