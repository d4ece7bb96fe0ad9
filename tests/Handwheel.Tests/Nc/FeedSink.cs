using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>Whether each straight leg had a feed in force.</summary>
readonly struct FeedSink(List<bool> given) : IMotionSink
{
    public void Line(ref readonly ControlState state, ref readonly Leg leg) => given.Add(state.FeedGiven);

    public void Modal(ref readonly ControlState state, Changes changes) { }

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) { }

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) { }

    public void Dwell(ref readonly ControlState state, double seconds) { }

    public void BlockEnd(ref readonly ControlState state) { }

    public void Fault(ref readonly ControlState state, in Fault fault) { }

    public void End(ref readonly ControlState state, RunEnd end) { }
}
