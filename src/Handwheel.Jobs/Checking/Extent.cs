using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// How far the programmed point goes under one tool and one work offset: what blocks command, measured from the zero
/// of the work offset with shifts included, and the highest machine Z. Where an axis only stood counts for nothing.
/// </summary>
sealed class Extent(int tool, WorkOffsetName workOffset)
{
    long lowX = long.MaxValue,
        highX = long.MinValue,
        lowY = long.MaxValue,
        highY = long.MinValue,
        lowZ = long.MaxValue,
        highZ = long.MinValue;
    bool unknownX,
        unknownY,
        unknownZ,
        unknownMachineZ;

    public int Tool => tool;
    public WorkOffsetName WorkOffset => workOffset;
    public long HighestMachineZ { get; private set; } = long.MinValue;
    public bool MachineZUnknown => unknownMachineZ;

    public AxisExtent X => new(lowX, highX, unknownX);
    public AxisExtent Y => new(lowY, highY, unknownY);
    public AxisExtent Z => new(lowZ, highZ, unknownZ);

    public void Count(in ControlState state, in Leg leg) => Count(state, leg.Commanded, leg.To);

    public void Count(in ControlState state, Axes commanded, in Place to)
    {
        if ((commanded & Axes.X) != Axes.None)
            CountX(state, to.X, to.X, to.RestX);
        if ((commanded & Axes.Y) != Axes.None)
            CountY(state, to.Y, to.Y, to.RestY);
        if ((commanded & Axes.Z) != Axes.None)
            CountZ(state, to.Z, to.Z, to.RestZ);
    }

    public void Count(in ControlState state, in Leg leg, in Arc arc)
    {
        Count(state, leg);
        switch (arc.Plane)
        {
            case Plane.XY:
                CountX(state, arc.MinU, arc.MaxU, leg.To.RestX);
                CountY(state, arc.MinV, arc.MaxV, leg.To.RestY);
                break;
            case Plane.ZX:
                CountZ(state, arc.MinU, arc.MaxU, leg.To.RestZ);
                CountX(state, arc.MinV, arc.MaxV, leg.To.RestX);
                break;
            default:
                CountY(state, arc.MinU, arc.MaxU, leg.To.RestY);
                CountZ(state, arc.MinV, arc.MaxV, leg.To.RestZ);
                break;
        }
    }

    /// <summary>Known places, as all of a run are.</summary>
    public void Count(in ControlState state, in RunBox box)
    {
        if (box.CommandsX)
            CountX(state, box.LowX, box.HighX, 0);
        if (box.CommandsY)
            CountY(state, box.LowY, box.HighY, 0);
        if (box.CommandsZ)
            CountZ(state, box.LowZ, box.HighZ, 0);
    }

    void CountX(in ControlState state, long low, long high, int rest)
    {
        if (rest != state.RestX)
        {
            unknownX = true;
            return;
        }
        var zero = state.WorkX + state.CommonX;
        lowX = Math.Min(lowX, low - zero);
        highX = Math.Max(highX, high - zero);
    }

    void CountY(in ControlState state, long low, long high, int rest)
    {
        if (rest != state.RestY)
        {
            unknownY = true;
            return;
        }
        var zero = state.WorkY + state.CommonY;
        lowY = Math.Min(lowY, low - zero);
        highY = Math.Max(highY, high - zero);
    }

    void CountZ(in ControlState state, long low, long high, int rest)
    {
        unknownMachineZ |= rest != 0;
        HighestMachineZ = Math.Max(HighestMachineZ, high);
        if (rest != state.RestZ)
        {
            unknownZ = true;
            return;
        }
        var zero = state.WorkZ + state.CommonZ + state.LengthZ;
        lowZ = Math.Min(lowZ, low - zero);
        highZ = Math.Max(highZ, high - zero);
    }
}

/// <summary>Lowest and highest of one axis, nm; without a value when nothing was commanded or something is not known.</summary>
readonly record struct AxisExtent(long Low, long High, bool Unknown)
{
    public bool HasValue => !Unknown && Low <= High;

    public static AxisExtent None => new(long.MaxValue, long.MinValue, false);

    public AxisExtent With(AxisExtent other) =>
        new(Math.Min(Low, other.Low), Math.Max(High, other.High), Unknown || other.Unknown);

    public decimal[]? Out(Figures figures) => HasValue ? [figures.Out(Low), figures.Out(High)] : null;
}
