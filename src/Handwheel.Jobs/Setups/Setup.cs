using System.Globalization;
using System.Text;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>
/// The setup of one job as <c>handwheel-setup/1</c> describes it. Null means "not given": a check that needs the value
/// says so and is not made. Lengths are exact; feeds are in the setup's units per minute, accelerations in units/s².
/// </summary>
public sealed record Setup
{
    public required Units Units { get; init; }
    public required Machine Machine { get; init; }
    public required IReadOnlyDictionary<WorkOffsetName, Offset> WorkOffsets { get; init; }

    /// <summary>Where zero is on the part and how it was found, by register; only registers of which something is said.</summary>
    public IReadOnlyDictionary<WorkOffsetName, ZeroNote> Zeros { get; init; } =
        new Dictionary<WorkOffsetName, ZeroNote>();
    public Offset CommonOffset { get; init; } = new(Length.Zero, Length.Zero, Length.Zero);
    public required IReadOnlyList<Tool> Tools { get; init; }
    public IReadOnlyList<Stock> Stock { get; init; } = [];
    public IReadOnlyList<Holding> Holding { get; init; } = [];
    public AirCutRules AirCut { get; init; } = new();
    public ShopRules Rules { get; init; } = new();
    public JobNote Job { get; init; } = new();
    public IReadOnlyList<Characteristic> Characteristics { get; init; } = [];
    public IReadOnlyList<string> Parking { get; init; } = [];

    /// <summary>The register's least increment: as given, else 0.0001 in or 0.001 mm.</summary>
    public Length LeastIncrement =>
        Machine.LeastIncrement ?? Length.From(Units == Units.Inch ? 0.0001m : 0.001m, Units);
}

/// <summary>A register's three values; null: not given.</summary>
public readonly record struct Offset(Length? X, Length? Y, Length? Z);

/// <param name="At">Where zero is on the part: <c>left front corner, finished top</c>. Empty: not said.</param>
/// <param name="FoundBy">How it was found: <c>edge finder on the fixed jaw</c>. Empty: not said.</param>
public sealed record ZeroNote(string At, string FoundBy);

/// <summary>Lowest and highest of an axis, machine coordinates.</summary>
public readonly record struct Range(Length Low, Length High);

public sealed record Machine
{
    public string Name { get; init; } = "";
    public required Travel Travel { get; init; }
    public Offset? Reference { get; init; }
    public Offset? SecondReference { get; init; }

    /// <summary>Machine Z after a tool change; null: the upper Z travel.</summary>
    public Length? ToolChangeZ { get; init; }
    public IReadOnlyList<string> Harmless { get; init; } = [];

    /// <summary>Codes that switch off feed hold, single block or overrides on this machine.</summary>
    public IReadOnlyList<string> SuppressesHolds { get; init; } = [];

    /// <summary>Rapid rate of each axis, units/min.</summary>
    public AxisRates? Rapid { get; init; }

    /// <summary>Acceleration of each axis, units/s²; null: instant.</summary>
    public AxisRates? Acceleration { get; init; }
    public Length? CornerTolerance { get; init; }
    public RapidPath RapidPath { get; init; }
    public decimal? MaxFeed { get; init; }
    public decimal? MaxSpindle { get; init; }
    public decimal ToolChangeSeconds { get; init; }
    public Length? LeastIncrement { get; init; }
    public IReadOnlyList<AirCutRate> AirCutRates { get; init; } = [];
    public Reads Reads { get; init; } = new();
}

public sealed record Travel(Range X, Range Y, Range Z);

public readonly record struct AxisRates(decimal X, decimal Y, decimal Z);

public enum RapidPath
{
    /// <summary>Nobody said: both ways are checked.</summary>
    NotKnown,
    Straight,

    /// <summary>Each axis at its own rate.</summary>
    Dogleg,
}

/// <summary>One rate for cutting moves, one for rapids, units/min.</summary>
public readonly record struct AirCutRate(decimal Cut, decimal Rapid);

public sealed record Tool
{
    /// <summary>T number, 1 and up.</summary>
    public required int Number { get; init; }
    public int? Pocket { get; init; }
    public string Kind { get; init; } = "";
    public string Description { get; init; } = "";

    /// <summary>What the edge is made of: carbide, HSS. Free text.</summary>
    public string Material { get; init; } = "";
    public Length? Diameter { get; init; }
    public Length? CornerRadius { get; init; }
    public Hand Hand { get; init; }
    public int? Flutes { get; init; }
    public Length? FluteLength { get; init; }
    public Length? Stickout { get; init; }

    /// <summary>How little and how much the tool may stick out; null: not said.</summary>
    public Length? StickoutLeast { get; init; }
    public Length? StickoutMost { get; init; }

    /// <summary>The stick-out that the holder is judged by: the least that is allowed, which brings it lowest.</summary>
    public Length? StickoutJudged => StickoutLeast ?? Stickout;
    public Length? Pitch { get; init; }

    /// <summary>A tap in a holder that gives way along the spindle.</summary>
    public bool Floating { get; init; }

    /// <summary>The H register that is this tool's own.</summary>
    public int? LengthOffset { get; init; }
    public Length? Length { get; init; }
    public Length LengthWear { get; init; }
    public int? DiameterOffset { get; init; }
    public Length? DiameterValue { get; init; }
    public Length DiameterWear { get; init; }

    /// <summary>Further H registers that belong to this tool; their values are not given here.</summary>
    public IReadOnlyList<int> AlsoLengthOffsets { get; init; } = [];
    public IReadOnlyList<int> AlsoDiameterOffsets { get; init; } = [];

    /// <summary>The holder as stacked cylinders from the tool upwards.</summary>
    public IReadOnlyList<HolderPart> Holder { get; init; } = [];
}

public enum Hand
{
    Right,
    Left,
}

public readonly record struct HolderPart(Length Diameter, Length Length);

public readonly record struct Point(Length X, Length Y, Length Z);

/// <summary>A block of material, placed from the zero of a work offset.</summary>
public sealed record Stock(WorkOffsetName WorkOffset, string Material, Point Min, Point Max)
{
    /// <summary>What it is set on: <c>0.75 parallels</c>. Empty: not said.</summary>
    public string Parallels { get; init; } = "";

    /// <summary>Where the block is, not what it is set on: a plan that is kept knows the table again by this text.</summary>
    bool PrintMembers(StringBuilder text)
    {
        text.Append(
            CultureInfo.InvariantCulture,
            $"{nameof(WorkOffset)} = {WorkOffset}, {nameof(Material)} = {Material}, {nameof(Min)} = {Min}, {nameof(Max)} = {Max}"
        );
        return true;
    }
}

/// <summary>Something that stands on the table and must not be hit, placed from the zero of a work offset.</summary>
public abstract record Holding(string Name, WorkOffsetName WorkOffset)
{
    /// <summary>How tight it is, with the unit: <c>60 lbf·ft</c>. Empty: not said.</summary>
    public string Torque { get; init; } = "";

    /// <summary>Where it stands, not how tight it is: a plan that is kept knows the table again by this text.</summary>
    protected virtual bool PrintMembers(StringBuilder text)
    {
        text.Append(CultureInfo.InvariantCulture, $"{nameof(Name)} = {Name}, {nameof(WorkOffset)} = {WorkOffset}");
        return true;
    }
}

public sealed record BoxHolding(string Name, WorkOffsetName WorkOffset, Point Min, Point Max)
    : Holding(Name, WorkOffset);

public sealed record CylinderHolding(
    string Name,
    WorkOffsetName WorkOffset,
    Length CentreX,
    Length CentreY,
    Length Diameter,
    Length Bottom,
    Length Top
) : Holding(Name, WorkOffset);

public sealed record AirCutRules
{
    /// <summary>Null: 1 in or 25 mm.</summary>
    public Length? Clearance { get; init; }

    /// <summary>Null: 1 in or 25 mm.</summary>
    public Length? RaiseStep { get; init; }

    /// <summary>0 to 1.</summary>
    public decimal RapidOverride { get; init; } = 1;
    public Length? MaximumRaise { get; init; }
}

public sealed record ShopRules
{
    public bool LengthOffsetMatchesTool { get; init; } = true;
    public Length? ApproachClearance { get; init; }

    /// <summary>Distance of the grid's points over the stock, above 0; null: 0.5 mm. A tool is judged by what it cuts from 4 times as wide on.</summary>
    public Length? MaterialGrid { get; init; }

    /// <summary>The job is cut wet: cutting without a coolant word is worth a note.</summary>
    public bool Wet { get; init; }
}

public sealed record JobNote
{
    public string Part { get; init; } = "";
    public string Operation { get; init; } = "";
    public string Revision { get; init; } = "";
    public string Notes { get; init; } = "";
}

public enum CharacteristicKind
{
    Other,
    Diameter,
    Width,
    Wall,
    Depth,
    Position,
}

public enum Side
{
    Inside,
    Outside,
}

/// <summary>Something of the first piece that is measured.</summary>
public sealed record Characteristic
{
    public required string Name { get; init; }
    public required Length Nominal { get; init; }
    public required Length Plus { get; init; }

    /// <summary>How far below nominal is allowed, as a positive length.</summary>
    public required Length Minus { get; init; }
    public string Instrument { get; init; } = "";
    public CharacteristicKind Kind { get; init; }
    public Side? Side { get; init; }
    public int? Tool { get; init; }

    /// <summary>The work offset that it depends on, as the format writes it (<c>G55</c>); empty: not given.</summary>
    public string WorkOffset { get; init; } = "";

    /// <summary>For a position: the axis that it is measured along, <c>x</c>, <c>y</c> or <c>z</c>; empty: not given.</summary>
    public string Axis { get; init; } = "";
}
