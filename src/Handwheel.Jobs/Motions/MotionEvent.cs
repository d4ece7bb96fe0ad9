using System.Buffers.Binary;
using Handwheel.Nc;

namespace Handwheel.Jobs.Motions;

enum MotionKind : byte
{
    /// <summary>The tool comes into the spindle; the ends are where the axes then stand.</summary>
    ToolIn,
    Rapid,
    Feed,
    MachineRapid,
    MachineFeed,
    Return,
    Arc,
    Dwell,

    /// <summary>M0 or M1.</summary>
    Stop,

    /// <summary>The program writes a register or sets a shift.</summary>
    Writes,

    /// <summary>Rotation, scaling or mirror, holds suppressed, a fault in the block.</summary>
    Mode,
    End,
}

/// <summary>Where an axis is: nm from the zero of a work offset (its number), or in one of the frames below.</summary>
readonly record struct FramedPlace(int Frame, long Value)
{
    /// <summary>The place at the start of the program, which nobody knows.</summary>
    public const int Start = -1;
    public const int Machine = -2;

    /// <summary>A reference position that the setup does not give.</summary>
    public const int Reference = -3;

    /// <summary>From the zero of a work offset that the program has rewritten since.</summary>
    public const int BeforeWrite = -4;
}

/// <summary>
/// One thing that the machine does with a tool, told without the values of registers: places count from the zero of the
/// work offset in force, by its name. What a comment, an N number, a spelling or an axis word that moves nothing would
/// change is not in it.
/// </summary>
struct MotionEvent
{
    public MotionKind Kind;

    /// <summary>Axes that move, and where to.</summary>
    public Axes Axes;
    public FramedPlace X,
        Y,
        Z;

    /// <summary>Length offset that Z is commanded with: register, and 0 off, 1 added, 2 subtracted; -1: Z does not move in work coordinates.</summary>
    public int H,
        LengthMode;

    /// <summary>Zero of the work offset and length in force, where the program itself has written them; else 0.</summary>
    public long WrittenX,
        WrittenY,
        WrittenZ,
        WrittenLength;

    /// <summary>Centre from the start, nm, and complete turns, signed, of an arc.</summary>
    public long CentreU,
        CentreV;
    public int Turns;
    public Plane Plane;
    public bool Tapping,
        UnitsStated,
        Slash,
        SpindleOn;
    public CutterCompensation Compensation;
    public int D;

    /// <summary>What else there is to say: the block of a register write, an optional stop.</summary>
    public ulong Words;

    // How it cuts: for moves at feed, and the time of a dwell.
    public double Feed,
        Speed,
        Seconds;
    public FeedMode FeedMode;
    public SpindleDirection Direction;
    public CoolantWords Coolant;
    public bool ExactStop;

    // Where it stands; not part of what is done.
    public int File,
        Line;

    public const int PathBytes = 136;
    public const int CuttingBytes = 32;

    /// <summary>Everything that says where the machine goes.</summary>
    public readonly void WritePath(Span<byte> to)
    {
        to.Clear();
        to[0] = (byte)Kind;
        to[1] = (byte)Axes;
        to[2] = (byte)Plane;
        to[3] = (byte)Compensation;
        to[4] = (byte)((Tapping ? 1 : 0) | (UnitsStated ? 2 : 0) | (Slash ? 4 : 0) | (SpindleOn ? 8 : 0));
        BinaryPrimitives.WriteInt32LittleEndian(to[8..], H);
        BinaryPrimitives.WriteInt32LittleEndian(to[12..], LengthMode);
        BinaryPrimitives.WriteInt32LittleEndian(to[16..], Turns);
        BinaryPrimitives.WriteInt32LittleEndian(to[20..], D);
        Write(to, 24, X);
        Write(to, 36, Y);
        Write(to, 48, Z);
        ReadOnlySpan<long> rest = [WrittenX, WrittenY, WrittenZ, WrittenLength, CentreU, CentreV, (long)Words];
        for (var i = 0; i < rest.Length; i++)
            BinaryPrimitives.WriteInt64LittleEndian(to[(64 + i * 8)..], rest[i]);
    }

    /// <summary>Everything that says how it cuts on the way.</summary>
    public readonly void WriteCutting(Span<byte> to)
    {
        to.Clear();
        to[0] = (byte)FeedMode;
        to[1] = (byte)Direction;
        to[2] = (byte)Coolant;
        to[3] = ExactStop ? (byte)1 : (byte)0;
        BinaryPrimitives.WriteInt64LittleEndian(to[8..], Whole(Feed));
        BinaryPrimitives.WriteInt64LittleEndian(to[16..], Whole(Speed * 1000));
        BinaryPrimitives.WriteInt64LittleEndian(to[24..], Whole(Seconds * 1000));
    }

    public readonly bool SamePath(in MotionEvent other)
    {
        Span<byte> mine = stackalloc byte[PathBytes],
            its = stackalloc byte[PathBytes];
        WritePath(mine);
        other.WritePath(its);
        return mine.SequenceEqual(its);
    }

    public readonly bool SameCutting(in MotionEvent other)
    {
        Span<byte> mine = stackalloc byte[CuttingBytes],
            its = stackalloc byte[CuttingBytes];
        WriteCutting(mine);
        other.WriteCutting(its);
        return mine.SequenceEqual(its);
    }

    static void Write(Span<byte> to, int at, FramedPlace place)
    {
        BinaryPrimitives.WriteInt32LittleEndian(to[at..], place.Frame);
        BinaryPrimitives.WriteInt64LittleEndian(to[(at + 4)..], place.Value);
    }

    /// <summary>Rates are worked out in floating point: rounded, so that one rate spelled in two ways is one rate.</summary>
    static long Whole(double value) => (long)Math.Clamp(Math.Round(value), long.MinValue / 2, long.MaxValue / 2);
}
