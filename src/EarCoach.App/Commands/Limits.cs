using System.CommandLine.Parsing;
using System.Globalization;

namespace EarCoach.App.Commands;

/// <summary>Checks of option values, with a sentence that gives the value and the rule.</summary>
internal static class Limits
{
    /// <summary>Lets a number within the limits pass, and adds an error for any other.</summary>
    public static void Require(OptionResult result, double lowest, double highest)
    {
        foreach (string token in result.Tokens.Select(token => token.Value))
        {
            if (!double.TryParse(token, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !(value >= lowest && value <= highest))
            {
                result.AddError(string.Create(CultureInfo.InvariantCulture, $"{result.Option.Name} is '{token}'; it must be a number from {lowest} to {highest}."));
            }
        }
    }
}
