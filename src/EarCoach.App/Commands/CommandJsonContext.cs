using System.Text.Json.Serialization;

namespace EarCoach.App.Commands;

/// <summary>JSON without reflection, which keeps the start short.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, NewLine = "\n")]
[JsonSerializable(typeof(JudgeDocument))]
[JsonSerializable(typeof(DrillDocument))]
internal sealed partial class CommandJsonContext : JsonSerializerContext;
