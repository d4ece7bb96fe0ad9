using System.Runtime.CompilerServices;

namespace Handwheel.Nc;

public enum Motion : byte
{
    None,
    Rapid,
    Feed,
    ArcClockwise,
    ArcCounterclockwise,
    Cycle73,
    Cycle74,
    Cycle76,
    Cycle81,
    Cycle82,
    Cycle83,
    Cycle84,
    Cycle85,
    Cycle86,
    Cycle87,
    Cycle88,
    Cycle89,
}

public enum Plane : byte
{
    XY,
    ZX,
    YZ,
}

public enum FeedMode : byte
{
    PerMinute,
    PerRevolution,
    InverseTime,
}

public enum LengthMode : byte
{
    /// <summary>G49.</summary>
    Off,

    /// <summary>G43: the register is added.</summary>
    Added,

    /// <summary>G44: the register is subtracted.</summary>
    Subtracted,
}

public enum CutterCompensation : byte
{
    Off,
    Left,
    Right,
}

public enum SpindleDirection : byte
{
    Stopped,
    Clockwise,
    Counterclockwise,
}

[Flags]
public enum Axes : byte
{
    None = 0,
    X = 1,
    Y = 2,
    Z = 4,
}

[Flags]
public enum CoolantWords : byte
{
    None = 0,
    Mist = 1,
    Flood = 2,
}

/// <summary>Modal words that a restart at a tool would need.</summary>
[Flags]
public enum Stated : byte
{
    None = 0,
    WorkOffset = 1,

    /// <summary>G90 or G91.</summary>
    Distance = 2,
    Feed = 4,
    Speed = 8,
}

/// <summary>
/// Where the axes stand, per axis a number of nm and what it rests on: 0 means machine coordinates;
/// <see cref="Nowhere"/> means the place at the start, which nobody knows; any other number stands for a register
/// (or a pair of them) whose value the setup does not give. Two coordinates can be compared only when they rest on the same.
/// </summary>
public struct Place
{
    public const int Nowhere = -1;

    public long X,
        Y,
        Z;
    public int RestX,
        RestY,
        RestZ;

    public readonly bool IsMachine => (RestX | RestY | RestZ) == 0;
}

/// <summary>Everything that is in force at a moment of the run. Lengths in nm, speeds in rev/min.</summary>
public struct ControlState
{
    // The block: file 0 is the main program, others are subprogram files in the order they were opened.
    public int File;

    /// <summary>Line of the block in its file, from 1.</summary>
    public int Line;

    /// <summary>First byte and length of the block in its file.</summary>
    public int BlockStart,
        BlockLength;
    public long BlocksExecuted;

    // Modal groups.
    public Motion Motion;
    public Plane Plane;
    public bool Incremental;
    public FeedMode FeedMode;
    public Units Units;

    /// <summary>A G20 or G21 has been read.</summary>
    public bool UnitsStated;
    public CutterCompensation Compensation;
    public int D;

    /// <summary>The radius that G41, G42 or D has read, nm, with the sign of the register; 0 where it is not known.</summary>
    public double CutterRadius;

    /// <summary>A D other than 0 has been read, and its register has a value.</summary>
    public bool CutterRadiusKnown;
    public LengthMode LengthMode;
    public int H;
    public WorkOffsetName WorkOffset;

    /// <summary>A work offset has been commanded.</summary>
    public bool WorkOffsetStated;

    /// <summary>G99: cycles return to the R plane.</summary>
    public bool ReturnToR;

    /// <summary>G61, or G9 in this block.</summary>
    public bool ExactStop;
    public int Tool,
        NextTool;

    /// <summary>What has been written since the block of the last tool change, that block included.</summary>
    public Stated Stated;

    /// <summary>Tool changes so far; 0 before the first.</summary>
    public int ToolChanges;

    /// <summary>A length offset (any H) has been commanded since this tool came in, and is in force.</summary>
    public bool LengthCommanded;
    public SpindleDirection Spindle;
    public double SpindleSpeed;

    /// <summary>nm per minute, nm per revolution, or 1/min, by <see cref="FeedMode"/>.</summary>
    public double Feed;

    /// <summary>A feed above zero is in force.</summary>
    public bool FeedGiven;
    public CoolantWords Coolant;

    // Offsets in force: machine = programmed + shift + work + common + length (Z only).
    public long WorkX,
        WorkY,
        WorkZ;
    public long CommonX,
        CommonY,
        CommonZ;

    /// <summary>G52 and G92 together.</summary>
    public long ShiftX,
        ShiftY,
        ShiftZ;

    /// <summary>What the control adds to Z for the length offset, sign of G44 and wear included.</summary>
    public long LengthZ;

    /// <summary>What a coordinate commanded now would rest on (see <see cref="Place"/>); 0 when every register is given.</summary>
    public int RestX,
        RestY,
        RestZ;

    /// <summary>Where the axes stand.</summary>
    public Place At;

    /// <summary>Z stands where a work offset put it, so that raising the offset lifts it.</summary>
    public bool Lifted;

    /// <summary>A place in setup space measured from the zero of the work offset in force, shifts included.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly long FromZeroX(in Place place) => place.X - WorkX - CommonX;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly long FromZeroY(in Place place) => place.Y - WorkY - CommonY;

    /// <summary>The programmed Z with shifts, as if the length offset in force were the tool's own.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly long FromZeroZ(in Place place) => place.Z - WorkZ - CommonZ - LengthZ;

    public readonly bool IsCycle => Motion >= Motion.Cycle73;
}
