namespace Handwheel.Nc;

/// <summary>A value of a register, nm, and what it rests on when it is not given.</summary>
record struct AxisValue(long Value, int Rest);

/// <summary>The control's registers while a program runs: as the settings give them, and as the program has written them since.</summary>
sealed class Registers
{
    const int ReferenceRegister = 1;
    const int ToolChangeRegister = 9;
    const int WorkRegister = 1000;
    const int LengthRegister = 100_000;

    readonly ControlSettings settings;
    readonly Rests rests;
    readonly Dictionary<WorkOffsetName, AxisValue[]> work = [];
    readonly Dictionary<int, AxisValue> lengths = [];
    readonly Dictionary<int, long> lengthWears;
    readonly Dictionary<int, long> diameters;
    readonly Dictionary<int, long> diameterWears;

    public Registers(ControlSettings settings, Rests rests)
    {
        this.settings = settings;
        this.rests = rests;
        work[WorkOffsetName.Common] = Values(settings.CommonOffset, WorkRegister);
        foreach (var (name, value) in settings.WorkOffsets)
            work[name] = Values(value, WorkRegister + name.Number);
        foreach (var (number, value) in settings.LengthOffsets)
            lengths[number] = new(value, 0);
        lengthWears = new(settings.LengthWears);
        diameters = new(settings.DiameterOffsets);
        diameterWears = new(settings.DiameterWears);
    }

    /// <summary>X, Y and Z of a work offset or of the common offset. The array is the register itself.</summary>
    public AxisValue[] Work(WorkOffsetName name)
    {
        if (!work.TryGetValue(name, out var values))
            work[name] = values = Values(default, WorkRegister + name.Number);
        return values;
    }

    public AxisValue Length(int h) =>
        h == 0 ? default
        : lengths.TryGetValue(h, out var value) ? value
        : new(0, rests.On(LengthRegister + h));

    /// <summary>The diameter register with its wear, nm; null where the setup gives none.</summary>
    public long? Diameter(int d) =>
        d == 0 ? 0
        : diameters.TryGetValue(d, out var value) ? value
        : null;

    /// <summary>The register without its wear.</summary>
    public AxisValue LengthGeometry(int h) => Less(Length(h), lengthWears.GetValueOrDefault(h));

    static AxisValue Less(AxisValue whole, long wear) => whole with { Value = whole.Value - wear };

    public AxisValue? DiameterGeometry(int d) =>
        Diameter(d) is { } whole ? new(whole - diameterWears.GetValueOrDefault(d), 0) : null;

    /// <summary>Nobody can tell any more what is in it.</summary>
    public void ForgetLength(int h) => lengths[h] = new(0, rests.On(LengthRegister + h));

    public void ForgetDiameter(int d) => diameters.Remove(d);

    /// <summary>G10 L10 (the register itself) or L11 (its wear): a length register.</summary>
    public void WriteLength(int h, bool wear, long value, bool incremental)
    {
        var old = Length(h);
        var oldWear = lengthWears.GetValueOrDefault(h);
        if (incremental)
            lengths[h] = old with { Value = old.Value + value };
        else if (wear)
            lengths[h] = old with { Value = old.Value - oldWear + value };
        else
            lengths[h] = new(value + oldWear, 0);
        if (wear)
            lengthWears[h] = incremental ? oldWear + value : value;
    }

    /// <summary>G10 L12 or L13: a diameter register or its wear.</summary>
    public void WriteDiameter(int d, bool wear, long value, bool incremental)
    {
        var old = Diameter(d) ?? 0;
        var oldWear = diameterWears.GetValueOrDefault(d);
        diameters[d] =
            incremental ? old + value
            : wear ? old - oldWear + value
            : value + oldWear;
        if (wear)
            diameterWears[d] = incremental ? oldWear + value : value;
    }

    /// <summary>Where a reference return ends: 1 for G28, 2 for G30.</summary>
    public AxisValue Reference(int which, int axis)
    {
        var place = which == 1 ? settings.Reference : settings.SecondReference;
        return Value(Axis(place, axis), ReferenceRegister + which);
    }

    public AxisValue ToolChangeZ => Value(settings.ToolChangeZ, ToolChangeRegister);

    AxisValue[] Values(OffsetValue value, int register) =>
        [Value(value.X, register), Value(value.Y, register), Value(value.Z, register)];

    AxisValue Value(long? value, int register) => value is { } given ? new(given, 0) : new(0, rests.On(register));

    static long? Axis(OffsetValue value, int axis) =>
        axis switch
        {
            0 => value.X,
            1 => value.Y,
            _ => value.Z,
        };
}
