using System.CommandLine;
using System.Globalization;
using Handwheel.Jobs.Readings;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary><c>--set '#501=1'</c>: values of parameters that only the person at the control can know.</summary>
static class ParameterValues
{
    public static Option<string[]> Option() =>
        new("--set")
        {
            Description = "Give a parameter a value, such as '#501=1'; may be repeated.",
            HelpName = "#N=VALUE",
        };

    /// <exception cref="InputFault">One is not <c>#NUMBER=VALUE</c>, or the parameter is there twice.</exception>
    public static Dictionary<int, double> Of(string[] settings, string verb)
    {
        var parameters = new Dictionary<int, double>();
        foreach (var setting in settings)
        {
            var at = setting.IndexOf('=', StringComparison.Ordinal);
            if (
                at < 2
                || setting[0] != '#'
                || !int.TryParse(
                    setting.AsSpan(1, at - 1),
                    NumberStyles.None,
                    CultureInfo.InvariantCulture,
                    out var number
                )
            )
                throw new InputFault(
                    $"handwheel {verb}: --set: found \"{setting}\", expected #NUMBER=VALUE such as '#501=1'"
                );
            if (!TypedNumber.TryRead(setting[(at + 1)..], out var value, out var refusal))
                throw new InputFault($"handwheel {verb}: --set {setting[..at]}: {refusal}");
            if (!parameters.TryAdd(number, (double)value.Value))
                throw new InputFault(
                    $"handwheel {verb}: --set: found {setting[..at]} twice, expected each parameter once"
                );
        }
        return parameters;
    }
}
