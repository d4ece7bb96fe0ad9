namespace Handwheel.Nc;

/// <summary>Two listeners to one run: the first hears everything before the second.</summary>
public struct BothSinks<TFirst, TSecond>(TFirst first, TSecond second) : IMotionSink
    where TFirst : struct, IMotionSink
    where TSecond : struct, IMotionSink
{
    public TFirst First = first;
    public TSecond Second = second;

    public void Modal(ref readonly ControlState state, Changes changes)
    {
        First.Modal(in state, changes);
        Second.Modal(in state, changes);
    }

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before)
    {
        First.ToolChange(in state, previousTool, in before);
        Second.ToolChange(in state, previousTool, in before);
    }

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write)
    {
        First.RegisterWritten(in state, write);
        Second.RegisterWritten(in state, write);
    }

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ)
    {
        First.ShiftSet(in state, kind, axes, fromMachineZ);
        Second.ShiftSet(in state, kind, axes, fromMachineZ);
    }

    public void Line(ref readonly ControlState state, ref readonly Leg leg)
    {
        First.Line(in state, in leg);
        Second.Line(in state, in leg);
    }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc)
    {
        First.Arc(in state, in leg, in arc);
        Second.Arc(in state, in leg, in arc);
    }

    public void ProgrammedLine(ref readonly ControlState state, ref readonly Leg leg)
    {
        First.ProgrammedLine(in state, in leg);
        Second.ProgrammedLine(in state, in leg);
    }

    public void ProgrammedArc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc)
    {
        First.ProgrammedArc(in state, in leg, in arc);
        Second.ProgrammedArc(in state, in leg, in arc);
    }

    public void Dwell(ref readonly ControlState state, double seconds)
    {
        First.Dwell(in state, seconds);
        Second.Dwell(in state, seconds);
    }

    public void BlockEnd(ref readonly ControlState state)
    {
        First.BlockEnd(in state);
        Second.BlockEnd(in state);
    }

    public void Fault(ref readonly ControlState state, in Fault fault)
    {
        First.Fault(in state, fault);
        Second.Fault(in state, fault);
    }

    public void End(ref readonly ControlState state, RunEnd end)
    {
        First.End(in state, end);
        Second.End(in state, end);
    }
}
