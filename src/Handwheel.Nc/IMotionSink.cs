namespace Handwheel.Nc;

public enum LegKind : byte
{
    /// <summary>Rapid in work coordinates.</summary>
    Rapid,

    /// <summary>Feed in work coordinates.</summary>
    Feed,

    /// <summary>G53 with G0: rapid in machine coordinates.</summary>
    MachineRapid,

    /// <summary>G53 with G1.</summary>
    MachineFeed,

    /// <summary>First leg of G28/G30, in work coordinates; not emitted when it has no length.</summary>
    ReturnVia,

    /// <summary>Second leg of G28/G30, to the reference position.</summary>
    ReturnEnd,
}

/// <summary>What a leg is for inside a canned cycle.</summary>
public enum CyclePart : byte
{
    /// <summary>Not in a cycle.</summary>
    None,

    /// <summary>Across to the hole at the level the axis stands at.</summary>
    Across,

    /// <summary>Down (or up) to the R plane before the hole.</summary>
    ToR,

    /// <summary>Cutting down: the whole hole, or one peck.</summary>
    Down,

    /// <summary>Between pecks: back out, and back in to the clearance.</summary>
    Peck,

    /// <summary>Out of the hole: to R, or under G98 with a rapid in one go to the initial level.</summary>
    Out,

    /// <summary>From R up to the initial level (G98), after a feed out to R.</summary>
    ToInitial,

    /// <summary>Sideways at the bottom or the top (boring cycles with a shift).</summary>
    Shift,
}

/// <summary>One straight leg, or the ends of an arc.</summary>
public struct Leg
{
    public LegKind Kind;
    public CyclePart Part;

    /// <summary>Axes that the block commands in this leg (in a cycle: that the cycle moves).</summary>
    public Axes Commanded;

    /// <summary>The feed is tied to the spindle: tapping, in or out.</summary>
    public bool Tapping;

    /// <summary>Z at the start and at the end stands where a work offset put it, so that a raise lifts it.</summary>
    public bool FromLifted,
        Lifted;

    /// <summary>
    /// A leg of the tool's centre under cutter compensation, or until it is back on the programmed path: <see cref="IMotionSink.ProgrammedLine"/> and
    /// <see cref="IMotionSink.ProgrammedArc"/> say what was programmed.
    /// </summary>
    public bool Beside;
    public Place From,
        To;
}

/// <summary>
/// An arc in one of the three planes, in machine coordinates (nm; resting on what the leg's ends rest on). For
/// <see cref="Plane.XY"/> U is X and V is Y; for ZX U is Z and V is X; for YZ U is Y and V is Z. The third axis moves in proportion.
/// </summary>
public struct Arc
{
    public Plane Plane;
    public double CentreU,
        CentreV;

    /// <summary>Radius at the start.</summary>
    public double Radius;
    public double StartAngle;

    /// <summary>Radians, signed: positive is counterclockwise seen from the positive end of the third axis.</summary>
    public double Sweep;

    /// <summary>True extremes over the whole arc, ends and turning points.</summary>
    public long MinU,
        MaxU,
        MinV,
        MaxV;

    /// <summary>Path length, the helix included; the length of the start radius.</summary>
    public double Length;
}

[Flags]
public enum Changes
{
    None = 0,
    WorkOffset = 1,
    Length = 2,
    Spindle = 4,
    Feed = 8,
    Units = 16,
    Plane = 32,
    Compensation = 64,
    FeedMode = 128,
    Coolant = 256,
    NextTool = 512,

    /// <summary>M0 or M1.</summary>
    Stop = 1024,

    /// <summary>A rotary word (A B C): its motion is recorded, not judged.</summary>
    Rotary = 2048,

    /// <summary>A length written without a point, other than 0.</summary>
    WholeNumber = 4096,

    /// <summary>The block began with a slash and is executed.</summary>
    Slash = 8192,

    /// <summary>A code that switches off feed hold, single block or overrides, by <see cref="ControlSettings.SuppressesHolds"/>.</summary>
    HoldsSuppressed = 16384,

    /// <summary>Something in the block was worked out from a register or a position that is another one when the work offsets are raised.</summary>
    RestsOnRaise = 32768,
}

public enum RegisterKind : byte
{
    WorkOffset,
    CommonOffset,
    Length,
    Diameter,

    /// <summary>A parameter that is none of the registers above, or that cannot be told.</summary>
    Other,
}

/// <summary>The program writes a register: G10, or a parameter that is one.</summary>
/// <param name="Offset">What G10 writes into a work offset, nm; no axes: it was a parameter.</param>
/// <param name="Value">What G10 writes into a tool's register, nm; null: it was a parameter.</param>
/// <param name="Wear">The value is the register's wear.</param>
public readonly record struct RegisterWrite(
    RegisterKind Kind,
    WorkOffsetName WorkOffset,
    int Number,
    Axes Axes,
    bool Incremental,
    OffsetValue Offset = default,
    long? Value = null,
    bool Wear = false
);

public enum ShiftKind : byte
{
    G52,
    G92,

    /// <summary>Rotation, scaling, mirror; no axes: none is in force any more.</summary>
    Turned,
}

public enum RunEnd : byte
{
    /// <summary>M2 or M30.</summary>
    ProgramEnd,

    /// <summary>M99 in the main program: one pass was followed.</summary>
    Repeats,

    /// <summary>The text ends without an end of program.</summary>
    TextEnds,

    /// <summary>A limit was reached: blocks executed or depth of calls.</summary>
    Limit,
}

/// <summary>What went wrong while reading or following. Names are the ids of the findings in kebab-case.</summary>
public enum FaultKind : byte
{
    CannotRead,
    CannotFollow,
    SameGroupTwice,
    ArcRadiiDiffer,
    ArcNoCentre,
    ArcFullCircleByRadius,

    /// <summary>A move under G41 or G42; the cause is one of <see cref="CompensationCause"/>. The path that follows is a guess.</summary>
    CompensationEntry,
    NeverEnds,
}

/// <param name="Cause">The code or text at fault, the same for the same cause: <c>G12.1</c>, <c>G0 and G1</c>.</param>
/// <param name="Column">Column in the line, from 1; 0 where none fits.</param>
/// <param name="Expected">What should stand there, in words; null where that is plain.</param>
/// <param name="First">First figure (start radius, nm).</param>
/// <param name="Second">Second figure (end radius, nm).</param>
public readonly record struct Fault(
    FaultKind Kind,
    string Cause,
    int Column,
    string? Expected = null,
    double First = 0,
    double Second = 0
);

/// <summary>
/// Hears what a program does, in order. Implemented by structs, so that one pass feeds every consumer without a virtual
/// call. Within a block the order is: Modal, ToolChange, RegisterWritten/ShiftSet, legs and dwells, BlockEnd. What comes into force
/// after a tool change in the same block (G43 beside M6), and what takes effect after the motion (M0, M1, M5, M9, M19), is a second
/// Modal at its place; a tool change beside a reference return comes after the legs. During Line and Arc <c>state.At</c> is still where the leg starts.
/// Under G41 and G42 legs are those of the tool's centre; a block's legs may then be more than it programs, or fewer.
/// </summary>
public interface IMotionSink
{
    /// <summary>The block changed something modal; <paramref name="state"/> already has it. Not called for blocks of plain motion.</summary>
    void Modal(ref readonly ControlState state, Changes changes);

    /// <summary>A tool change has happened; <paramref name="before"/> is where the axes stood, <c>state.At</c> where they stand.</summary>
    void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before);

    void RegisterWritten(ref readonly ControlState state, in RegisterWrite write);

    /// <summary>Shifts are in <paramref name="state"/>. <paramref name="fromMachineZ"/>: a G92 Z set while Z did not stand where a work offset put it.</summary>
    void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ);

    /// <summary>A straight leg; commanded axes are given even when nothing moves.</summary>
    void Line(ref readonly ControlState state, ref readonly Leg leg);

    void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc);

    /// <summary>A straight leg as programmed, before the legs of the centre that follow it (<see cref="Leg.Beside"/>). Nothing moves.</summary>
    void ProgrammedLine(ref readonly ControlState state, ref readonly Leg leg) { }

    /// <summary>An arc as programmed, before the legs of the centre that follow it.</summary>
    void ProgrammedArc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) { }

    void Dwell(ref readonly ControlState state, double seconds);

    /// <summary>A block with a word other than N or O has been executed.</summary>
    void BlockEnd(ref readonly ControlState state);

    void Fault(ref readonly ControlState state, in Fault fault);

    void End(ref readonly ControlState state, RunEnd end);
}
