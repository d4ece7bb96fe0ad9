using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ShiftedCoordinatesRule(Facts facts) : Rule(facts)
{
    ControlState setAt;
    ShiftKind kind;
    bool turned;
    bool reported;
    bool fromMachine;

    public override RuleInfo Info { get; } = new("shifted-coordinates", Level.Check, "Shifted coordinates in force");

    public override void ShiftSet(in ControlState state, ShiftKind shift, Axes axes, bool fromMachineZ)
    {
        setAt = state;
        kind = shift;
        turned = shift == ShiftKind.Turned ? axes != Axes.None : turned;
        reported = false;
        fromMachine = fromMachineZ;
        if (fromMachineZ)
        {
            Facts.Window.Undo(
                state.BlocksExecuted,
                Said.Kept(
                    $"G92 sets Z from a machine position at line {Figures.Whole(state.Line)}, so a raise would be lost"
                )
            );
        }
    }

    public override bool Watches(in ControlState state) => !reported && InForce(state);

    public override bool SeenEnough => reported;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!reported && InForce(state) && Facts.IsWork(leg.Kind))
            Say(atEnd: false);
    }

    public override void End(in ControlState state, RunEnd end)
    {
        if (!InForce(state))
            return;
        if (!reported)
            Say(atEnd: true);
    }

    bool InForce(in ControlState state) => turned || (state.ShiftX | state.ShiftY | state.ShiftZ) != 0;

    void Say(bool atEnd)
    {
        reported = true;
        var figures = Facts.Figures;
        if (Again((long)kind, setAt))
            return;
        var shift = turned
            ? Said.Kept("rotation, scaling or mirror")
            : $"{kind} X {figures.Bare(setAt.ShiftX)} Y {figures.Bare(setAt.ShiftY)} Z {figures.Bare(setAt.ShiftZ)}";
        var raise = fromMachine ? Said.Kept(" Z was set from a machine position: no raise lifts what follows.") : "";
        Report(
            (long)kind,
            setAt,
            atEnd
                ? Said.Kept($"The shift is still in force at the end of the program: {shift}.{raise}")
                : Said.Kept($"Moves follow with shifted coordinates: {shift}.{raise}"),
            "Look at the control's shift before cycle start: the program counts on it being as it was written, and an interrupted run leaves it in force."
        );
    }
}
