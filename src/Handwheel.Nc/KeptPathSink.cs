namespace Handwheel.Nc;

/// <summary>Keeps the path while a program is followed; beside other sinks, or alone by <see cref="KeptPath.Of"/>.</summary>
public struct KeptPathSink(KeptPath path, long chordError) : IMotionSink
{
    /// <summary>Enough for 10 µm on a circle of 100 m.</summary>
    const int ChordsMost = 10_000;

    (long X, long Y, long Z) end;
    (int File, int Tool, WorkOffsetName WorkOffset, bool Known)? run;

    public KeptPath Path { get; } = path;

    public void Line(ref readonly ControlState state, ref readonly Leg leg)
    {
        if (!Begin(in state, in leg))
            return;
        var kind = leg.Kind is LegKind.Feed or LegKind.MachineFeed ? PathKind.Cut : PathKind.Rapid;
        Add(kind, state.Line, leg.To.X, leg.To.Y, leg.To.Z - state.LengthZ);
    }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc)
    {
        if (!Begin(in state, in leg))
            return;
        var from = leg.From;
        var (u, v, w) = PlaceAxis.Of(arc.Plane);
        var chords = Chords(arc);
        var across = PlaceAxis.Get(leg.To, w) - PlaceAxis.Get(from, w);
        for (var i = 1; i < chords; i++)
        {
            var part = (double)i / chords;
            var (sin, cos) = Math.SinCos(arc.StartAngle + arc.Sweep * part);
            var point = from;
            PlaceAxis.Set(ref point, u, (long)(arc.CentreU + arc.Radius * cos), 0);
            PlaceAxis.Set(ref point, v, (long)(arc.CentreV + arc.Radius * sin), 0);
            PlaceAxis.Set(ref point, w, PlaceAxis.Get(from, w) + (long)(across * part), 0);
            Add(PathKind.Cut, state.Line, point.X, point.Y, point.Z - state.LengthZ);
        }
        Add(PathKind.Cut, state.Line, leg.To.X, leg.To.Y, leg.To.Z - state.LengthZ);
    }

    /// <summary>Chords of 2·acos(1 − e/r) each leave the circle by e.</summary>
    readonly int Chords(in Arc arc)
    {
        if (arc.Radius <= chordError)
            return 1;
        var each = 2 * Math.Acos(1 - chordError / arc.Radius);
        return (int)Math.Clamp(Math.Ceiling(Math.Abs(arc.Sweep) / each), 1, ChordsMost);
    }

    /// <summary>False where the leg cannot be drawn; else the path stands at its start.</summary>
    bool Begin(ref readonly ControlState state, ref readonly Leg leg)
    {
        ref readonly var to = ref leg.To;
        ref readonly var from = ref leg.From;
        if (to.RestX != from.RestX || to.RestY != from.RestY || to.RestZ != from.RestZ)
            return false;
        if (to.RestX == Place.Nowhere || to.RestY == Place.Nowhere || to.RestZ == Place.Nowhere)
            return false;
        var now = (state.File, state.Tool, state.WorkOffset, to.IsMachine);
        var begins = run != now;
        if (begins)
        {
            run = now;
            Path.Begin(new(Path.Count, state.File, state.Tool, state.WorkOffset, to.IsMachine));
        }
        if (begins || end != (from.X, from.Y, from.Z - state.LengthZ))
            Add(PathKind.Jump, state.Line, from.X, from.Y, from.Z - state.LengthZ);
        return true;
    }

    void Add(PathKind kind, int line, long x, long y, long z)
    {
        end = (x, y, z);
        Path.Add(new(kind, line, x, y, z));
    }

    public readonly void Modal(ref readonly ControlState state, Changes changes) { }

    public readonly void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) { }

    public readonly void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

    public readonly void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

    public readonly void Dwell(ref readonly ControlState state, double seconds) { }

    public readonly void BlockEnd(ref readonly ControlState state) { }

    public readonly void Fault(ref readonly ControlState state, in Fault fault) { }

    public readonly void End(ref readonly ControlState state, RunEnd end) { }
}
