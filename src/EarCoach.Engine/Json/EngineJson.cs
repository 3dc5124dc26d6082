using System.Collections.Frozen;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using EarCoach.Core.Drills;
using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Json;

/// <summary>How the program's values are written as JSON: one way for the store and the page.</summary>
/// <remarks>Members in camelCase; words (verdicts, faults, kinds) in kebab-case, the same as everywhere; fractions as "3/4".
/// A plan carries its "kind", an input, an effect and an event their "type". What is read back equals what was written.</remarks>
public static class EngineJson
{
    private static readonly FrozenDictionary<Type, JsonPolymorphismOptions> _unions = new Dictionary<Type, JsonPolymorphismOptions>
    {
        [typeof(DrillPlan)] = Union("kind", Enum.GetValues<DrillKind>().Select(kind => (PlanTypeOf(kind), DrillKindNames.Of(kind)))),
        [typeof(DrillInput)] = Union("type", NestedIn(typeof(DrillInput))),
        [typeof(DrillEffect)] = Union("type", NestedIn(typeof(DrillEffect))),
        [typeof(SessionEvent)] = Union("type", NestedIn(typeof(SessionEvent))),
    }.ToFrozenDictionary();

    /// <summary>The options; read-only.</summary>
    public static JsonSerializerOptions Options { get; } = Make();

    /// <summary>The type of a plan of this kind.</summary>
    public static Type PlanTypeOf(DrillKind kind) => kind switch
    {
        DrillKind.Chain => typeof(ChainPlan),
        DrillKind.RhythmVariants => typeof(RhythmPlan),
        DrillKind.TempoLadder => typeof(LadderPlan),
        DrillKind.Proof => typeof(ProofPlan),
        DrillKind.ColdTake => typeof(ColdTakePlan),
        DrillKind.Rotation => typeof(RotationPlan),
        DrillKind.TroubleSpot => typeof(TroubleSpotPlan),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of drill."),
    };

    private static JsonSerializerOptions Make()
    {
        JsonSerializerOptions options = new(JsonSerializerDefaults.Web)
        {
            NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
            AllowOutOfOrderMetadataProperties = true,
            TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { Describe } },
            Converters = { new FractionJson(), new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower) },
        };
        options.MakeReadOnly();
        return options;
    }

    private static void Describe(JsonTypeInfo info)
    {
        if (_unions.TryGetValue(info.Type, out JsonPolymorphismOptions? union))
        {
            info.PolymorphismOptions = union;
        }

        if (typeof(DrillPlan).IsAssignableFrom(info.Type) && info.Properties.FirstOrDefault(property => property.Name == "kind") is { } kind)
        {
            info.Properties.Remove(kind); // the discriminator says it
        }
    }

    private static IEnumerable<(Type Type, string Word)> NestedIn(Type union) => union.GetNestedTypes()
        .Where(union.IsAssignableFrom)
        .Select(type => (type, JsonNamingPolicy.KebabCaseLower.ConvertName(type.Name)));

    private static JsonPolymorphismOptions Union(string discriminator, IEnumerable<(Type Type, string Word)> members)
    {
        JsonPolymorphismOptions options = new() { TypeDiscriminatorPropertyName = discriminator };
        foreach ((Type type, string word) in members)
        {
            options.DerivedTypes.Add(new JsonDerivedType(type, word));
        }

        return options;
    }
}
