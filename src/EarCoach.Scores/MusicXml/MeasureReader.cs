using System.Globalization;
using System.Xml.Linq;
using EarCoach.Core.Passages;
using EarCoach.Scores.Written;

namespace EarCoach.Scores.MusicXml;

/// <summary>Reads the measures of one part in order; what carries over from measure to measure (divisions, metre, key, transposition) is kept here.</summary>
/// <remarks>Source of the rules: MusicXML 4.0, W3C Music Notation Community Group: durations in divisions of a quarter note, transpose is what is
/// added to the written pitch to get the sounding one, sound tempo in quarter notes a minute.</remarks>
internal sealed class MeasureReader(string partId)
{
    private const int MostDivisions = 1_000_000;
    private static readonly string[] _jumps = ["dacapo", "dalsegno", "tocoda"];
    private Dictionary<string, List<WrittenNote>> _notesOfMeasure = [];
    private Fraction _divisions = Fraction.One;
    private MeterMark _meter = new(Fraction.Zero, 4, 4);
    private Transposition _transposition = Transposition.None;
    private IReadOnlyCollection<int> _ending = [];
    private bool _inFreeTime;

    /// <summary>Written key of the first key signature, with the transposition at that place; null: none yet.</summary>
    public (int Fifths, Transposition Transposition)? Key { get; private set; }

    /// <summary>What is left out or read plainly.</summary>
    public List<string> Remarks { get; } = [];

    /// <summary>Reads a measure and gives the notes of each voice.</summary>
    public (WrittenMeasure Measure, IReadOnlyDictionary<string, List<WrittenNote>> Voices) Read(XElement element)
    {
        string number = (string?)element.Attribute("number") ?? "?";
        ScoreElement score = new(partId, number);
        WrittenMeasure measure = new() { Number = number, IsImplicit = (string?)element.Attribute("implicit") == "yes", Meter = _meter, EndingNumbers = _ending };
        _notesOfMeasure = [];
        Fraction cursor = Fraction.Zero;
        Fraction reached = Fraction.Zero;
        foreach (XElement child in element.Elements())
        {
            switch (child.Name.LocalName)
            {
                case "attributes":
                    ReadAttributes(child, measure, score);
                    break;
                case "note":
                    cursor += ReadNote(child, cursor, score);
                    break;
                case "forward":
                    cursor += Duration(child, score);
                    break;
                case "backup":
                    cursor -= Duration(child, score);
                    if (cursor < Fraction.Zero)
                    {
                        throw score.Malformed(child, "<backup> goes back to before the start of the measure.");
                    }

                    break;
                case "direction":
                    ReadDirection(child, cursor, measure, score);
                    break;
                case "sound":
                    ReadSound(child, cursor, measure, score);
                    break;
                case "barline":
                    ReadBarline(child, measure, score);
                    break;
            }

            reached = cursor > reached ? cursor : reached;
        }

        measure.Length = reached > Fraction.Zero ? reached : _meter.BarLength;
        return (measure, _notesOfMeasure);
    }

    private void ReadAttributes(XElement attributes, WrittenMeasure measure, ScoreElement score)
    {
        if (attributes.Element("divisions") is { } divisions)
        {
            _divisions = score.Number(divisions, zeroAllowed: false);
            if (_divisions > MostDivisions || _divisions.Denominator > MostDivisions)
            {
                throw score.Malformed(divisions, $"<divisions> is {divisions.Value}; up to {MostDivisions} are read.");
            }
        }

        if (attributes.Element("transpose") is { } transpose)
        {
            int chromatic = score.Whole(score.Required(transpose, "chromatic"), -60, 60);
            int diatonic = score.Whole(transpose, "diatonic", -36, 36, missing: Transposition.OfSemitones(chromatic).StaffSteps);
            _transposition = new Transposition(diatonic, chromatic, score.Whole(transpose, "octave-change", -5, 5, missing: 0));
        }

        if (attributes.Element("key")?.Element("fifths") is { } fifths)
        {
            int sharps = score.Whole(fifths, -7, 7);
            Key ??= (sharps, _transposition);
        }

        if (attributes.Element("time") is { } time)
        {
            _meter = ReadMeter(time, score);
            measure.HasTimeSignature = true;
        }

        measure.Meter = _meter;
    }

    private static MeterMark ReadMeter(XElement time, ScoreElement score)
    {
        if (time.Element("senza-misura") is not null)
        {
            throw score.Unsupported(time, "Music without metre (senza misura) is not read. Give the passage a metre in the notation program and export again.");
        }

        Fraction wholes = Fraction.Zero;
        int smallest = 1;
        foreach ((XElement beats, XElement beatType) in time.Elements("beats").Zip(time.Elements("beat-type")))
        {
            int lower = score.Whole(beatType, 1, 64);
            int upper = 0;
            foreach (string addend in beats.Value.Split('+'))
            {
                upper += score.Whole(new XElement("beats", addend), 1, 255);
            }

            if (lower is not (1 or 2 or 4 or 8 or 16 or 32 or 64) || upper > 255)
            {
                throw score.Malformed(time, $"The metre {upper}/{lower} is none: up to 255 beats of 1, 2, 4, 8, 16, 32 or 64 exist.");
            }

            wholes += new Fraction(upper, lower);
            smallest = Math.Max(smallest, lower);
        }

        long count = (wholes * smallest).Numerator;
        return count is >= 1 and <= 255
            ? new MeterMark(Fraction.Zero, (int)count, smallest)
            : throw score.Malformed(time, "<time> has no beats and beat-type.");
    }

    private Fraction Duration(XElement element, ScoreElement score) => score.Number(score.Required(element, "duration"), zeroAllowed: false) / _divisions;

    /// <summary>Takes a note in and gives how far it moves the cursor.</summary>
    private Fraction ReadNote(XElement note, Fraction cursor, ScoreElement score)
    {
        bool isGrace = note.Element("grace") is not null;
        bool isChord = note.Element("chord") is not null;
        Fraction length = isGrace ? Fraction.Zero : Duration(note, score);
        Fraction advance = isChord ? Fraction.Zero : length;
        if (note.Element("rest") is not null || note.Element("cue") is not null)
        {
            return advance;
        }

        string voice = note.Element("voice")?.Value.Trim() is { Length: > 0 } named ? named : "1";
        if (!_notesOfMeasure.TryGetValue(voice, out List<WrittenNote>? notes))
        {
            _notesOfMeasure[voice] = notes = [];
        }

        (int midi, PitchSpelling? spelling, ScoreException? problem) = note.Element("unpitched") is { } unpitched
            ? (0, null, score.Unsupported(unpitched, "A note without pitch (percussion) cannot be judged. Choose a pitched part."))
            : ReadPitch(score.Required(note, "pitch"), score);
        if (NoteMarks.OrnamentOf(note) is { } ornament)
        {
            Remarks.Add($"{score.PlaceOf(note)}: the ornament '{ornament}' is read as a plain note.");
        }

        Fraction offset = isChord && notes.Count > 0 ? notes[^1].Offset : cursor;
        notes.Add(new WrittenNote
        {
            Offset = offset,
            Length = length,
            MidiPitch = midi,
            Spelling = spelling,
            Transposition = _transposition,
            Place = $"{score.PlaceOf(note)}, beat {Fraction.One + (offset / _meter.BeatLength)}",
            Problem = problem,
            IsGrace = isGrace,
            IsInChord = isChord,
            TieStarts = NoteMarks.HasTie(note, "start"),
            TieStops = NoteMarks.HasTie(note, "stop"),
            SlurStarts = NoteMarks.SlursOf(note, "start"),
            SlurStops = NoteMarks.SlursOf(note, "stop"),
            Articulations = NoteMarks.ArticulationsOf(note),
            IsOptional = NoteMarks.HasOwn(note, NoteMarks.Optional),
            WasGrace = NoteMarks.HasOwn(note, NoteMarks.Grace),
            IsTimingJudged = NoteMarks.HasOwn(note, NoteMarks.FreeTime) ? false : NoteMarks.HasOwn(note, NoteMarks.StrictTime) ? true : null,
            IsInFreeTime = _inFreeTime,
        });
        return advance;
    }

    private (int Midi, PitchSpelling? Spelling, ScoreException? Problem) ReadPitch(XElement pitch, ScoreElement score)
    {
        string step = score.Required(pitch, "step").Value.Trim();
        if (step is not ("A" or "B" or "C" or "D" or "E" or "F" or "G"))
        {
            throw score.Malformed(pitch, $"<step> is '{step}'; A to G exist.");
        }

        decimal alter = 0;
        if (pitch.Element("alter") is { } altered
            && (!decimal.TryParse(altered.Value.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out alter) || Math.Abs(alter) > 4))
        {
            throw score.Malformed(altered, $"<alter> is '{altered.Value}'; a number of semitones from -4 to 4 belongs there.");
        }

        ScoreException? problem = alter == decimal.Truncate(alter)
            ? null
            : score.Unsupported(pitch, $"An alteration of {alter} semitones is a microtone, which is not judged. Write the nearest semitone and export again.");
        PitchSpelling spelling = new(step[0], (int)alter, score.Whole(score.Required(pitch, "octave"), 0, 9));
        int midi = spelling.MidiPitch + _transposition.Semitones;
        return midi is >= 0 and <= 127
            ? (midi, Math.Abs(alter) <= 2 ? spelling : null, problem)
            : throw score.Malformed(pitch, $"{spelling} would sound as MIDI note {midi}; 0 to 127 exist.");
    }

    private void ReadDirection(XElement direction, Fraction cursor, WrittenMeasure measure, ScoreElement score)
    {
        foreach (string words in direction.Elements("direction-type").Elements("words").Select(word => word.Value.Trim()))
        {
            bool slows = words.StartsWith("rit", StringComparison.OrdinalIgnoreCase) || words.StartsWith("rall", StringComparison.OrdinalIgnoreCase)
                || words.StartsWith("accel", StringComparison.OrdinalIgnoreCase) || words.StartsWith("string", StringComparison.OrdinalIgnoreCase);
            bool restores = words.Contains("tempo", StringComparison.OrdinalIgnoreCase);
            _inFreeTime = slows || (_inFreeTime && !restores);
        }

        XElement? sound = direction.Element("sound");
        if (sound is not null)
        {
            ReadSound(sound, cursor, measure, score);
        }

        if (sound?.Attribute("tempo") is null && direction.Elements("direction-type").Elements("metronome").FirstOrDefault() is { } metronome)
        {
            ReadMetronome(metronome, cursor, measure, score);
        }
    }

    private void ReadSound(XElement sound, Fraction cursor, WrittenMeasure measure, ScoreElement score)
    {
        if (sound.Attribute("tempo") is { } tempo)
        {
            if (!double.TryParse(tempo.Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value) || value <= 0)
            {
                throw score.Malformed(sound, $"The tempo is '{tempo.Value}'; a number of quarter notes a minute above 0 belongs there.");
            }

            measure.Tempi.Add((cursor, value));
            _inFreeTime = false;
        }

        string? jump = _jumps.FirstOrDefault(name => sound.Attribute(name) is not null);
        if (jump is not null)
        {
            measure.Jump = (jump, score.PlaceOf(sound));
        }
    }

    private void ReadMetronome(XElement metronome, Fraction cursor, WrittenMeasure measure, ScoreElement score)
    {
        string? perMinute = metronome.Element("per-minute")?.Value;
        if (perMinute is null || NoteValue.QuartersOf(metronome.Element("beat-unit")?.Value, metronome.Elements("beat-unit-dot").Count()) is not { } unit)
        {
            return; // an equation of two note values is no tempo
        }

        string digits = new([.. perMinute.SkipWhile(c => !char.IsAsciiDigit(c)).TakeWhile(c => char.IsAsciiDigit(c) || c == '.')]);
        if (double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && value > 0 && double.IsFinite(value))
        {
            measure.Tempi.Add((cursor, value * unit.ToDouble()));
        }
        else
        {
            Remarks.Add($"{score.PlaceOf(metronome)}: the metronome mark '{perMinute}' is no number and was left out.");
        }
    }

    private void ReadBarline(XElement barline, WrittenMeasure measure, ScoreElement score)
    {
        if (barline.Element("ending") is { } ending)
        {
            ReadEnding(ending, measure, score);
        }

        if (barline.Element("repeat") is not { } repeat)
        {
            return;
        }

        if ((string?)repeat.Attribute("direction") == "forward")
        {
            measure.RepeatStarts = true;
        }
        else
        {
            const int MostTimes = 16;
            string times = (string?)repeat.Attribute("times") ?? "2";
            measure.RepeatEnds = int.TryParse(times, NumberStyles.None, CultureInfo.InvariantCulture, out int count) && count is >= 1 and <= MostTimes
                ? count
                : throw score.Malformed(repeat, $"The repeat is to be played '{times}' times; 1 to {MostTimes} are read.");
        }
    }

    private void ReadEnding(XElement ending, WrittenMeasure measure, ScoreElement score)
    {
        string type = (string?)ending.Attribute("type") ?? string.Empty;
        if (type != "start")
        {
            _ending = [];
            return;
        }

        List<int> numbers = [];
        foreach (string number in ((string?)ending.Attribute("number") ?? string.Empty).Split([',', ' '], StringSplitOptions.RemoveEmptyEntries))
        {
            numbers.Add(int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value is >= 1 and <= 16
                ? value
                : throw score.Malformed(ending, $"The ending has the number '{number}'; 1 to 16 are read."));
        }

        _ending = numbers;
        measure.EndingNumbers = numbers;
    }
}
