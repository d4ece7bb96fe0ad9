namespace Handwheel.Nc;

/// <summary>What a canned cycle keeps from hole to hole. Levels in programmed coordinates, nm.</summary>
struct Hole
{
    public bool HasR,
        HasBottom;
    public AxisValue R,
        Bottom;
    public bool RLifted,
        BottomLifted;

    /// <summary>The depth word as last written: from R under G91.</summary>
    public long Depth;
    public long Peck;
    public double Dwell;
    public bool HasDwell;
    public long ShiftU,
        ShiftV;

    /// <summary>Machine coordinate before the cycle, to which G98 returns, and where the last hole left the axis.</summary>
    public AxisValue Initial,
        Left;
    public bool InitialLifted,
        Running;
}

// Canned cycles, each taken apart into its legs (NISTIR 6556, 3.5.16; G73, G74, G76 and G87 by common practice).
partial class Follower<TSink>
{
    const int RepeatsMost = 9_999;
    const int PecksMost = 10_000;

    Hole hole;

    void RunCycle(BlockWords words, bool rotary)
    {
        var repeats = Repeats(words);
        ReadHole(words, PlaceAxis.Of(state.Plane).W);
        MakeHoles(repeats, rotary);
    }

    /// <summary>The holes of one block, whose words have been read.</summary>
    void MakeHoles(int repeats, bool rotary)
    {
        var (u, v, w) = PlaceAxis.Of(state.Plane);
        if (axisWords.Axes == Axes.None && (axisWords.Given & AxisWords.RBit) == 0 && !rotary)
            return;
        if (turning.Touches(w) || (turning.InForce && state.Motion is Motion.Cycle76 or Motion.Cycle87))
            CannotFollow("this canned cycle under rotation, scaling or mirror", 0, "the cycle written out");
        if (!hole.HasBottom)
        {
            CannotFollow("canned cycle without depth", 0, "Z on the first hole");
            return;
        }
        for (var i = 0; i < repeats && effort <= options.BlocksMost; i++)
        {
            effort++;
            MakeHole(u, v, w);
        }
    }

    int Repeats(BlockWords words)
    {
        var letter = words.Has('L') ? 'L' : 'K';
        if (!words.Has(letter) || WholeOf(words, letter) is not { } repeats)
            return 1;
        if (repeats <= RepeatsMost)
            return repeats;
        CannotFollow("too many repeats", words[letter].Column, "at most 9999");
        return RepeatsMost;
    }

    void ReadHole(BlockWords words, int w)
    {
        var at = BeginHole(w);
        if (words.Has('Q'))
            hole.Peck = Math.Abs(LengthOf(words['Q'], 'Q'));
        if (words.Has('P'))
            (hole.Dwell, hole.HasDwell) = (DwellOf(words['P']), true);
        if (words.Has('I') || words.Has('J'))
            (hole.ShiftU, hole.ShiftV) = (axisWords.I, axisWords.J);
        ReadLevels(at, w);
    }

    /// <summary>R and the depth, where the block gives them.</summary>
    void ReadLevels(AxisValue at, int w)
    {
        var givesR = (axisWords.Given & AxisWords.RBit) != 0;
        var givesDepth = axisWords.Has(w);
        if (givesDepth)
            hole.Depth = axisWords.Value(w);
        if (state.Incremental && (givesR || givesDepth))
            ReadIncrementalLevels(at, givesR, w);
        else if (!state.Incremental)
            ReadAbsoluteLevels(givesR, givesDepth);
        hole.HasBottom |= givesDepth;
        if (hole.HasR || !(givesDepth || givesR))
            return;
        CannotFollow("canned cycle without R", 0, "R on the first hole");
        hole.R = Programmed(at, w);
        (hole.HasR, hole.RLifted) = (true, state.Lifted);
    }

    /// <summary>The level that G98 returns to is where the axis stood before the cycle, or where something else has put it since.</summary>
    AxisValue BeginHole(int w)
    {
        var at = Level(w);
        if (!hole.Running || at != hole.Left)
            (hole.Initial, hole.InitialLifted) = (at, state.Lifted);
        hole.Running = true;
        hole.Left = at;
        return at;
    }

    /// <summary>Another hole of a cycle that is known, in its plane.</summary>
    bool IsPlainHole(uint moves) =>
        state.IsCycle && hole.HasBottom && state.Plane == Plane.XY && (moves & ~(uint)(Axes.X | Axes.Y)) == 0;

    void DrillPlainHole(in AxisWords words)
    {
        axisWords = words;
        if (TryPattern(words))
            return;
        BeginHole(PlaceAxis.Z);
        effort++;
        MakeHole(PlaceAxis.X, PlaceAxis.Y, PlaceAxis.Z);
    }

    void ReadAbsoluteLevels(bool givesR, bool givesDepth)
    {
        if (givesR)
            (hole.R, hole.RLifted, hole.HasR) = (new(axisWords.R, 0), true, true);
        if (givesDepth)
            (hole.Bottom, hole.BottomLifted) = (new(hole.Depth, 0), true);
    }

    /// <summary>Under G91 R counts from the level before the cycle and the depth from R; later holes keep both levels.</summary>
    void ReadIncrementalLevels(AxisValue at, bool givesR, int w)
    {
        if (givesR)
        {
            var level = Programmed(at, w);
            hole.R = level with { Value = Math.Clamp(level.Value + axisWords.R, -Far, Far) };
            (hole.RLifted, hole.HasR) = (state.Lifted, true);
        }
        hole.Bottom = hole.R with { Value = Math.Clamp(hole.R.Value + hole.Depth, -Far, Far) };
        hole.BottomLifted = hole.RLifted;
    }

    AxisValue Programmed(AxisValue machine, int axis) =>
        new(machine.Value - Base(axis), rests.Difference(machine.Rest, BaseRest(axis)));

    AxisValue Machine(AxisValue programmed, int axis) =>
        new(programmed.Value + Base(axis), rests.Sum(programmed.Rest, BaseRest(axis)));

    void MakeHole(int u, int v, int w)
    {
        var r = Machine(hole.R, w);
        var bottom = Machine(hole.Bottom, w);
        var back = state.Motion == Motion.Cycle87;
        var level = Level(w);
        if (!back && level.Rest == r.Rest && level.Value < r.Value)
        {
            GoTo(w, r, LegKind.Rapid, CyclePart.ToR, hole.RLifted);
            if (hole.Initial.Rest == r.Rest && hole.Initial.Value < r.Value)
                (hole.Initial, hole.InitialLifted) = (r, hole.RLifted);
        }
        GoAcross(u, v);
        if (back)
        {
            BoreBack(u, v, w, r, bottom);
        }
        else
        {
            if (bottom.Rest == r.Rest && bottom.Value > r.Value)
                CannotFollow("R below the bottom", 0, "R above the depth of the hole");
            Drill(u, v, w, r, bottom);
        }
        hole.Left = Level(w);
    }

    AxisValue Level(int w) => new(PlaceAxis.Get(state.At, w), PlaceAxis.Rest(state.At, w));

    void GoAcross(int u, int v)
    {
        var across = axisWords;
        across.Given &= (1u << u) | (1u << v);
        var axes = across.Axes;
        if (axes == Axes.None)
            return;
        if (!across.Has(PlaceAxis.X))
            across.X = 0;
        if (!across.Has(PlaceAxis.Y))
            across.Y = 0;
        if (!across.Has(PlaceAxis.Z))
            across.Z = 0;
        Place to;
        var lifted = Lifts(axes);
        if (!isTurned)
            Target(across, out to);
        else if (!TargetTurned(ref across, out to))
            return;
        Go(LegKind.Rapid, CyclePart.Across, across.Axes, to, lifted);
    }

    /// <summary>Along the hole; nothing where the axis stands there already.</summary>
    void GoTo(int w, AxisValue level, LegKind kind, CyclePart part, bool lifted)
    {
        if (Level(w) == level)
            return;
        var to = state.At;
        PlaceAxis.Set(ref to, w, level.Value, level.Rest);
        var tapping = state.Motion is Motion.Cycle84 or Motion.Cycle74 && kind == LegKind.Feed;
        Go(kind, part, PlaceAxis.Flag(w), to, w == PlaceAxis.Z ? lifted : state.Lifted, tapping);
    }

    void GoDown(int w, AxisValue r, AxisValue bottom)
    {
        var pecks = PecksOf(r, bottom);
        var depth = r;
        for (var i = 1; i <= pecks && effort <= options.BlocksMost; i++)
        {
            effort++;
            var next = i == pecks ? bottom : depth with { Value = r.Value - i * hole.Peck };
            GoTo(w, next, LegKind.Feed, CyclePart.Down, hole.BottomLifted);
            if (i < pecks && state.Motion == Motion.Cycle83)
            {
                GoTo(w, r, LegKind.Rapid, CyclePart.Peck, hole.RLifted);
                GoTo(w, Above(next, settings.Reads.PeckClearance, r), LegKind.Rapid, CyclePart.Peck, hole.BottomLifted);
            }
            else if (i < pecks)
            {
                GoTo(w, Above(next, settings.Reads.PeckRetract, r), LegKind.Rapid, CyclePart.Peck, hole.BottomLifted);
            }
            depth = next;
        }
        if (hole.HasDwell && state.Motion is not (Motion.Cycle81 or Motion.Cycle83 or Motion.Cycle73 or Motion.Cycle85))
            Dwell(hole.Dwell);
    }

    static AxisValue Above(AxisValue depth, long by, AxisValue r) =>
        depth with
        {
            Value = Math.Min(depth.Value + by, r.Value),
        };

    int PecksOf(AxisValue r, AxisValue bottom)
    {
        if (state.Motion is not (Motion.Cycle83 or Motion.Cycle73) || r.Rest != bottom.Rest || bottom.Value >= r.Value)
            return 1;
        if (hole.Peck == 0)
        {
            CannotFollow("pecks without Q", 0, "Q with the depth of one peck");
            return 1;
        }
        var pecks = (r.Value - bottom.Value + hole.Peck - 1) / hole.Peck;
        if (pecks <= PecksMost)
            return (int)pecks;
        CannotFollow("too many pecks", 0, "at most 10000 in a hole");
        return 1;
    }

    void GoOut(int u, int v, int w, AxisValue r)
    {
        var toInitial = GoesToInitial(r);
        if (state.Motion is Motion.Cycle84 or Motion.Cycle74 or Motion.Cycle85 or Motion.Cycle89)
        {
            GoTo(w, r, LegKind.Feed, CyclePart.Out, hole.RLifted);
            if (toInitial)
                GoTo(w, hole.Initial, LegKind.Rapid, CyclePart.ToInitial, hole.InitialLifted);
            return;
        }
        var shifts = state.Motion == Motion.Cycle76;
        if (shifts)
            GoAside(u, v, 1);
        if (toInitial)
            GoTo(w, hole.Initial, LegKind.Rapid, CyclePart.Out, hole.InitialLifted);
        else
            GoTo(w, r, LegKind.Rapid, CyclePart.Out, hole.RLifted);
        if (shifts)
            GoAside(u, v, -1);
    }

    /// <summary>Boring from below: down beside the bore to R, up at feed to the depth, and out beside the bore.</summary>
    void BoreBack(int u, int v, int w, AxisValue r, AxisValue bottom)
    {
        GoAside(u, v, 1);
        GoTo(w, r, LegKind.Rapid, CyclePart.ToR, hole.RLifted);
        GoAside(u, v, -1);
        GoTo(w, bottom, LegKind.Feed, CyclePart.Down, hole.BottomLifted);
        if (hole.HasDwell)
            Dwell(hole.Dwell);
        GoAside(u, v, 1);
        GoTo(w, hole.Initial, LegKind.Rapid, CyclePart.Out, hole.InitialLifted);
        GoAside(u, v, -1);
    }

    /// <summary>The tip steps off the wall by I and J. A shift by Q alone goes where the control's own setting says: no leg.</summary>
    void GoAside(int u, int v, int sign)
    {
        if (hole.ShiftU == 0 && hole.ShiftV == 0)
            return;
        var to = state.At;
        PlaceAxis.Set(ref to, u, PlaceAxis.Get(to, u) + sign * hole.ShiftU, PlaceAxis.Rest(to, u));
        PlaceAxis.Set(ref to, v, PlaceAxis.Get(to, v) + sign * hole.ShiftV, PlaceAxis.Rest(to, v));
        Go(LegKind.Rapid, CyclePart.Shift, PlaceAxis.Flag(u) | PlaceAxis.Flag(v), to, state.Lifted);
    }
}
