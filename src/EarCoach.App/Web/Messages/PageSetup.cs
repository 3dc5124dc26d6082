using System.Text.Json;

namespace EarCoach.App.Web.Messages;

/// <summary>What the player chose on the first screen. Numbers that were not touched are not sent.</summary>
internal sealed record PageSetup(
    Guid PassageId,
    string DrillKind,
    string StrictnessId,
    Dictionary<string, JsonElement>? DrillNumbers,
    Dictionary<string, JsonElement>? StrictnessNumbers);
