using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Findings;

/// <summary>The tool as a cylinder of its diameter from its tip up; the holder is not looked at.</summary>
sealed class FeedIntoHoldingRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("feed-into-holding", Level.Stop, "A feed move through something that holds the part");
}
