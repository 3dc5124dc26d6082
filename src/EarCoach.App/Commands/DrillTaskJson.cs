namespace EarCoach.App.Commands;

/// <summary>What was asked for. Notes are counted from 0; tempo in quarter notes a minute.</summary>
internal sealed record DrillTaskJson(string Sentence, int Passage, int FirstNote, int NoteCount, string? Variant, double TempoBpm);
