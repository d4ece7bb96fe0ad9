using System.Runtime.CompilerServices;

namespace Handwheel.Nc;

// Straight moves, arcs and reference returns.
partial class Follower<TSink>
{
    /// <summary>What the block's axis words do under the motion mode in force.</summary>
    void Move(BlockWords words)
    {
        var rotary = words.HasAny("ABC");
        if (codes.Has(CodeGroup.MachineCoordinates))
            MoveInMachineCoordinates();
        else if (state.IsCycle)
            RunCycle(words, rotary);
        else if (state.Motion is Motion.Rapid or Motion.Feed && isTurned)
            GoStraightTurned();
        else if (state.Motion is Motion.Rapid or Motion.Feed)
            GoStraight(axisWords);
        else if (state.Motion is Motion.ArcClockwise or Motion.ArcCounterclockwise)
            GoAround(axisWords);
        else if (axisWords.Axes != Axes.None)
            CannotFollow("axis words with no motion mode", 0, "G0, G1, G2 or G3 before them");
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    void GoStraight(in AxisWords words)
    {
        var axes = words.Axes;
        if (axes == Axes.None)
            return;
        Target(words, out var to);
        var lifted = Lifts(axes);
        Go(state.Motion == Motion.Rapid ? LegKind.Rapid : LegKind.Feed, CyclePart.None, axes, to, lifted);
    }

    /// <summary>After a move of these axes Z stands where a work offset put it.</summary>
    bool Lifts(Axes axes) => state.Lifted || (axes.HasFlag(Axes.Z) && !state.Incremental);

    /// <summary>Where the axis words lead, in work coordinates.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    void Target(in AxisWords words, out Place to)
    {
        to = state.At;
        if (state.Incremental)
        {
            to.X = Math.Clamp(to.X + words.X, -Far, Far);
            to.Y = Math.Clamp(to.Y + words.Y, -Far, Far);
            to.Z = Math.Clamp(to.Z + words.Z, -Far, Far);
            return;
        }
        if ((words.Given & 1) != 0)
            (to.X, to.RestX) = (words.X + baseX, state.RestX);
        if ((words.Given & 2) != 0)
            (to.Y, to.RestY) = (words.Y + baseY, state.RestY);
        if ((words.Given & 4) != 0)
            (to.Z, to.RestZ) = (words.Z + baseZ, state.RestZ);
    }

    /// <summary>G53: machine coordinates, also under G91 (NISTIR 6556, 3.5.12).</summary>
    void MoveInMachineCoordinates()
    {
        if (axisWords.Axes == Axes.None)
            return;
        if (state.Motion is not (Motion.Rapid or Motion.Feed))
            CannotFollow("G53 without G0 or G1", 0, "G0 or G1 in force");
        var to = state.At;
        for (var axis = 0; axis < 3; axis++)
            if (axisWords.Has(axis))
                PlaceAxis.Set(ref to, axis, axisWords.Value(axis), 0);
        var kind = state.Motion == Motion.Feed ? LegKind.MachineFeed : LegKind.MachineRapid;
        Go(kind, CyclePart.None, axisWords.Axes, to, state.Lifted && !axisWords.Has(PlaceAxis.Z));
    }

    void ReturnToSecond(BlockWords words)
    {
        var which = words.Has('P') ? WholeOf(words, 'P') : 2;
        if (which is 1 or 2)
        {
            ReturnToReference(which.Value);
            return;
        }
        CannotFollow("G30 P" + (which?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? ""), 0, "P2");
        ReturnToReference(which ?? 3);
    }

    /// <summary>To the point programmed, where there is one, then to the reference position in the axes named; in all with none named (NISTIR 6556, 3.5.8).</summary>
    void ReturnToReference(int which)
    {
        var axes = axisWords.Axes;
        if (axes == Axes.None && reader.Words.HasAny("ABC"))
            return;
        if (axes != Axes.None)
        {
            Target(axisWords, out var via);
            if (Differs(via, state.At))
            {
                var lifted = Lifts(axes);
                Go(LegKind.ReturnVia, CyclePart.None, axes, via, lifted);
            }
        }
        else
        {
            axes = Axes.X | Axes.Y | Axes.Z;
        }
        var to = state.At;
        for (var axis = 0; axis < 3; axis++)
        {
            if (!axes.HasFlag(PlaceAxis.Flag(axis)))
                continue;
            var reference = registers.Reference(which, axis);
            PlaceAxis.Set(ref to, axis, reference.Value, reference.Rest);
        }
        var withZ = axes.HasFlag(Axes.Z);
        Go(LegKind.ReturnEnd, CyclePart.None, axes, to, state.Lifted && !withZ);
        if (withZ && settings.Reads.ReferenceReturnCancelsLength)
            CancelLength();
    }

    static bool Differs(in Place a, in Place b) =>
        a.X != b.X || a.Y != b.Y || a.Z != b.Z || a.RestX != b.RestX || a.RestY != b.RestY || a.RestZ != b.RestZ;

    void GoAround(AxisWords words)
    {
        if ((words.Given & ~AxisWords.FBit) == 0)
            return;
        var lifted = Lifts(words.Axes);
        Place to;
        if (!isTurned)
            Target(words, out to);
        else if (!TargetTurned(ref words, out to))
            return;
        var axes = words.Axes;
        if (!TryArc(words, to, out var arc))
        {
            Go(LegKind.Feed, CyclePart.None, axes, to, lifted);
            return;
        }
        leg.Kind = LegKind.Feed;
        leg.Part = CyclePart.None;
        leg.Commanded = axes;
        leg.Tapping = false;
        leg.FromLifted = state.Lifted;
        leg.Lifted = lifted;
        leg.From = state.At;
        leg.To = to;
        if (beside == Compensating.Off)
            Sink.Arc(in state, in leg, in arc);
        else
            Compensate(arc);
        state.At = to;
        state.Lifted = lifted;
    }

    /// <summary>False, with its fault said, where no circle can be found.</summary>
    bool TryArc(in AxisWords words, in Place to, out Arc arc)
    {
        arc = default;
        var (u, v, w) = PlaceAxis.Of(state.Plane);
        var at = state.At;
        var start = (U: PlaceAxis.Get(at, u), V: PlaceAxis.Get(at, v));
        var end = (U: PlaceAxis.Get(to, u), V: PlaceAxis.Get(to, v));
        if (PlaceAxis.Rest(at, u) != PlaceAxis.Rest(to, u) || PlaceAxis.Rest(at, v) != PlaceAxis.Rest(to, v))
        {
            CannotFollow("an arc from a place that is not known", 0, "a move to a known place before the arc");
            return false;
        }
        var clockwise = (state.Motion == Motion.ArcClockwise) != IsMirrored(u, v);
        (double U, double V) centre;
        if ((words.Given & AxisWords.RBit) != 0)
        {
            if (!TryCentreByRadius(words.R, end.U - start.U, end.V - start.V, clockwise, out centre))
                return false;
        }
        else if (!TryCentreByOffsets(words, u, v, start, end, out centre))
        {
            return false;
        }
        var across = PlaceAxis.Rest(at, w) == PlaceAxis.Rest(to, w) ? PlaceAxis.Get(to, w) - PlaceAxis.Get(at, w) : 0;
        arc = ArcGeometry.Around(state.Plane, clockwise, start, end, centre, across);
        return true;
    }

    bool TryCentreByRadius(long radius, long endU, long endV, bool clockwise, out (double U, double V) centre)
    {
        centre = default;
        if (endU == 0 && endV == 0)
        {
            Refuse(FaultKind.ArcFullCircleByRadius, "a full circle by R", 0, "I, J or K for a full circle");
            return false;
        }
        if (radius == 0)
        {
            Refuse(FaultKind.ArcNoCentre, "R0", 0, "R, or I, J, K");
            return false;
        }
        var halfChord = Math.Sqrt((double)endU * endU + (double)endV * endV) / 2;
        if (halfChord - Math.Abs(radius) > ArcTolerance)
            TellFault(
                new(
                    FaultKind.ArcRadiiDiffer,
                    "arc radii differ",
                    0,
                    "R of at least half the way",
                    Math.Abs(radius),
                    halfChord
                )
            );
        centre = ArcGeometry.CentreByRadius(endU, endV, radius, clockwise);
        return true;
    }

    bool TryCentreByOffsets(
        in AxisWords words,
        int u,
        int v,
        (long U, long V) start,
        (long U, long V) end,
        out (double U, double V) centre
    )
    {
        centre = default;
        if (!words.HasCentre(u) && !words.HasCentre(v))
        {
            Refuse(FaultKind.ArcNoCentre, "no centre", 0, "R, or I, J, K in the plane of the arc");
            return false;
        }
        (long U, long V) offset = (words.Centre(u), words.Centre(v));
        if (arcCentresAbsolute)
        {
            offset.U = words.HasCentre(u) ? offset.U + Base(u) - start.U : 0;
            offset.V = words.HasCentre(v) ? offset.V + Base(v) - start.V : 0;
        }
        if (offset == default)
        {
            Refuse(FaultKind.ArcNoCentre, "no centre", 0, "a centre away from the start");
            return false;
        }
        centre = offset;
        var first = Length2(offset.U, offset.V);
        var second = Length2(end.U - start.U - offset.U, end.V - start.V - offset.V);
        if (Math.Abs(first - second) > ArcTolerance)
            TellFault(new(FaultKind.ArcRadiiDiffer, "arc radii differ", 0, null, first, second));
        return true;
    }

    static double Length2(double u, double v) => Math.Sqrt(u * u + v * v);

    long ArcTolerance => settings.Reads.ArcTolerance ?? (settings.Units == Units.Inch ? 12_700 : 10_000);
}
