using System.Reflection;
using ArchUnitNET.Domain;
using ArchUnitNET.Fluent.Syntax.Elements.Types;
using ArchUnitNET.Loader;
using ArchUnitNET.xUnit;
using Xunit;
using static ArchUnitNET.Fluent.ArchRuleDefinition;

namespace EarCoach.LayerTests;

/// <summary>The layer rules over the compiled types. Loaded with their dependencies, and asked for referenced types too: without the first a
/// ban on System.Net passes whatever the code does, without the second one on System.IO or System.Threading.</summary>
/// <remarks>Each was seen to fail once, by properties of a type of that kind in a class of Core (HttpClient, Stream, CancellationTokenSource,
/// Process, WaveFormat, SqliteConnection), of Engine (WaveFormat, SqliteConnection, HttpClient), and of ScoreException in a class of Audio.</remarks>
public sealed class TypeDependencyTests
{
    private static readonly string[] _libraries = ["EarCoach.Core", "EarCoach.Engine", "EarCoach.Audio", "EarCoach.Scores", "EarCoach.Storage"];
    private static readonly Architecture _program =
        new ArchLoader().LoadAssembliesIncludingDependencies([.. _libraries.Select(Rooms.Load)]).Build();

    // Source: the layout of this project, in DEVELOPERS.md: App -> {Audio, Scores, Storage} -> Engine -> Core.
    [Theory]
    [InlineData("EarCoach.Core")]
    [InlineData("EarCoach.Engine")]
    [InlineData("EarCoach.Audio")]
    [InlineData("EarCoach.Scores")]
    [InlineData("EarCoach.Storage")]
    public void Types_OfARoom_NameOnlyTheRoomsBelow(string room)
    {
        foreach (string other in _libraries.Where(other => other != room && !Rooms.Allowed[room].Contains(other)))
        {
            TypesOf(room).NotDependOnAny(Types().That().ResideInAssembly(Rooms.Load(other))).WithoutRequiringPositiveResults().Check(_program);
        }
    }

    [Theory]
    [InlineData(@"^System\.Net\.")]
    [InlineData(@"^System\.IO\.")]
    [InlineData(@"^System\.Threading\.")]
    [InlineData(@"^System\.Diagnostics\.Process")]
    [InlineData(@"^NAudio\.")]
    [InlineData(@"^Microsoft\.")]
    public void Core_KnowsNumbersOnly(string pattern) =>
        TypesOf("EarCoach.Core").NotDependOnAny(Types(includeReferenced: true).That().HaveFullNameMatching(pattern))
            .WithoutRequiringPositiveResults().Check(_program);

    [Theory]
    [InlineData(@"^NAudio\.")]
    [InlineData(@"^Microsoft\.Data\.")]
    [InlineData(@"^System\.Net\.")]
    public void Engine_KnowsNoAdaptersLibrary(string pattern) =>
        TypesOf("EarCoach.Engine").NotDependOnAny(Types(includeReferenced: true).That().HaveFullNameMatching(pattern))
            .WithoutRequiringPositiveResults().Check(_program);

    [Fact]
    public void Core_ReferencesNoProjectAndNoAdaptersLibrary()
    {
        AssemblyName[] named = Rooms.Load("EarCoach.Core").GetReferencedAssemblies();

        Assert.DoesNotContain(named, assembly => assembly.Name!.StartsWith("EarCoach", StringComparison.Ordinal)
            || assembly.Name.StartsWith("NAudio", StringComparison.Ordinal) || assembly.Name.StartsWith("Microsoft.", StringComparison.Ordinal));
    }

    private static TypesShould TypesOf(string room) => Types().That().ResideInAssembly(Rooms.Load(room)).Should();
}
