using System.Xml.Linq;
using FluentAssertions;
using Xunit;

namespace EarCoach.LayerTests;

/// <summary>The layer rules over the project files.</summary>
/// <remarks>Each was seen to fail once: by a reference from EarCoach.Audio to EarCoach.Scores, a project more, a package version in a project file,
/// a test project less, and a new folder at the top of the repository.</remarks>
public sealed class ProjectFileTests
{
    public static TheoryData<string> Projects => [.. Rooms.Allowed.Keys];

    [Theory]
    [MemberData(nameof(Projects))]
    public void References_PointDownOnly(string project)
    {
        string[] named = [.. Load(project).Descendants("ProjectReference").Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value))];

        named.Should().BeSubsetOf(Rooms.Allowed[project]);
    }

    [Fact]
    public void Source_HoldsExactlyTheKnownProjects()
    {
        string[] found = [.. Directory.GetFiles(Path.Combine(Rooms.Repository(), "src"), "*.csproj", SearchOption.AllDirectories).Select(f => Path.GetFileNameWithoutExtension(f)!)];

        found.Should().BeEquivalentTo(Rooms.Allowed.Keys);
    }

    [Fact]
    public void Versions_StandInOnePlaceOnly()
    {
        foreach (string folder in new[] { "src", "tests" })
        {
            foreach (string file in Directory.GetFiles(Path.Combine(Rooms.Repository(), folder), "*.csproj", SearchOption.AllDirectories))
            {
                XDocument.Load(file).Descendants("PackageReference").Where(p => p.Attribute("Version") is not null || p.Element("Version") is not null)
                    .Should().BeEmpty("versions stand in src/Directory.Packages.props, not in {0}", Path.GetFileName(file));
            }
        }
    }

    [Fact]
    public void EverySourceProject_HasATestProject()
    {
        string[] tests = [.. Directory.GetDirectories(Path.Combine(Rooms.Repository(), "tests")).Select(d => Path.GetFileName(d)!)];

        tests.Should().Contain(Rooms.Allowed.Keys.Select(project => project + ".Tests"));
    }

    [Fact]
    public void Repository_ShowsAtItsTopWhatDevelopersExpect()
    {
        // Source: the layout that this project has agreed on; hidden entries (.git, .ci, .editorconfig, ...) are not looked at.
        string[] visible = [.. Directory.GetFileSystemEntries(Rooms.Repository()).Select(f => Path.GetFileName(f)!).Where(name => !name.StartsWith('.'))];

        visible.Except(["artifacts", "TestResults", "BenchmarkDotNet.Artifacts"]).Should().BeEquivalentTo(
            "DEVELOPERS.md", "EarCoach.sln", "LICENSE", "README.md", "fixtures", "reference-audio", "src", "tests");
    }

    private static XDocument Load(string project) =>
        XDocument.Load(Path.Combine(Rooms.Repository(), "src", project, project + ".csproj"));
}
