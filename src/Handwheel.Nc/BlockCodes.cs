using System.Globalization;

namespace Handwheel.Nc;

/// <summary>Groups of codes of which a block may have one (NISTIR 6556, table 4, with the codes in common use since).</summary>
enum CodeGroup
{
    Motion,
    Plane,
    Distance,
    FeedMode,
    Units,
    Compensation,
    Length,
    Return,
    WorkOffset,
    Path,
    ArcCentres,
    Rotation,
    Scaling,
    Polar,

    /// <summary>G50.1 and G51.1.</summary>
    Mirror,

    /// <summary>Codes that act in their own block and use its axis words.</summary>
    OneShot,

    /// <summary>G53.</summary>
    MachineCoordinates,

    /// <summary>G9.</summary>
    ExactStopOnce,

    /// <summary>G97: the speed is rev/min, as it always is here.</summary>
    SpindleMode,
    Stop,
    ToolChange,
    Spindle,
    Orient,
    Coolant,
    Call,

    /// <summary>G65 to G67.</summary>
    Macro,
    Overrides,
    None,
}

/// <summary>The codes of one block, one for each group.</summary>
sealed class BlockCodes
{
    const int Absent = -1;

    readonly int[] codes = new int[(int)CodeGroup.None];
    readonly HashSet<int> harmlessG = [];
    readonly HashSet<int> harmlessM = [];
    readonly Dictionary<(char, int), string> names = [];

    public BlockCodes(IEnumerable<string> harmless)
    {
        foreach (var name in harmless)
        {
            if (
                !decimal.TryParse(
                    name.AsSpan(1),
                    NumberStyles.AllowDecimalPoint,
                    CultureInfo.InvariantCulture,
                    out var value
                )
            )
                continue;
            (char.ToUpperInvariant(name[0]) == 'G' ? harmlessG : harmlessM).Add((int)(value * 10));
        }
    }

    /// <summary>G80 beside G0 to G3: a customary safe start.</summary>
    public bool CancelsCycle { get; private set; }

    public bool Mist { get; private set; }
    public bool Flood { get; private set; }

    /// <summary>A code that is harmless, or cannot be followed: the words beside it are its own.</summary>
    public bool HasForeign { get; private set; }

    /// <summary>The code of this group in tenths, or null.</summary>
    public int? this[CodeGroup group] => codes[(int)group] is var code && code == Absent ? null : code;

    public bool Has(CodeGroup group) => codes[(int)group] != Absent;

    public bool Is(CodeGroup group, int tenths) => codes[(int)group] == tenths;

    /// <summary>Sorts the block's codes into their groups; adds a fault for each that is too much or not known.</summary>
    public void Sort(BlockWords words, List<Fault> faults)
    {
        Array.Fill(codes, Absent);
        CancelsCycle = Mist = Flood = HasForeign = false;
        foreach (var code in words.G)
            Add('G', code, GroupOfG(code.Tenths), harmlessG, faults);
        foreach (var code in words.M)
            Add('M', code, GroupOfM(code.Tenths), harmlessM, faults);
    }

    public string Name(char letter, int tenths)
    {
        if (!names.TryGetValue((letter, tenths), out var name))
        {
            var number = (tenths / 10m).ToString("0.#", CultureInfo.InvariantCulture);
            names[(letter, tenths)] = name = letter + number;
        }
        return name;
    }

    void Add(char letter, Code code, CodeGroup group, HashSet<int> harmless, List<Fault> faults)
    {
        if (group == CodeGroup.None)
        {
            HasForeign = true;
            if (!harmless.Contains(code.Tenths))
                faults.Add(new(FaultKind.CannotFollow, Name(letter, code.Tenths), code.Column));
            return;
        }
        ref var place = ref codes[(int)group];
        var former = place;
        place = code.Tenths;
        if (group == CodeGroup.Coolant && AddCoolant(code.Tenths))
            return;
        if (former == Absent)
            return;
        if (group == CodeGroup.Motion && Math.Min(former, place) <= 30 && Math.Max(former, place) == 800)
        {
            CancelsCycle = true;
            place = Math.Min(former, place);
            return;
        }
        var cause = string.Concat(Name(letter, former), " and ", Name(letter, code.Tenths));
        faults.Add(new(FaultKind.SameGroupTwice, cause, code.Column, "one code of this group in a block"));
    }

    /// <summary>True for mist and flood together, which may both be on.</summary>
    bool AddCoolant(int tenths)
    {
        Mist |= tenths == 70;
        Flood |= tenths == 80;
        return Mist && Flood && tenths != 90;
    }

    static CodeGroup GroupOfG(int tenths) =>
        tenths switch
        {
            0 or 10 or 20 or 30 or 730 or 740 or 760 => CodeGroup.Motion,
            >= 800 and <= 890 when tenths % 10 == 0 => CodeGroup.Motion,
            40 or 100 or 280 or 300 or 520 or 920 or 921 or 922 or 923 => CodeGroup.OneShot,
            90 => CodeGroup.ExactStopOnce,
            150 or 160 => CodeGroup.Polar,
            170 or 180 or 190 => CodeGroup.Plane,
            200 or 210 => CodeGroup.Units,
            400 or 410 or 420 => CodeGroup.Compensation,
            430 or 440 or 490 => CodeGroup.Length,
            500 or 510 => CodeGroup.Scaling,
            501 or 511 => CodeGroup.Mirror,
            530 => CodeGroup.MachineCoordinates,
            541 => CodeGroup.WorkOffset,
            >= 540 and <= 590 when tenths % 10 == 0 => CodeGroup.WorkOffset,
            610 or 611 or 640 => CodeGroup.Path,
            650 or 660 or 670 => CodeGroup.Macro,
            680 or 690 => CodeGroup.Rotation,
            900 or 910 => CodeGroup.Distance,
            901 or 911 => CodeGroup.ArcCentres,
            930 or 940 or 950 => CodeGroup.FeedMode,
            970 => CodeGroup.SpindleMode,
            980 or 990 => CodeGroup.Return,
            _ => CodeGroup.None,
        };

    static CodeGroup GroupOfM(int tenths) =>
        tenths switch
        {
            0 or 10 or 20 or 300 => CodeGroup.Stop,
            30 or 40 or 50 or 130 or 140 => CodeGroup.Spindle,
            60 => CodeGroup.ToolChange,
            70 or 80 or 90 => CodeGroup.Coolant,
            190 => CodeGroup.Orient,
            480 or 490 => CodeGroup.Overrides,
            970 or 980 or 990 or 1980 => CodeGroup.Call,
            _ => CodeGroup.None,
        };
}
