using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Findings;

/// <summary>Reported by <see cref="MaterialRules"/>, which follow the stock as it is cut.</summary>
sealed class RapidIntoStockRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("rapid-into-stock", Level.Stop, "A rapid through material");
}
