namespace Handwheel.Nc;

// Holes of one shape: most programs drill a pattern, so that all that is new about a hole is where it stands.
partial class Follower<TSink>
{
    HoleShape pattern;
    int patternPecks;

    /// <summary>The hole before was taken, and since then no block has had more than a place: the next has the same legs if it begins where that one ended.</summary>
    bool patternHolds;

    /// <summary>Offers a hole of the pattern with the way to it. False: nothing is done.</summary>
    bool TryPattern(in AxisWords words)
    {
        if (!patternHolds || state.At.Z != pattern.From || hole.Left != Level(PlaceAxis.Z) || !state.Lifted)
            return false;
        if (!state.At.IsMachine || (state.RestX | state.RestY) != 0 || effort > options.BlocksMost - 2 * PecksMost)
            return false;
        Target(words, out var over);
        if (!options.Holes!(in state, in pattern, words.Axes, in over))
            return false;
        effort += 1 + patternPecks;
        state.At = over;
        return true;
    }

    /// <summary>Down and out of the hole that the axes stand over.</summary>
    void Drill(int u, int v, int w, AxisValue r, AxisValue bottom)
    {
        if (options.Holes is not { } take || !TryShape(w, r, bottom, out var shape))
        {
            DrillLegs(u, v, w, r, bottom);
            return;
        }
        if (take(in state, in shape, Axes.None, in state.At))
        {
            (pattern, patternPecks, patternHolds) = (shape, PecksOf(r, bottom), shape.From == shape.End);
            effort += patternPecks;
            state.At.Z = shape.End;
            return;
        }
        DrillLegs(u, v, w, r, bottom);
        options.HoleTold?.Invoke();
    }

    void DrillLegs(int u, int v, int w, AxisValue r, AxisValue bottom)
    {
        GoTo(w, r, LegKind.Rapid, CyclePart.ToR, hole.RLifted);
        GoDown(w, r, bottom);
        GoOut(u, v, w, r);
    }

    /// <summary>False where the legs depend on more than their shape, or may be cut short.</summary>
    bool TryShape(int w, AxisValue r, AxisValue bottom, out HoleShape shape)
    {
        shape = default;
        if (w != PlaceAxis.Z || state.Motion == Motion.Cycle76 || isTurned || beside != Compensating.Off)
            return false;
        if (!state.At.IsMachine || (r.Rest | bottom.Rest) != 0 || bottom.Value >= r.Value)
            return false;
        if (!state.Lifted || !hole.RLifted || !hole.BottomLifted || effort > options.BlocksMost - 2 * PecksMost)
            return false;
        var end = r.Value;
        if (GoesToInitial(r))
        {
            if (hole.Initial.Rest != 0 || !hole.InitialLifted)
                return false;
            end = hole.Initial.Value;
        }
        shape = new(
            state.Motion,
            state.At.Z,
            r.Value,
            bottom.Value,
            end,
            hole.Peck,
            hole.HasDwell ? hole.Dwell : -1,
            state.Incremental
        );
        return true;
    }

    /// <summary>The hole ends at the level before the cycle and not at R.</summary>
    bool GoesToInitial(AxisValue r) =>
        !state.ReturnToR && (hole.Initial.Rest != r.Rest || hole.Initial.Value > r.Value);
}
