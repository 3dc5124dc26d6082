using System.CommandLine;
using EarCoach.Core.Passages;
using EarCoach.Scores;

namespace EarCoach.App.Commands;

/// <summary>The options by which a command is told which line of a score is meant, and by whom it is played.</summary>
internal sealed class PassageOptions
{
    private const int LowestMidi = 21;   // A0, 27.5 Hz: two periods of it are 73 ms
    private const int HighestMidi = 108; // C8, the top of the piccolo
    private readonly Option<string?> _instrument = new("--instrument") { Description = "The instrument, so that notes are named as you read them: horn, \"clarinet in A\", ... Default: what the file says.", HelpName = "NAME" };
    private readonly Option<int?> _track = new("--track") { Description = "Track of the MIDI file, counted from 1.", HelpName = "N" };
    private readonly Option<int?> _channel = new("--channel") { Description = "Channel of the MIDI file, 1 to 16.", HelpName = "N" };
    private readonly Option<string?> _part = new("--part") { Description = "Part of the MusicXML file.", HelpName = "ID" };
    private readonly Option<string?> _voice = new("--voice") { Description = "Voice of that part.", HelpName = "N" };
    private readonly Option<int?> _tune = new("--tune") { Description = "Tune of the ABC file, by the number of its X: line.", HelpName = "N" };

    public PassageOptions()
    {
        _track.Validators.Add(result => Limits.Require(result, 1, 65_535));
        _channel.Validators.Add(result => Limits.Require(result, 1, 16));
    }

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _instrument, _track, _channel, _part, _voice, _tune })
        {
            command.Add(option);
        }
    }

    /// <summary>Reads the passage of a file; what a person should know about it goes to standard error.</summary>
    /// <exception cref="InputException">It cannot be used.</exception>
    /// <exception cref="ScoreException">It cannot be read as a passage.</exception>
    public Passage Read(ParseResult parsed, string path, Streams streams)
    {
        var choice = new PassageChoice(
            parsed.GetValue(_track), parsed.GetValue(_channel), parsed.GetValue(_part), parsed.GetValue(_voice), parsed.GetValue(_tune), parsed.GetValue(_instrument));
        ScoreReading reading = PassageFile.Read(path, choice);
        Passage passage = reading.Passage;
        if (passage.Notes.FirstOrDefault(note => note.MidiPitch is < LowestMidi or > HighestMidi) is { } note)
        {
            throw new InputException(
                $"{new BarMap(passage).PositionOf(note.Onset)}: the note {PitchSpelling.FromMidi(note.MidiPitch, passage.KeyFifths)} cannot be heard; notes from A0 to C8 can. Check the octave of the passage.");
        }

        foreach (string remark in reading.Remarks)
        {
            streams.Error.WriteLine(remark);
        }

        return passage;
    }
}
