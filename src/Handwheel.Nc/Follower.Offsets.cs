namespace Handwheel.Nc;

// Work offsets, shifts, length offsets, the tool change and the registers behind them.
partial class Follower<TSink>
{
    const long Far = 100_000_000_000_000_000;
    const int ExtendedMost = 299;

    readonly AxisValue[] localShift = new AxisValue[3];
    readonly AxisValue[] coordinateShift = new AxisValue[3];
    readonly AxisValue[] keptShift = new AxisValue[3];
    AxisValue lengthInForce;
    bool toolGiven;

    // Machine coordinate of a programmed zero: work, common, shifts, and for Z the length offset.
    long baseX,
        baseY,
        baseZ;

    long Base(int axis) =>
        axis switch
        {
            PlaceAxis.X => baseX,
            PlaceAxis.Y => baseY,
            _ => baseZ,
        };

    int BaseRest(int axis) =>
        axis switch
        {
            PlaceAxis.X => state.RestX,
            PlaceAxis.Y => state.RestY,
            _ => state.RestZ,
        };

    /// <summary>Takes the registers in force into the state.</summary>
    void UseOffsets()
    {
        var work = registers.Work(state.WorkOffset);
        var common = registers.Work(WorkOffsetName.Common);
        (state.WorkX, state.WorkY, state.WorkZ) = (work[0].Value, work[1].Value, work[2].Value);
        (state.CommonX, state.CommonY, state.CommonZ) = (common[0].Value, common[1].Value, common[2].Value);
        state.ShiftX = localShift[0].Value + coordinateShift[0].Value;
        state.ShiftY = localShift[1].Value + coordinateShift[1].Value;
        state.ShiftZ = localShift[2].Value + coordinateShift[2].Value;
        state.LengthZ = lengthInForce.Value;
        baseX = state.WorkX + state.CommonX + state.ShiftX;
        baseY = state.WorkY + state.CommonY + state.ShiftY;
        baseZ = state.WorkZ + state.CommonZ + state.ShiftZ + state.LengthZ;
        state.RestX = RestOf(0, work, common);
        state.RestY = RestOf(1, work, common);
        state.RestZ = rests.Sum(RestOf(2, work, common), lengthInForce.Rest);
    }

    int RestOf(int axis, AxisValue[] work, AxisValue[] common) =>
        rests.Sum(
            rests.Sum(work[axis].Rest, common[axis].Rest),
            rests.Sum(localShift[axis].Rest, coordinateShift[axis].Rest)
        );

    void SetOffsets(BlockWords words, int? once)
    {
        if (codes[CodeGroup.WorkOffset] is { } code)
            SetWorkOffset(code, words, once);
        if (codes.Has(CodeGroup.Length) || words.Has('H'))
            SetLength(words);
    }

    void SetWorkOffset(int code, BlockWords words, int? once)
    {
        var name = new WorkOffsetName(code / 10 - 53);
        // P behind G54 alone means the same as behind G54.1.
        var withP = code == 540 && words.Has('P') && once == null && !state.IsCycle && !codes.Has(CodeGroup.Call);
        if (code == 541 || withP)
        {
            var given = words.Has('P') ? WholeOf(words, 'P') : null;
            if (given is not { } p || p is < 1 or > ExtendedMost)
            {
                CannotFollow(given is { } other ? $"P{other} with G54.1" : "G54.1 without its P", 0, "P1 to P299");
                return;
            }
            name = WorkOffsetName.Extended(p);
        }
        state.Stated |= Stated.WorkOffset;
        if (name == state.WorkOffset && state.WorkOffsetStated)
            return;
        state.WorkOffset = name;
        state.WorkOffsetStated = true;
        changes |= Changes.WorkOffset;
        UseOffsets();
    }

    void SetLength(BlockWords words)
    {
        var before = (state.LengthMode, state.H, state.LengthZ, state.LengthCommanded);
        if (codes[CodeGroup.Length] is { } code)
            state.LengthMode = code switch
            {
                430 => LengthMode.Added,
                440 => LengthMode.Subtracted,
                _ => LengthMode.Off,
            };
        if (words.Has('H') && WholeOf(words, 'H') is { } h)
            state.H = h;
        state.LengthCommanded =
            state.LengthMode != LengthMode.Off
            && (state.LengthCommanded || codes.Has(CodeGroup.Length) || words.Has('H'));
        UseLength();
        if (before == (state.LengthMode, state.H, state.LengthZ, state.LengthCommanded))
            return;
        changes |= Changes.Length;
        var moved = state.LengthZ - before.LengthZ;
        if (settings.Reads.LengthOffsetMovesAtOnce && codes.Has(CodeGroup.Length) && moved != 0)
            MoveAtOnce(moved);
    }

    /// <summary>The value of register H in force, with the sign of G44.</summary>
    void UseLength()
    {
        var register = state.LengthMode == LengthMode.Off ? default : registers.Length(state.H);
        lengthInForce =
            state.LengthMode == LengthMode.Subtracted
                ? new(-register.Value, rests.Difference(0, register.Rest))
                : register;
        UseOffsets();
    }

    /// <summary>The length offset moves the axis when it is read, unless the block commands where Z goes.</summary>
    void MoveAtOnce(long by)
    {
        if (axisWords.Has(PlaceAxis.Z) && !state.Incremental)
            return;
        TellChanges();
        var to = state.At;
        to.Z += by;
        Go(state.Motion == Motion.Feed ? LegKind.Feed : LegKind.Rapid, CyclePart.None, Axes.Z, to, state.Lifted);
    }

    void CancelLength()
    {
        state.LengthMode = LengthMode.Off;
        state.H = 0;
        state.LengthCommanded = false;
        UseLength();
        changes |= Changes.Length;
    }

    void ChangeTool(BlockWords words)
    {
        TellChanges();
        if (!toolGiven)
            CannotFollow("M6 without T", 0, "a T word before the tool change");
        Settle();
        var previous = state.Tool;
        var before = Seen().At;
        state.Tool = state.NextTool;
        state.ToolChanges++;
        state.Spindle = SpindleDirection.Stopped;
        state.LengthCommanded = false;
        if (settings.Reads.LengthOffsetCancelledByToolChange)
            CancelLength();
        var z = registers.ToolChangeZ;
        PlaceAxis.Set(ref state.At, PlaceAxis.Z, z.Value, z.Rest);
        state.Lifted = false;
        Sink.ToolChange(in Seen(), previous, in before);
        TellChanges();
    }

    void SetLocalShift()
    {
        for (var axis = 0; axis < 3; axis++)
            if (axisWords.Has(axis))
                localShift[axis] = new(axisWords.Value(axis), 0);
        TellShift(ShiftKind.G52, axisWords.Axes, fromMachineZ: false);
    }

    /// <summary>G92 makes the place where the axes stand read as programmed; G92.1 to G92.3 clear, suspend and restore it (NISTIR 6556, 3.5.18).</summary>
    void SetCoordinateShift(int code)
    {
        if (code == 920)
        {
            for (var axis = 0; axis < 3; axis++)
                if (axisWords.Has(axis))
                    coordinateShift[axis] = ShiftHere(axis);
            coordinateShift.CopyTo(keptShift, 0);
            TellShift(ShiftKind.G92, axisWords.Axes, axisWords.Has(PlaceAxis.Z) && !state.Lifted);
            return;
        }
        if (code == 921)
            Array.Clear(keptShift);
        if (code == 923)
            keptShift.CopyTo(coordinateShift, 0);
        else
            Array.Clear(coordinateShift);
        TellShift(ShiftKind.G92, Axes.X | Axes.Y | Axes.Z, fromMachineZ: false);
    }

    AxisValue ShiftHere(int axis)
    {
        var former = coordinateShift[axis];
        var zero = Base(axis) - former.Value;
        var zeroRest = rests.Difference(BaseRest(axis), former.Rest);
        var value = PlaceAxis.Get(state.At, axis) - axisWords.Value(axis) - zero;
        return new(value, rests.Difference(PlaceAxis.Rest(state.At, axis), zeroRest));
    }

    void TellShift(ShiftKind kind, Axes axes, bool fromMachineZ)
    {
        UseOffsets();
        TellShiftSet(kind, axes, fromMachineZ);
    }

    /// <summary>G10: L2 and L20 write work offsets, L10 to L13 length and diameter registers. G91 adds.</summary>
    void WriteRegister(BlockWords words)
    {
        var l = words.Has('L') ? WholeOf(words, 'L') : null;
        var p = words.Has('P') ? WholeOf(words, 'P') : null;
        if (l is not (2 or 20 or 10 or 11 or 12 or 13))
        {
            words.Use("PQRXYZIJKABC");
            CannotFollow(
                l is { } other ? codes.Name('L', other * 10) + " with G10" : "G10 without L",
                0,
                "L2, L20 or L10 to L13"
            );
        }
        else if (p is not { } number || (l == 2 && number > 6) || (l == 20 && number is < 1 or > ExtendedMost))
        {
            words.Use("RXYZ");
            CannotFollow(
                p is { } other ? $"L{l} P{other} with G10" : "G10 without its P",
                0,
                "P that names a register"
            );
        }
        else if (l is 2 or 20)
        {
            WriteWorkOffset(l == 20 ? WorkOffsetName.Extended(number) : new(number));
        }
        else
        {
            WriteToolRegister(l.Value, number, words);
        }
    }

    void WriteWorkOffset(WorkOffsetName name)
    {
        var register = registers.Work(name);
        for (var axis = 0; axis < 3; axis++)
        {
            if (!axisWords.Has(axis))
                continue;
            var value = axisWords.Value(axis);
            register[axis] = state.Incremental
                ? register[axis] with
                {
                    Value = Math.Clamp(register[axis].Value + value, -Far, Far),
                }
                : new(value, 0);
        }
        UseOffsets();
        var kind = name == WorkOffsetName.Common ? RegisterKind.CommonOffset : RegisterKind.WorkOffset;
        var written = new OffsetValue(Written(0), Written(1), Written(2));
        TellRegister(new(kind, name, name.Number, axisWords.Axes, state.Incremental, written));

        long? Written(int axis) => axisWords.Has(axis) ? axisWords.Value(axis) : null;
    }

    /// <summary>The new value counts from the next H or D word on.</summary>
    void WriteToolRegister(int l, int number, BlockWords words)
    {
        if (!words.Has('R'))
        {
            CannotFollow("G10 without R", 0, "R with the value of the register");
            return;
        }
        var value = LengthOf(words['R'], 'R');
        if (l is 10 or 11)
            registers.WriteLength(number, l == 11, value, state.Incremental);
        else
            registers.WriteDiameter(number, l == 13, value, state.Incremental);
        var kind = l is 10 or 11 ? RegisterKind.Length : RegisterKind.Diameter;
        TellRegister(new(kind, default, number, Axes.None, state.Incremental, Value: value, Wear: l is 11 or 13));
    }
}
