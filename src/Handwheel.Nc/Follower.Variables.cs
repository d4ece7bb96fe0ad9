namespace Handwheel.Nc;

// Parameters that the control keeps up itself, by the numbers in common use (work offsets of G54 to G59, the reference positions and
// the shifts of G92 also NISTIR 6556, table 2). Where controls part over what a number means, it is not known.
partial class Follower<TSink>
{
    const int FirstSystem = 1000;
    const int UnknownRegister = 900_000_000;

    Changes pendingChanges;

    void TakeAssignments()
    {
        foreach (var (name, value, column) in reader.Assignments)
        {
            parameters.Used = true;
            if (name is { Name: null, Number: 0 })
                CannotFollow("#0 cannot be written", column);
            else if (name is { Name: null, Number: >= FirstSystem and var number })
            {
                WriteSystem(number, value);
                reader.Words.RestsOnRaise |= value.DependsOnRaise;
            }
            if ((name.Number != 0 || name.Name != null) && !parameters.Set(name, value))
                CannotFollow("too many parameters", column, "at most 100000 names");
        }
        if (reader.Words.RestsOnRaise)
            pendingChanges |= Changes.RestsOnRaise;
    }

    void WriteSystem(int number, ParameterValue value)
    {
        if (number == 3000)
        {
            CannotFollow("the program's own alarm (#3000)", 0);
            End(RunEnd.Limit);
            return;
        }
        if (number == 3006)
        {
            pendingChanges |= Changes.Stop;
            return;
        }
        var written = value.IsUnknown
            ? new(0, rests.On(UnknownRegister + number))
            : new AxisValue((long)Math.Clamp(Math.Round(value.Number * unit), -Far, Far), 0);
        if (WorkRegisterOf(number) is { } register)
        {
            registers.Work(register.Name)[register.Axis] = written;
            UseOffsets();
            var kind = register.Name == WorkOffsetName.Common ? RegisterKind.CommonOffset : RegisterKind.WorkOffset;
            var axes = PlaceAxis.Flag(register.Axis);
            TellRegister(new(kind, register.Name, register.Name.Number, axes, false));
            return;
        }
        TellRegister(WriteToolRegister(number, written));
    }

    /// <summary>#2001 to #2800 and #10001 to #13999 by what they can be on every control; what cannot be told is not known from here on.</summary>
    RegisterWrite WriteToolRegister(int number, AxisValue value)
    {
        var (kind, tool) = number switch
        {
            // D registers on some controls, work offsets on others
            (>= 2500 and <= 2506) or (>= 2600 and <= 2606) or (>= 2700 and <= 2706) => (RegisterKind.Other, number),
            > 2000 and <= 2400 => (RegisterKind.Length, (number - 1) % 200 + 1),
            > 2400 and <= 2800 => (RegisterKind.Diameter, (number - 1) % 200 + 1),
            > 10_000 and < 12_000 => (RegisterKind.Length, number % 1000),
            > 12_000 and < 14_000 => (RegisterKind.Diameter, number % 1000),
            _ => (RegisterKind.Other, number),
        };
        var geometry = number is > 2200 and <= 2400 or > 2600 and <= 2800 or > 11_000 and < 12_000 or > 13_000;
        if (kind == RegisterKind.Length && geometry && value.Rest == 0)
            registers.WriteLength(tool, wear: false, value.Value, incremental: false);
        else if (kind == RegisterKind.Length)
            registers.ForgetLength(tool);
        else if (kind == RegisterKind.Diameter && geometry && value.Rest == 0)
            registers.WriteDiameter(tool, wear: false, value.Value, incremental: false);
        else if (kind == RegisterKind.Diameter)
            registers.ForgetDiameter(tool);
        return new(kind, default, tool, Axes.None, false);
    }

    /// <summary>#5201 common offset, #5221 and up G54 to G59, #7001 or #14001 and up G54.1 P1 and up; each 20 apart.</summary>
    static (WorkOffsetName Name, int Axis)? WorkRegisterOf(int number)
    {
        var (name, offset) = number switch
        {
            >= 5201 and < 5211 => (WorkOffsetName.Common, number - 5201),
            >= 5221 and < 5341 => (new((number - 5221) / 20 + 1), (number - 5221) % 20),
            >= 7001 and < 7961 => (WorkOffsetName.Extended((number - 7001) / 20 + 1), (number - 7001) % 20),
            >= 14_001 and < 19_981 => (WorkOffsetName.Extended((number - 14_001) / 20 + 1), (number - 14_001) % 20),
            _ => (default(WorkOffsetName), -1),
        };
        return offset is >= 0 and < 3 ? (name, offset) : null;
    }

    ParameterValue? SystemValue(int number)
    {
        if (number is < FirstSystem or > 20_000)
            return null;
        if (WorkRegisterOf(number) is { } register)
            return Known(
                registers.Work(register.Name)[register.Axis],
                register.Axis == PlaceAxis.Z && register.Name != WorkOffsetName.Common ? 1 : 0
            );
        // Z in machine coordinates is lifted where a work offset put it; read as programmed it is the same then, and lower where nothing lifted it.
        var lifted = state.Lifted ? 1 : 0;
        return number switch
        {
            >= 4001 and <= 4130 => ModalValue(number - 4000) is { } modal ? ParameterValue.Of(modal) : null,
            >= 5001 and <= 5003 or >= 5041 and <= 5043 when isTurned => null,
            5001 or 5002 => Known(Programmed(At(number - 5001), number - 5001)),
            5003 => Known(Programmed(At(2), 2), lifted - 1),
            // where the tool's centre ends is not settled before the next move
            5021 or 5022 or 5041 or 5042 when beside != Compensating.Off => null,
            5021 or 5022 => Known(At(number - 5021)),
            5023 => Known(At(2), lifted),
            >= 5041 and <= 5042 => Known(Programmed(At(number - 5041), number - 5041)),
            5043 when state.LengthZ == 0 => Known(Programmed(At(2), 2), lifted - 1),
            >= 5161 and <= 5163 => Known(registers.Reference(1, number - 5161)),
            >= 5181 and <= 5183 => Known(registers.Reference(2, number - 5181)),
            >= 5211 and <= 5213 => Known(coordinateShift[number - 5211]),
            5220 when !state.WorkOffset.IsExtended => ParameterValue.Of(state.WorkOffset.Number),
            > 2200 and <= 2400 => Known(registers.LengthGeometry(number - 2200)),
            > 11_000 and < 12_000 => Known(registers.LengthGeometry(number - 11_000)),
            (> 2606 and <= 2700) or (> 2706 and <= 2800) => Known(registers.DiameterGeometry(number - 2600)),
            > 13_000 and < 14_000 => Known(registers.DiameterGeometry(number - 13_000)),
            _ => null,
        };
    }

    AxisValue At(int axis) => new(PlaceAxis.Get(state.At, axis), PlaceAxis.Rest(state.At, axis));

    /// <summary>In the program's unit; null where it rests on something that is not given.</summary>
    /// <param name="raise">How it grows with the raise, as in <see cref="ParameterValue"/>.</param>
    ParameterValue? Known(AxisValue? value, double raise = 0) =>
        value is { Rest: 0 } known ? new((double)known.Value / unit, ValueKind.Known, raise) : null;

    /// <summary>What the blocks before this one have left in force, by group.</summary>
    double? ModalValue(int group) =>
        group switch
        {
            1 when basicMotion != Motion.None => basicMotion - Motion.Rapid,
            2 => 17 + (int)state.Plane,
            3 => state.Incremental ? 91 : 90,
            5 => state.FeedMode switch
            {
                FeedMode.PerMinute => 94,
                FeedMode.PerRevolution => 95,
                _ => 93,
            },
            6 => state.Units == Units.Inch ? 20 : 21,
            7 => 40 + (int)state.Compensation,
            8 => state.LengthMode switch
            {
                LengthMode.Off => 49,
                LengthMode.Added => 43,
                _ => 44,
            },
            9 => CycleCode(),
            10 => state.ReturnToR ? 99 : 98,
            12 => state.WorkOffset.IsExtended ? 54.1 : 53 + state.WorkOffset.Number,
            107 => state.D,
            109 when state.FeedGiven => state.Feed / (state.FeedMode == FeedMode.InverseTime ? 1 : unit),
            111 => state.H,
            119 => state.SpindleSpeed,
            120 when toolGiven => state.NextTool,
            130 => state.WorkOffset.IsExtended ? state.WorkOffset.Number - 100 : 0,
            _ => null,
        };

    int CycleCode() =>
        state.Motion switch
        {
            Motion.Cycle73 => 73,
            Motion.Cycle74 => 74,
            Motion.Cycle76 => 76,
            >= Motion.Cycle81 => 81 + (state.Motion - Motion.Cycle81),
            _ => 80,
        };
}
