using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Findings;

/// <summary>Reported by <see cref="MaterialRules"/>, which follow the stock as it is cut.</summary>
sealed class ShankContactRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("shank-contact", Level.Stop, "Deeper than the flutes");
}
