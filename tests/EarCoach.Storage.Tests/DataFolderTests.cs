using EarCoach.Engine.Ports;
using FluentAssertions;
using Xunit;

namespace EarCoach.Storage.Tests;

public sealed class DataFolderTests
{
    // Source: XDG Base Directory Specification 0.8: $XDG_DATA_HOME; when unset or empty $HOME/.local/share; relative paths are to be ignored.
    [Theory]
    [InlineData(null, null, "/data/xdg", "/home/p", "/data/xdg/earcoach")]
    [InlineData(null, null, null, "/home/p", "/home/p/.local/share/earcoach")]
    [InlineData(null, null, "", "/home/p", "/home/p/.local/share/earcoach")]
    [InlineData(null, null, "relative", "/home/p", "/home/p/.local/share/earcoach")]
    [InlineData(null, "/mine", "/data/xdg", "/home/p", "/mine")]
    [InlineData("/option", "/mine", "/data/xdg", "/home/p", "/option")]
    public void OnLinux_TheFolderIsWhereTheSpecificationSaysIt(string? option, string? own, string? xdg, string? home, string expected)
    {
        if (OperatingSystem.IsLinux())
        {
            DataFolder.Choose(option, name => name switch { "EARCOACH_DATA" => own, "XDG_DATA_HOME" => xdg, "HOME" => home, _ => null }, _ => string.Empty)
                .Should().Be(expected);
        }
    }

    [Fact]
    public void WithoutAnyHome_TheMessageSaysWhatToDo() =>
        FluentActions.Invoking(() => DataFolder.Choose(null, _ => null, _ => string.Empty)).Should().Throw<StoreException>().WithMessage("*Set EARCOACH_DATA*");
}
