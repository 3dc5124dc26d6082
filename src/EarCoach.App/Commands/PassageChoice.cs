namespace EarCoach.App.Commands;

/// <summary>Which line of a score a person asks for; null: the only one.</summary>
/// <param name="Track">Track of a MIDI file, from 1.</param>
/// <param name="Channel">Channel of a MIDI file, 1 to 16.</param>
/// <param name="Part">Part of a MusicXML file, for example "P1".</param>
/// <param name="Voice">Voice of that part, for example "1".</param>
/// <param name="Tune">Number of a tune of an ABC file.</param>
/// <param name="Instrument">As the person names it; null: what the file says.</param>
internal sealed record PassageChoice(int? Track, int? Channel, string? Part, string? Voice, int? Tune, string? Instrument);
