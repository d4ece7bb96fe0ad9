using Handwheel.Nc;

namespace Handwheel.Bench;

/// <summary>Sums path lengths like the naive reader, so that the two can be compared; nm.</summary>
struct SumSink : IMotionSink
{
    public double Cut;
    public double Rapid;
    public long Blocks;
    public long Faults;

    public void Line(ref readonly ControlState state, ref readonly Leg leg)
    {
        if (leg.From.RestX != leg.To.RestX || leg.From.RestY != leg.To.RestY || leg.From.RestZ != leg.To.RestZ)
            return;
        double dx = leg.To.X - leg.From.X;
        double dy = leg.To.Y - leg.From.Y;
        double dz = leg.To.Z - leg.From.Z;
        var length = Math.Sqrt(dx * dx + dy * dy + dz * dz);
        if (leg.Kind is LegKind.Feed or LegKind.MachineFeed)
            Cut += length;
        else
            Rapid += length;
    }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) => Cut += arc.Length;

    public readonly void Modal(ref readonly ControlState state, Changes changes) { }

    public readonly void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) { }

    public readonly void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

    public readonly void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

    public readonly void Dwell(ref readonly ControlState state, double seconds) { }

    public readonly void BlockEnd(ref readonly ControlState state) { }

    public void Fault(ref readonly ControlState state, in Fault fault) => Faults++;

    public void End(ref readonly ControlState state, RunEnd end) => Blocks = state.BlocksExecuted;
}

/// <summary>Hears nothing: what the interpreter alone costs.</summary>
readonly struct NoSink : IMotionSink
{
    public void Line(ref readonly ControlState state, ref readonly Leg leg) { }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) { }

    public void Modal(ref readonly ControlState state, Changes changes) { }

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) { }

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

    public void Dwell(ref readonly ControlState state, double seconds) { }

    public void BlockEnd(ref readonly ControlState state) { }

    public void Fault(ref readonly ControlState state, in Fault fault) { }

    public void End(ref readonly ControlState state, RunEnd end) { }
}
