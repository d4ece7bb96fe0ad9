using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>One axis of a work offset or one register of a tool, as a file of G10 lines sets it.</summary>
/// <param name="Name"><c>G55</c>, <c>common</c>, <c>H4</c>, <c>D4</c>.</param>
/// <param name="Axis"><c>x</c>, <c>y</c>, <c>z</c>; <c>length</c>, <c>diameter</c> or <c>wear</c> of a tool's register.</param>
/// <param name="Line">Line of the file, from 1.</param>
public sealed record SavedRegister(string Name, string Axis, Length Value, int Line);

/// <summary>A line of the file that sets no register whose value is known, and why.</summary>
public sealed record NotRegister(int Line, string Why);

/// <summary>
/// Registers of a control as shops save them: a file of G10 lines (L2 and L20 work offsets, L10 to L13 tools). It is read as the
/// control reads a program, so units, absolute and incremental, and spelling mean what they mean there. A later line
/// wins over an earlier one; a line that is not understood to its end gives no value. What is not understood is said, never passed over.
/// </summary>
public sealed record SavedRegisters(IReadOnlyList<SavedRegister> Values, IReadOnlyList<NotRegister> NotRead)
{
    /// <param name="units">The setup's units; the file's when it states none.</param>
    /// <exception cref="InputFault">The file is in the other unit, moves the machine, or sets no register: the line is named.</exception>
    public static SavedRegisters Read(byte[] file, string fileName, Units units, Machine machine)
    {
        var heard = new Heard(units);
        var sink = new Sink(heard);
        Interpreter.Run(file, SetupFromProgram.Control(machine, units), new RunOptions(), ref sink);
        if (heard.OtherUnits is { } stated)
            throw new InputFault(
                fileName,
                stated,
                null,
                units == Units.Millimetre ? "inch (G20)" : "millimetre (G21)",
                $"{units.Symbol()}, as the setup has it: no value is converted here"
            );
        if (heard.Moves is { } line)
            throw new InputFault(fileName, line, null, "a move of the machine", "G10 lines alone: this is a program");
        // of a line that was not read to its end the first words may be torn off too, and the line before it no longer counts
        var torn = heard.NotRead.Select(n => n.Line).ToHashSet();
        var values = heard.Values.Values.Where(v => !torn.Contains(v.Line)).OrderBy(v => v.Line).ToList();
        if (values.Count == 0)
            throw new InputFault(fileName, null, null, "no register", "lines such as G10 L2 P1 X0 Y0 Z0");
        return new(values, heard.NotRead);
    }

    sealed class Heard(Units units)
    {
        /// <summary>Line that states the other unit; null: none does.</summary>
        public int? OtherUnits { get; private set; }
        public int? Moves { get; private set; }
        public Dictionary<(string, string), SavedRegister> Values { get; } = [];
        public List<NotRegister> NotRead { get; } = [];

        public void Modal(in ControlState state)
        {
            if (state.UnitsStated && state.Units != units)
                OtherUnits ??= state.Line;
        }

        public void Moved(in ControlState state) => Moves ??= state.Line;

        public void Fault(in ControlState state, in Fault fault) =>
            NotRead.Add(
                new(state.Line, fault.Expected is { } expected ? $"{fault.Cause}: expected {expected}" : fault.Cause)
            );

        public void Write(in ControlState state, in RegisterWrite write)
        {
            if (write.Incremental)
                NotRead.Add(new(state.Line, "G10 under G91 adds to a register: what it holds then is not known"));
            else if (write.Value is { } value)
                Keep(
                    Tool(write),
                    write.Wear ? "wear"
                        : write.Kind == RegisterKind.Length ? "length"
                        : "diameter",
                    value,
                    state.Line
                );
            else if (write.Offset is { X: null, Y: null, Z: null })
                NotRead.Add(
                    new(state.Line, "a register set by its parameter number, or with no axis: only G10 lines are read")
                );
            else
                Axes(write, state.Line);
        }

        void Axes(in RegisterWrite write, int line)
        {
            var name = write.WorkOffset.ToString();
            foreach (var (axis, value) in new[] { ("x", write.Offset.X), ("y", write.Offset.Y), ("z", write.Offset.Z) })
                if (value is { } written)
                    Keep(name, axis, written, line);
        }

        void Keep(string name, string axis, long value, int line) =>
            Values[(name, axis)] = new(name, axis, Length.FromNanometres(value), line);

        static string Tool(in RegisterWrite write) =>
            (write.Kind == RegisterKind.Length ? "H" : "D") + write.Number.ToString(CultureInfo.InvariantCulture);
    }

    readonly struct Sink(Heard heard) : IMotionSink
    {
        public void Modal(ref readonly ControlState state, Changes changes) => heard.Modal(state);

        public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) =>
            heard.Moved(state);

        public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) =>
            heard.Write(state, write);

        public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) =>
            heard.Moved(state);

        public void Line(ref readonly ControlState state, ref readonly Leg leg) => heard.Moved(state);

        public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
            heard.Moved(state);

        public void Dwell(ref readonly ControlState state, double seconds) { }

        public void BlockEnd(ref readonly ControlState state) { }

        public void Fault(ref readonly ControlState state, in Fault fault) => heard.Fault(state, fault);

        public void End(ref readonly ControlState state, RunEnd end) { }
    }
}
