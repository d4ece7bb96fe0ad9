using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Findings;

/// <summary>Reported by <see cref="MaterialRules"/>, which follow the stock as it is cut.</summary>
sealed class PlungeRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("plunge", Level.Check, "Straight down with a tool that does not cut at its centre");

    /// <summary>Kinds that have no cutting edge at the centre (common practice, no source). Of an end mill nobody can tell by its kind.</summary>
    public static bool HasNoCentre(string kind) =>
        kind is "face mill" or "thread mill" or "reamer" or "tap" or "boring bar" or "counterbore";
}
