using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class NoFeedRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("no-feed", Level.Stop, "A feed move with no feed");

    public override bool Watches(in ControlState state) => !state.FeedGiven;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (state.FeedGiven || leg.Tapping || !Facts.IsFeed(leg.Kind))
            return;
        var cause = state.FeedMode == FeedMode.InverseTime ? 1 : 0;
        if (Again(cause, state))
            return;
        Report(
            cause,
            state,
            cause == 1
                ? Said.Kept("Under G93 every feed move needs its own F; this one has none.")
                : Said.Kept("A feed move with no feed in force: none was given, or F0."),
            "Give the block its F."
        );
    }
}
