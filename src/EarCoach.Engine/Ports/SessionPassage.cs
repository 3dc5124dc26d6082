using EarCoach.Core.Passages;

namespace EarCoach.Engine.Ports;

/// <summary>A passage in a session.</summary>
/// <param name="PassageId">Its name in the library; null: it is not kept there (a file given on the command line).</param>
/// <param name="Passage">Its notes, as they were when the session began.</param>
public sealed record SessionPassage(Guid? PassageId, Passage Passage);
