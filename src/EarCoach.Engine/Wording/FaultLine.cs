using EarCoach.Core.Judging;

namespace EarCoach.Engine.Wording;

/// <summary>One thing that was wrong with an attempt, in words, and where it stands.</summary>
/// <param name="Sentence">For example "bar 3, second note (written G4): flat by 34 cents; tolerance 25".</param>
/// <param name="TaskNote">Which note of the task it is about, from 0; null: the attempt as a whole.</param>
/// <param name="Fault">What kind of fault; null where it is about the attempt as a whole.</param>
/// <param name="IsBetweenNotes">Whether it sounded after that note, not on it.</param>
public sealed record FaultLine(string Sentence, int? TaskNote = null, NoteFault? Fault = null, bool IsBetweenNotes = false);
