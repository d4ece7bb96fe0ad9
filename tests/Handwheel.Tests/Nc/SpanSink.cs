using System.Text;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>The text of every executed block, by its span.</summary>
readonly struct SpanSink(byte[] program, List<string> spans) : IMotionSink
{
    public void BlockEnd(ref readonly ControlState state) =>
        spans.Add($"{state.Line} {Encoding.UTF8.GetString(program, state.BlockStart, state.BlockLength)}");

    public void Line(ref readonly ControlState state, ref readonly Leg leg) { }

    public void Modal(ref readonly ControlState state, Changes changes) { }

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) { }

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) { }

    public void Dwell(ref readonly ControlState state, double seconds) { }

    public void Fault(ref readonly ControlState state, in Fault fault) { }

    public void End(ref readonly ControlState state, RunEnd end) { }
}
