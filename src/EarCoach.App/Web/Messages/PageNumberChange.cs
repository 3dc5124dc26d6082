using System.Text.Json;

namespace EarCoach.App.Web.Messages;

/// <summary>What the player has changed of the numbers of the drill under way.</summary>
internal sealed record PageNumberChange(Dictionary<string, JsonElement>? DrillNumbers, Dictionary<string, JsonElement>? StrictnessNumbers);
