namespace Handwheel.Nc;

// Polar words, rotation, scaling and mirror: where programmed coordinates are not those that the axes go to (common practice).
partial class Follower<TSink>
{
    readonly Turning turning = new();
    bool polar;

    /// <summary>What a block commands is to be worked out; the plain way does not.</summary>
    bool isTurned;

    /// <summary>G68, G51 and mirror use the axis words of their block.</summary>
    bool TurningUsesAxisWords =>
        codes.Is(CodeGroup.Rotation, 680) || codes.Is(CodeGroup.Scaling, 510) || codes.Has(CodeGroup.Mirror);

    void SetTurning(BlockWords words)
    {
        if (codes[CodeGroup.Polar] is { } code)
            polar = code == 160;
        var changed = false;
        if (codes.Is(CodeGroup.Rotation, 680))
            changed |= BeginRotation(words);
        else if (codes.Has(CodeGroup.Rotation))
            changed |= turning.InForce;
        if (codes.Is(CodeGroup.Rotation, 690))
            turning.StopRotating();
        if (codes[CodeGroup.Scaling] is { } scaling)
        {
            changed |= scaling == 510 || turning.InForce;
            if (scaling == 510)
                BeginScaling(words);
            else
                turning.StopScaling();
        }
        if (codes[CodeGroup.Mirror] is { } mirror)
            changed |= SetMirror(mirror == 511);
        isTurned = polar || turning.InForce;
        if (changed)
            TellShiftSet(ShiftKind.Turned, TurnedAxes(), false);
    }

    Axes TurnedAxes()
    {
        var axes = Axes.None;
        for (var axis = 0; axis < 3; axis++)
            axes |= turning.Touches(axis) ? PlaceAxis.Flag(axis) : Axes.None;
        return axes;
    }

    bool BeginRotation(BlockWords words)
    {
        var (u, v, _) = PlaceAxis.Of(state.Plane);
        if (!words.Has('R') || words.HasAny("IJK"))
        {
            words.Use("RIJK");
            CannotFollow("G68 without R alone", 0, "R with the angle in the plane");
            return false;
        }
        var degrees = words['R'].Value;
        if (Centre(u) is not { } centreU || Centre(v) is not { } centreV)
            return false;
        turning.Rotate(u, v, centreU, centreV, state.Incremental ? turning.Angle + degrees : degrees);
        return true;
    }

    void BeginScaling(BlockWords words)
    {
        for (var axis = 0; axis < 3; axis++)
        {
            var letter = words.Has('P') ? 'P' : (char)('I' + axis);
            if (!words.Has(letter))
                continue;
            ref readonly var number = ref words[letter];
            // Without a point in thousandths.
            var factor = number.HasPoint || number.Computed ? number.Value : number.Value / 1000;
            if (factor == 0 || Math.Abs(factor) > 1000)
                CannotFollow("a scale of 0 or above 1000", number.Column);
            else if (Centre(axis) is { } centre)
                turning.Scale(axis, factor, centre);
        }
    }

    bool SetMirror(bool on)
    {
        var before = TurnedAxes();
        for (var axis = 0; axis < 3; axis++)
        {
            if (on && axisWords.Has(axis))
                turning.Mirror(axis, axisWords.Value(axis));
            else if (!on && (axisWords.Has(axis) || axisWords.Axes == Axes.None))
                turning.StopMirror(axis);
        }
        return on || before != TurnedAxes();
    }

    /// <summary>The word of the axis, else where it stands; null with its fault said where that is not known.</summary>
    double? Centre(int axis)
    {
        if (axisWords.Has(axis))
            return axisWords.Value(axis);
        if (PlaceAxis.Rest(state.At, axis) == BaseRest(axis))
            return PlaceAxis.Get(state.At, axis) - Base(axis);
        CannotFollow("a centre at a place that is not known", 0, "X, Y and Z of the centre");
        return null;
    }

    /// <summary>Works out where a block leads and what its words are in the axes' own coordinates.</summary>
    bool TargetTurned(ref AxisWords words, out Place to)
    {
        to = state.At;
        Span<double> place = stackalloc double[3];
        Span<bool> known = stackalloc bool[3];
        for (var axis = 0; axis < 3; axis++)
        {
            known[axis] = PlaceAxis.Rest(to, axis) == BaseRest(axis);
            place[axis] = PlaceAxis.Get(to, axis) - Base(axis);
        }
        turning.Undo(place);
        if (polar && !ReadPolar(ref words, place, known))
            return Lost();
        for (var axis = 0; axis < 3; axis++)
        {
            if (!words.Has(axis))
                continue;
            place[axis] = words.Value(axis) + (state.Incremental ? place[axis] : 0);
            known[axis] |= !state.Incremental;
            if (state.Incremental && !turning.Touches(axis))
                PlaceAxis.Set(ref to, axis, PlaceAxis.Get(to, axis) + words.Value(axis), PlaceAxis.Rest(to, axis));
        }
        var rotates = false;
        for (var axis = 0; axis < 3; axis++)
            rotates |= words.Has(axis) && turning.Rotates(axis);
        turning.Apply(place);
        for (var axis = 0; axis < 3; axis++)
        {
            var moves = words.Has(axis) || (rotates && turning.Rotates(axis));
            if (!moves || (state.Incremental && !turning.Touches(axis)))
                continue;
            if (!known[axis])
                return Lost();
            words.Given |= 1u << axis;
            PlaceAxis.Set(ref to, axis, Base(axis) + ToLength(place[axis]), BaseRest(axis));
        }
        TurnCentre(ref words);
        return true;
    }

    bool Lost()
    {
        CannotFollow("a turned move from a place that is not known", 0, "X and Y in one block before it");
        return false;
    }

    static long ToLength(double length) => (long)Math.Clamp(Math.Round(length), -Far, Far);

    /// <summary>Radius and angle become the two axes of the plane.</summary>
    bool ReadPolar(ref AxisWords words, Span<double> place, Span<bool> known)
    {
        var (u, v, _) = PlaceAxis.Of(state.Plane);
        if (!words.Has(u) && !words.Has(v))
            return true;
        var both = words.Has(u) && words.Has(v);
        if ((!both || state.Incremental) && !(known[u] && known[v]))
            return false;
        var angle = words.Has(v) ? reader.Words[(char)('X' + v)].Value * Math.PI / 180 : 0;
        if (!words.Has(v) || state.Incremental)
            angle += Math.Atan2(place[v], place[u]);
        var radius = words.Has(u) ? words.Value(u) : Math.Sqrt(place[u] * place[u] + place[v] * place[v]);
        var (sin, cos) = Math.SinCos(angle);
        // Under G91 a radius counts from where the axes stand, an angle alone turns about the zero.
        var (fromU, fromV) = state.Incremental && !words.Has(u) ? (place[u], place[v]) : (0d, 0d);
        SetWord(ref words, u, radius * cos - fromU);
        SetWord(ref words, v, radius * sin - fromV);
        return true;
    }

    static void SetWord(ref AxisWords words, int axis, double length)
    {
        words.Given |= 1u << axis;
        var value = ToLength(length);
        if (axis == PlaceAxis.X)
            words.X = value;
        else if (axis == PlaceAxis.Y)
            words.Y = value;
        else
            words.Z = value;
    }

    /// <summary>I J K and R of an arc.</summary>
    void TurnCentre(ref AxisWords words)
    {
        var (u, v, _) = PlaceAxis.Of(state.Plane);
        if ((words.Given & (AxisWords.IJK | AxisWords.RBit)) == 0 || state.IsCycle)
            return;
        if (Math.Abs(turning.Factor(u)) != Math.Abs(turning.Factor(v)))
            CannotFollow("an arc under unequal scales", 0, "the same scale along both axes of the plane");
        words.R = ToLength(words.R * Math.Abs(turning.Factor(u)));
        if ((words.Given & AxisWords.IJK) == 0)
            return;
        if (arcCentresAbsolute)
            CannotFollow("a turned arc with absolute centres", 0, "incremental centres, or R");
        Span<double> way = [words.I, words.J, words.K];
        turning.ApplyToWay(way);
        (words.I, words.J, words.K) = (ToLength(way[0]), ToLength(way[1]), ToLength(way[2]));
        words.Given |= (AxisWords.IBit << u) | (AxisWords.IBit << v);
    }

    bool IsMirrored(int u, int v) => isTurned && turning.Factor(u) * turning.Factor(v) < 0;

    void GoStraightTurned()
    {
        var words = axisWords;
        if (words.Axes == Axes.None || !TargetTurned(ref words, out var to))
            return;
        var lifted = Lifts(axisWords.Axes);
        Go(state.Motion == Motion.Rapid ? LegKind.Rapid : LegKind.Feed, CyclePart.None, words.Axes, to, lifted);
    }

    /// <summary>What cannot be told while coordinates are turned.</summary>
    void RefuseUnderTurning(int? once)
    {
        if (beside != Compensating.Off && once == 920 && (axisWords.Axes & InPlane) != Axes.None)
            RefuseMove(CompensationCause.Shift, 0, 0);
        if (!turning.InForce)
            return;
        if (once is 520 or 920)
            CannotFollow("a shift under rotation, scaling or mirror", 0, "the shift before it");
        if (once is not (280 or 300))
            return;
        for (var axis = 0; axis < 3; axis++)
            if (axisWords.Has(axis) && turning.Touches(axis) && !(state.Incremental && axisWords.Value(axis) == 0))
                CannotFollow("a reference return through a turned place", 0, "G91 with 0, or the return after it");
    }
}
