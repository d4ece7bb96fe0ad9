using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class CompensationLeftOnRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("compensation-left-on", Level.Stop, "Cutter compensation left in force");

    public override void ToolChange(in ControlState state, int previousTool, in Place before) =>
        Look(state, Said.Kept("at the tool change"));

    public override void End(in ControlState state, RunEnd end) => Look(state, Said.Kept("at the end of the program"));

    void Look(in ControlState state, string where)
    {
        if (state.Compensation == CutterCompensation.Off || Again(0, state))
            return;
        var code = state.Compensation == CutterCompensation.Left ? "G41" : "G42";
        var d = Figures.Whole(state.D);
        Report(
            0,
            state,
            state.CutterRadiusKnown
                ? Said.Kept(
                    $"{code} is still in force {where}: what follows goes beside its path by D{d}, a radius of {Facts.Figures.Say(state.CutterRadius)}."
                )
                : Said.Kept($"{code} is still in force {where}: what follows goes beside its path by D{d}."),
            "Put G40 on the move that leaves the contour."
        );
    }
}
