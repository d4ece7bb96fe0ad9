using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class FeedModeLeftOnRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("feed-mode-left-on", Level.Check, "G93 or G95 left in force");

    public override void ToolChange(in ControlState state, int previousTool, in Place before) =>
        Look(state, Said.Kept("at a tool change"));

    public override void End(in ControlState state, RunEnd end) => Look(state, Said.Kept("at the end of the program"));

    void Look(in ControlState state, string where)
    {
        if (state.FeedMode == FeedMode.PerMinute)
            return;
        var code =
            state.FeedMode == FeedMode.PerRevolution
                ? Said.Kept("G95, feed per revolution,")
                : Said.Kept("G93, inverse time,");
        if (Again((long)state.FeedMode, state))
            return;
        Report(
            (long)state.FeedMode,
            state,
            Said.Kept($"{code} is still in force {where}. The next F is read that way."),
            "Put G94 after the moves that need the other mode."
        );
    }
}
