using Handwheel.Nc;

namespace Handwheel.Jobs.Motions;

/// <summary>
/// The door from the interpreter to the teller. Under G41 and G42 what is programmed is told, with its D: where the tool's centre goes beside
/// it is the register's doing.
/// </summary>
readonly struct MotionSink(MotionTeller teller) : IMotionSink
{
    public void Modal(ref readonly ControlState state, Changes changes) => teller.Modal(state, changes);

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) =>
        teller.ToolChange(state, before);

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) =>
        teller.RegisterWritten(state, write);

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) =>
        teller.ShiftSet(state, kind, axes);

    public void Line(ref readonly ControlState state, ref readonly Leg leg)
    {
        if (!leg.Beside)
            teller.Line(state, leg);
    }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc)
    {
        if (!leg.Beside)
            teller.Arc(state, leg, arc);
    }

    public void ProgrammedLine(ref readonly ControlState state, ref readonly Leg leg) => teller.Line(state, leg);

    public void ProgrammedArc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
        teller.Arc(state, leg, arc);

    public void Dwell(ref readonly ControlState state, double seconds) => teller.Dwell(state, seconds);

    public void BlockEnd(ref readonly ControlState state) => teller.BlockEnd();

    public void Fault(ref readonly ControlState state, in Fault fault) => teller.Fault(state, fault);

    public void End(ref readonly ControlState state, RunEnd end) => teller.Ended(state, end);
}
