using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class LowReferenceReturnRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("low-reference-return", Level.Stop, "A reference return that goes down first");

    public override void OddMove(in ControlState state, in Leg leg)
    {
        if (leg.Kind != LegKind.ReturnVia || (leg.Commanded & Axes.Z) == Axes.None)
            return;
        var known = leg.From.RestZ == leg.To.RestZ;
        if (known && leg.To.Z >= leg.From.Z)
            return;
        if (Facts.Table.HighestTop is not { } top || !Facts.TryTip(leg.To, out var tip))
        {
            Facts.NotChecked.Say(
                $"the reference return at line {Figures.Whole(state.Line)}: what stands there, or the tip, is not known"
            );
            return;
        }
        if (tip > top || Again(0, state))
            return;
        var to = Facts.Figures.Bare(state.FromZeroZ(leg.To));
        Report(
            0,
            state,
            known
                ? Said.Kept(
                    $"Before it returns, Z goes {Facts.Figures.Say(leg.From.Z - leg.To.Z)} down to Z {to} of {state.WorkOffset}: the tip of {Facts.Name(state.Tool)} is then {Facts.Figures.Say(top - tip)} below the highest part of stock and holding. The air cut lifts this and hides it."
                )
                : Said.Kept(
                    $"Before it returns, Z goes to Z {to} of {state.WorkOffset}: the tip of {Facts.Name(state.Tool)} is then {Facts.Figures.Say(top - tip)} below the highest part of stock and holding. The air cut lifts this and hides it."
                ),
            "Write the return under G91 with Z0, or with a Z that is above everything."
        );
    }
}
