using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class OverFeedLimitRule(Facts facts) : Rule(facts)
{
    readonly double most = (double)(facts.Setup.Machine.MaxFeed ?? 0) * facts.Setup.Units.Nanometres();

    public override RuleInfo Info { get; } = new("over-feed-limit", Level.Check, "Faster than the machine can feed");

    public override bool Watches(in ControlState state) => most > 0 && PerMinute(state) > most;

    public override Changes Hears => Changes.Feed | Changes.FeedMode;

    public override void Modal(in ControlState state, Changes changes)
    {
        if (most <= 0 && (changes & Changes.Feed) != Changes.None)
            Facts.NotChecked.Say("feed against the machine's limit: its highest feed is not given");
        else if ((changes & Changes.FeedMode) != Changes.None && state.FeedMode == FeedMode.InverseTime)
            Facts.NotChecked.Say("feed against the machine's limit: under G93 it depends on the length of each move");
    }

    public override void Move(in ControlState state, in Leg leg)
    {
        var feed = PerMinute(state);
        if (feed <= most || !state.FeedGiven || !Facts.IsFeed(leg.Kind))
            return;
        var cause = (long)feed;
        if (Again(cause, state))
            return;
        Report(
            cause,
            state,
            Said.Kept(
                $"A feed of {Facts.Figures.Rate(feed)} is above the machine's limit of {Facts.Figures.Rate(most)}: it will go slower than written, or stop with an alarm."
            ),
            "Lower F, or correct it: a slipped point or the other unit is a common cause."
        );
    }

    static double PerMinute(in ControlState state) =>
        state.FeedMode switch
        {
            FeedMode.PerMinute => state.Feed,
            FeedMode.PerRevolution => state.Feed * state.SpindleSpeed,
            _ => 0,
        };
}
