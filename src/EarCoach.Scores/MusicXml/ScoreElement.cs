using System.Globalization;
using System.Xml;
using System.Xml.Linq;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Typed values out of MusicXML elements, with the place of whatever is wrong.</summary>
internal sealed class ScoreElement(string partId, string measureNumber)
{
    private const decimal LargestNumber = 1_000_000;

    /// <summary>Where an element stands, for a person.</summary>
    public string PlaceOf(XElement element)
    {
        IXmlLineInfo line = element;
        string where = $"part {partId}, measure {measureNumber}";
        return line.HasLineInfo() ? string.Create(CultureInfo.InvariantCulture, $"{where}, line {line.LineNumber}") : where;
    }

    public ScoreException Malformed(XElement element, string reason) => new(ScoreFailure.Malformed, PlaceOf(element), reason + " Export the file again.");

    public ScoreException Unsupported(XElement element, string reason) => new(ScoreFailure.Unsupported, PlaceOf(element), reason);

    /// <summary>A whole number within bounds.</summary>
    public int Whole(XElement element, int lowest, int highest) =>
        int.TryParse(element.Value.Trim(), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int value) && value >= lowest && value <= highest
            ? value
            : throw Malformed(element, $"<{element.Name.LocalName}> is '{Shortened(element.Value)}'; a whole number from {lowest} to {highest} belongs there.");

    /// <summary>A whole number in a child element, or a value where there is no such child.</summary>
    public int Whole(XElement parent, string child, int lowest, int highest, int missing) =>
        parent.Element(child) is { } element ? Whole(element, lowest, highest) : missing;

    /// <summary>A number that may have decimals, exactly; above 0, or at least 0.</summary>
    public Fraction Number(XElement element, bool zeroAllowed)
    {
        const NumberStyles Style = NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign;
        if (!decimal.TryParse(element.Value.Trim(), Style, CultureInfo.InvariantCulture, out decimal value)
            || value < 0 || (value == 0 && !zeroAllowed) || value > LargestNumber || value.Scale > 9)
        {
            throw Malformed(element, $"<{element.Name.LocalName}> is '{Shortened(element.Value)}'; a number {(zeroAllowed ? "from 0" : "above 0")} up to {LargestNumber} belongs there.");
        }

        long scale = 1;
        for (int digit = 0; digit < value.Scale; digit++)
        {
            scale *= 10;
        }

        return new Fraction((long)(value * scale), scale);
    }

    /// <summary>The child that must be there.</summary>
    public XElement Required(XElement parent, string child) =>
        parent.Element(child) ?? throw Malformed(parent, $"<{parent.Name.LocalName}> has no <{child}>, which it needs.");

    private static string Shortened(string text) => text.Length <= 40 ? text : text[..40] + "...";
}
