using System.Globalization;

namespace Handwheel.Web.Tests;

/// <summary>How much of a proof that goes on as long as wanted: a sample in CI, as much as a variable of the environment says otherwise.</summary>
static class LongRun
{
    public static int Asked(string variable, int sample) =>
        Environment.GetEnvironmentVariable(variable) is { Length: > 0 } asked
            ? int.Parse(asked, NumberStyles.None, CultureInfo.InvariantCulture)
            : sample;
}
