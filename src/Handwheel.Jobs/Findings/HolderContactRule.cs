using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Findings;

/// <summary>Reported by <see cref="HoldingRules"/>, which sweeps the holder along every move.</summary>
sealed class HolderContactRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("holder-contact", Level.Stop, "The holder hits something");
}
