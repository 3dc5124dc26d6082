namespace EarCoach.App.Web.Messages;

/// <summary>A change of some notes of a passage. What is null stays.</summary>
/// <param name="First">First note, from 0.</param>
/// <param name="Last">Last note, included.</param>
/// <param name="TimingJudged">Whether their onsets are judged.</param>
/// <param name="Required">Whether they must be played.</param>
/// <param name="CrookId">The crook they are written for.</param>
/// <param name="OldBassClef">Whether they stand in bass clef of the old notation.</param>
/// <param name="KeepWritten">With a crook: whether the written notes stay and what sounds changes.</param>
internal sealed record PageNotesEdit(int First, int Last, bool? TimingJudged, bool? Required, string? CrookId, bool OldBassClef, bool KeepWritten);
