using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class NoCoolantRule(Facts facts) : Rule(facts)
{
    int told = -1;

    public override RuleInfo Info { get; } = new("no-coolant", Level.Note, "Cutting without coolant");

    public override bool Watches(in ControlState state) =>
        Facts.Setup.Rules.Wet && state.Coolant == CoolantWords.None && told != state.Tool;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!Facts.IsFeed(leg.Kind) || told == state.Tool || Facts.Tool is { Kind: "probe" })
            return;
        if (!(Facts.CutStock?.Cuts ?? Cutting.Enters(Facts, leg)))
            return;
        told = state.Tool;
        Report(
            state.Tool,
            state,
            $"{Facts.Name(state.Tool)} cuts, the setup says that this job is cut wet, and no coolant word is in force.",
            "Write M8 (or M7) before the first cut, or cut this tool dry on purpose."
        );
    }
}
