using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>The door from the interpreter to one run of the check: a struct, so that no move is a virtual call.</summary>
readonly struct CheckSink(CheckRun run) : IMotionSink
{
    public void Modal(ref readonly ControlState state, Changes changes) => run.Modal(state, changes);

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) =>
        run.ToolChange(state, previousTool, before);

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) =>
        run.RegisterWritten(state, write);

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) =>
        run.ShiftSet(state, kind, axes, fromMachineZ);

    public void Line(ref readonly ControlState state, ref readonly Leg leg) => run.Line(state, leg);

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
        run.Arc(state, leg, arc);

    public void ProgrammedLine(ref readonly ControlState state, ref readonly Leg leg) => run.Programmed(state, leg);

    public void ProgrammedArc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
        run.Programmed(state, leg, arc);

    public void Dwell(ref readonly ControlState state, double seconds) => run.Dwell(seconds);

    public void BlockEnd(ref readonly ControlState state) => run.BlockEnd();

    public void Fault(ref readonly ControlState state, in Fault fault) => run.Fault(state, fault);

    public void End(ref readonly ControlState state, RunEnd end) => run.End(state, end);
}
