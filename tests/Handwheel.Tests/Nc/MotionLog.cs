using System.Globalization;
using System.Text;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>
/// Everything a program did, in words. Places are in the units given, in machine coordinates less the length offset; <c>?</c> stands for
/// an axis that rests on something unknown.
/// </summary>
sealed class MotionLog(Units units)
{
    public List<string> Events { get; } = [];
    public List<Leg> Legs { get; } = [];
    public List<Arc> Arcs { get; } = [];

    /// <summary>Legs with their arcs and the line of the block that they belong to.</summary>
    public List<Way> Ways { get; } = [];

    /// <summary>Under cutter compensation what was programmed.</summary>
    public List<Way> Programmed { get; } = [];
    public List<Fault> Faults { get; } = [];
    public List<double> Dwells { get; } = [];
    public List<RegisterWrite> Writes { get; } = [];
    public List<(int Line, Changes Changes)> Modals { get; } = [];
    public ControlState Last { get; set; }
    public RunEnd? End { get; set; }

    /// <summary>T(x,y,z) for a rapid, F(x,y,z) for a feed, as the report's worked examples are given.</summary>
    public IEnumerable<string> Moves => Events.Where(e => e[0] is 'T' or 'F' or 'A' && e[1] == '(');

    public string MovesText => string.Join(' ', Moves);

    public static MotionLog Of(string program, ControlSettings? settings = null, RunOptions? options = null) =>
        Of(Encoding.UTF8.GetBytes(program), settings, options);

    public static MotionLog Of(byte[] program, ControlSettings? settings = null, RunOptions? options = null)
    {
        settings ??= Settings();
        var sink = new LogSink(new(settings.Units));
        Interpreter.Run(program, settings, options ?? new(), ref sink);
        return sink.Log;
    }

    /// <summary>A control in inch with every work offset at zero, the reference at zero, and no registers.</summary>
    public static ControlSettings Settings(Units units = Units.Inch) =>
        new()
        {
            Units = units,
            LeastIncrement = units == Units.Inch ? 2_540 : 1_000,
            WorkOffsets = Enumerable
                .Range(1, 6)
                .ToDictionary(n => new WorkOffsetName(n), _ => new OffsetValue(0, 0, 0)),
            Reference = new(0, 0, 0),
            SecondReference = new(0, 0, 0),
            ToolChangeZ = 0,
        };

    public string Text(in Place place, long lengthZ) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"({Axis(place.X, place.RestX)},{Axis(place.Y, place.RestY)},{Axis(place.Z - lengthZ, place.RestZ)})"
        );

    string Axis(long value, int rest) =>
        rest == 0
            ? decimal.Round(Length.FromNanometres(value).In(units), 4).ToString("0.####", CultureInfo.InvariantCulture)
        : rest == Place.Nowhere ? "?"
        : "?" + rest.ToString(CultureInfo.InvariantCulture);
}

readonly struct LogSink(MotionLog log) : IMotionSink
{
    public MotionLog Log => log;

    public void Modal(ref readonly ControlState state, Changes changes)
    {
        log.Modals.Add((state.Line, changes));
        log.Events.Add("modal " + changes);
    }

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) =>
        log.Events.Add($"tool {previousTool} to {state.Tool} at {log.Text(before, 0)}");

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write)
    {
        log.Writes.Add(write);
        log.Events.Add("register " + write);
    }

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) =>
        log.Events.Add($"shift {kind} {axes} {fromMachineZ} {state.ShiftX} {state.ShiftY} {state.ShiftZ}");

    public void Line(ref readonly ControlState state, ref readonly Leg leg)
    {
        log.Legs.Add(leg);
        log.Ways.Add(new(leg, null, state.Line));
        var sort = leg.Kind is LegKind.Feed or LegKind.MachineFeed ? "F" : "T";
        log.Events.Add(sort + log.Text(leg.To, state.LengthZ));
    }

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc)
    {
        log.Legs.Add(leg);
        log.Arcs.Add(arc);
        log.Ways.Add(new(leg, arc, state.Line));
        log.Events.Add("A" + log.Text(leg.To, state.LengthZ));
    }

    public void ProgrammedLine(ref readonly ControlState state, ref readonly Leg leg) =>
        log.Programmed.Add(new(leg, null, state.Line));

    public void ProgrammedArc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
        log.Programmed.Add(new(leg, arc, state.Line));

    public void Dwell(ref readonly ControlState state, double seconds)
    {
        log.Dwells.Add(seconds);
        log.Events.Add("dwell");
    }

    public void BlockEnd(ref readonly ControlState state) => log.Last = state;

    public void Fault(ref readonly ControlState state, in Fault fault)
    {
        log.Faults.Add(fault);
        log.Events.Add(
            string.Create(
                CultureInfo.InvariantCulture,
                $"fault {fault.Kind} {fault.Cause} line {state.Line} column {fault.Column}"
            )
        );
    }

    public void End(ref readonly ControlState state, RunEnd end)
    {
        log.Last = state;
        log.End = end;
        log.Events.Add("end " + end);
    }
}
