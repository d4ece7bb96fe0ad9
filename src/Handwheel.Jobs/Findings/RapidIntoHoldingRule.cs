using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Findings;

/// <summary>The tool as a cylinder of its diameter from its tip up; the holder is not looked at.</summary>
sealed class RapidIntoHoldingRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("rapid-into-holding", Level.Stop, "A rapid move through something that holds the part");
}
