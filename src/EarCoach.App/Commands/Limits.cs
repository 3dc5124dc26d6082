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

    /// <summary>Reads the name of an enum's member, and adds an error for any other word.</summary>
    public static T Pick<T>(ArgumentResult result, string option)
        where T : struct, Enum
    {
        string given = result.Tokens[0].Value;
        string[] names = [.. Enum.GetNames<T>().Select(name => name.ToLowerInvariant())];
        int index = Array.IndexOf(names, given);
        if (index < 0)
        {
            result.AddError($"{option} is '{given}'; it must be one of: {string.Join(", ", names)}.");
            return default;
        }

        return Enum.GetValues<T>()[index];
    }
}
