using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Findings;

/// <summary>Reported by <see cref="HoldingRules"/>: a contact on the way from hole to hole.</summary>
sealed class LowBetweenHolesRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("low-between-holes", Level.Stop, "Something stands between the holes, and the cycle returns too low");
}
