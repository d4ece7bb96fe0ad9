using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class NotRaisedRule(Facts facts) : Rule(facts)
{
    /// <summary>A cause of its own, beside the tools' numbers.</summary>
    const long ReadsWhatIsRaised = -1;

    public override RuleInfo Info { get; } = new("not-raised", Level.Stop, "A low move that the raise does not lift");

    public override Changes Hears => Changes.RestsOnRaise;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.RestsOnRaise) == Changes.None)
            return;
        Facts.Window.Undo(
            state.BlocksExecuted,
            Said.Kept(
                $"line {Figures.Whole(state.Line)} is worked out from a register or a position that the raise changes, so the air cut takes another way than the real run"
            )
        );
        if (Again(ReadsWhatIsRaised, state))
            return;
        Report(
            ReadsWhatIsRaised,
            state,
            Said.Kept(
                "The block is worked out from a work offset or a machine position that is another one when the offsets are raised. The air cut does not show what the real run will do."
            ),
            "Prove this program another way: by handwheel through each approach, holding and stock off the table.",
            Level.Check
        );
    }

    public override void OddMove(in ControlState state, in Leg leg)
    {
        if (leg.Lifted)
            return;
        var commandsZ = (leg.Commanded & Axes.Z) != Axes.None;
        var backToMachineLevel = leg.Part is CyclePart.Out or CyclePart.ToInitial;
        if (Facts.IsWork(leg.Kind) && commandsZ && !backToMachineLevel)
        {
            Facts.Window.Undo(
                state.BlocksExecuted,
                Said.Kept(
                    $"the Z move at line {Figures.Whole(state.Line)} counts from a machine position (G91), so no raise lifts it"
                )
            );
        }
        Judge(state, leg);
    }

    void Judge(in ControlState state, in Leg leg)
    {
        if (Facts.ClearanceHeight is not { } height)
        {
            Facts.NotChecked.Say("low moves that no raise lifts: no stock and no holding whose height is known");
            return;
        }
        if (leg.To.RestZ != 0 || !Facts.OwnKnown)
        {
            CannotSay(state, leg);
            return;
        }
        Facts.TryTip(leg.To, out var tip);
        if (tip >= height || Again(state.Tool, state))
            return;
        var what = leg.Kind switch
        {
            LegKind.ReturnEnd => Said.Kept("The end of the reference return"),
            LegKind.MachineRapid or LegKind.MachineFeed => Said.Kept("A move in machine coordinates"),
            _ => Said.Kept("A move at a height that machine coordinates set"),
        };
        var top = Facts.Table.HighestTop!.Value;
        var by = Facts.Figures.Say(Math.Abs(tip - top));
        Report(
            state.Tool,
            state,
            tip < top
                ? Said.Kept(
                    $"{what} has the tip of {Facts.Name(state.Tool)} at {by} below the highest part of stock and holding; {Facts.Figures.Say(Facts.Clearance)} above it is wanted. No raise lifts this move: in the air cut it is as low as in the real run."
                )
                : Said.Kept(
                    $"{what} has the tip of {Facts.Name(state.Tool)} at {by} above the highest part of stock and holding; {Facts.Figures.Say(Facts.Clearance)} above it is wanted. No raise lifts this move: in the air cut it is as low as in the real run."
                ),
            "Go over the part in work coordinates, or higher in machine coordinates."
        );
    }

    void CannotSay(in ControlState state, in Leg leg)
    {
        if (leg.To.RestZ == Place.Nowhere || state.Tool == 0)
            return;
        Facts.NotChecked.Say(
            $"low moves that no raise lifts: T{Figures.Whole(state.Tool)}, its length or its Z is not known"
        );
    }
}
