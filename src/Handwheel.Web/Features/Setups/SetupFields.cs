namespace Handwheel.Web.Features.Setups;

/// <summary>The fields that the forms show, in the order in which a person finds them at the machine.</summary>
public static class SetupFields
{
    static readonly string[] Axes = ["x", "y", "z"];

    public static IReadOnlyList<Field> Travel { get; } =
    [
        .. Axes.SelectMany(a =>
            new Field[]
            {
                new($"travel.{a}.0", $"{a.ToUpperInvariant()} travel, low end"),
                new($"travel.{a}.1", $"{a.ToUpperInvariant()} travel, high end"),
            }
        ),
    ];

    public static IReadOnlyList<Field> Positions { get; } =
    [
        .. Axes.Select(a => new Field($"reference.{a}", $"Reference {a.ToUpperInvariant()}")),
        .. Axes.Select(a => new Field($"secondReference.{a}", $"Second reference {a.ToUpperInvariant()}")),
        new("toolChangeZ", "Z after a tool change", Hint: "Machine coordinates; empty: the top of Z travel"),
    ];

    public static IReadOnlyList<Field> Rates { get; } =
    [
        .. Axes.Select(a => new Field($"rapid.{a}", $"Rapid {a.ToUpperInvariant()}", Hint: "per minute")),
        .. Axes.Select(a => new Field(
            $"acceleration.{a}",
            $"Acceleration {a.ToUpperInvariant()}",
            Hint: "per s²; empty: instant"
        )),
        Choice("rapidPath", "Rapids go", "Empty: not known, both are checked", "straight", "dogleg"),
        new("cornerTolerance", "Corner tolerance"),
        new("maxFeed", "Highest feed", Hint: "per minute"),
        new("maxSpindle", "Highest spindle speed", Hint: "rev/min"),
        new("toolChangeSeconds", "Tool change takes", Hint: "seconds"),
        new("leastIncrement", "Least increment", Hint: "Empty: 0.0001 in or 0.001 mm"),
        new("airCutRates.0.cut", "Air cut, cutting moves at", Hint: "per minute"),
        new("airCutRates.0.rapid", "Air cut, rapids at", Hint: "per minute"),
        new("airCutRates.1.cut", "Or cutting moves at", Hint: "per minute"),
        new("airCutRates.1.rapid", "Or rapids at", Hint: "per minute"),
    ];

    public static IReadOnlyList<Field> Reads { get; } =
    [
        Choice("reads.arcCentres", "Arc centres are", "Empty: incremental", "incremental", "absolute"),
        new("reads.arcTolerance", "Arc tolerance", Hint: "Empty: 0.0005 in or 0.01 mm"),
        Choice("reads.wholeNumbers", "A length without a point counts", "Empty: units", "units", "increments"),
        Choice("reads.dwellP", "P of a dwell counts", "Empty: milliseconds", "seconds", "milliseconds"),
        new("reads.subprogramCall", "Letter that names a subprogram", FieldKind.Text, "Empty: P"),
        new("reads.peckRetract", "G73 backs off by"),
        new("reads.peckClearance", "G83 comes back to, above the last depth"),
        Choice(
            "reads.lengthOffsetOnToolChange",
            "At a tool change the length offset is",
            "Empty: kept",
            "keep",
            "cancel"
        ),
        Choice("reads.lengthOffsetMoves", "G43 moves the axis", "Empty: with the next Z", "withZ", "atOnce"),
        new(
            "reads.referenceReturnCancelsLength",
            "A reference return in Z cancels the length offset",
            FieldKind.YesNo,
            "Empty: no"
        ),
        new(
            "reads.toolChangeRetracts",
            "The machine retracts by itself for a tool change",
            FieldKind.YesNo,
            "Empty: yes"
        ),
        Choice("reads.diameterRegister", "The D register holds", "Empty: the diameter", "diameter", "radius"),
        Choice(
            "reads.compensationEntry",
            "The move with G41 ends",
            "Empty: square to the next move",
            "square",
            "around",
            "tangent"
        ),
        Choice("reads.compensationCorners", "Outside corners under G41 are", "Empty: arcs", "arc", "lines"),
        Choice("reads.compensationInside", "At inside corners under G41 the ways", "Empty: meet", "meet", "refuse"),
        Choice("reads.compensationExit", "After G40 an axis not named", "Empty: goes back", "programmed", "centre"),
        Choice("reads.fix", "FIX of a negative value goes", "Empty: toward zero", "towardZero", "down"),
        Choice("reads.logic", "AND, OR, XOR work on", "Empty: bits", "bits", "truth"),
        new("harmless", "Codes that move nothing here", FieldKind.Lines, "One a line, such as M41"),
    ];

    /// <summary>All of a machine, in one list for reading and writing.</summary>
    public static IReadOnlyList<Field> Machine { get; } = [.. Travel, .. Positions, .. Rates, .. Reads];

    public static IReadOnlyList<Field> WorkOffset { get; } =
    [
        new("name", "Register", FieldKind.Text, "G54 to G59, or G54.1P3"),
        new("x", "X"),
        new("y", "Y"),
        new("z", "Z"),
        new("zero", "Zero is at", FieldKind.Text, "left front corner, finished top"),
        new("foundBy", "Found by", FieldKind.Text, "edge finder on the fixed jaw"),
    ];

    public static IReadOnlyList<Field> CommonOffset { get; } = [new("x", "X"), new("y", "Y"), new("z", "Z")];

    public static IReadOnlyList<Field> Tool { get; } =
    [
        new("tool", "T", FieldKind.Whole),
        new("pocket", "Pocket", FieldKind.Whole),
        new("kind", "Kind", FieldKind.Text),
        new("description", "Description", FieldKind.Text),
        new("material", "Edge made of", FieldKind.Text, "carbide, HSS"),
        new("diameter", "Diameter"),
        new("lengthOffset", "H", FieldKind.Whole),
        new("length", "Length register"),
        new("lengthWear", "Wear"),
        new("stickout", "Stick-out"),
        new("stickoutLeast", "Stick-out, at least", Hint: "The holder is judged by it"),
        new("stickoutMost", "Stick-out, at most"),
        new("fluteLength", "Flute length"),
        new("flutes", "Flutes", FieldKind.Whole),
        new("cornerRadius", "Corner radius"),
        new("pitch", "Pitch"),
        new("floating", "Floating tap holder", FieldKind.YesNo, "Empty: rigid"),
        new("diameterOffset", "D", FieldKind.Whole),
        new("diameterValue", "D register"),
        new("diameterWear", "D wear"),
        new("holder.0.diameter", "Holder diameter"),
        new("holder.0.length", "Holder length"),
    ];

    public static IReadOnlyList<Field> Stock { get; } =
    [
        new("workOffset", "From zero of", FieldKind.Text, "G54"),
        new("material", "Material", FieldKind.Text),
        .. Box(),
        new("parallels", "Set on", FieldKind.Text, "0.75 parallels; words for the setup sheet"),
    ];

    public static IReadOnlyList<Field> BoxHolding { get; } =
    [new("name", "Name", FieldKind.Text), new("workOffset", "From zero of", FieldKind.Text, "G54"), .. Box(), Torque];

    public static IReadOnlyList<Field> RoundHolding { get; } =
    [
        new("name", "Name", FieldKind.Text),
        new("workOffset", "From zero of", FieldKind.Text, "G54"),
        new("centre.x", "Centre X"),
        new("centre.y", "Centre Y"),
        new("diameter", "Diameter"),
        new("bottom", "Bottom Z"),
        new("top", "Top Z"),
        Torque,
    ];

    public static IReadOnlyList<Field> AirCut { get; } =
    [
        new("airCut.clearance", "Clearance over the highest thing", Hint: "Empty: 1 in or 25 mm"),
        new("airCut.raiseStep", "Raise in steps of", Hint: "Empty: 1 in or 25 mm"),
        new("airCut.maximumRaise", "Never raise more than"),
        new("airCut.rapidOverride", "Rapid override", Hint: "0.5 is 50 %"),
        new("rules.approachClearance", "Rapids end at least this far above material"),
        new(
            "rules.materialGrid",
            "Grid over the stock",
            Hint: "Empty: 0.5 mm. Finer sees smaller tools and takes longer"
        ),
        new("rules.wet", "Cut wet", FieldKind.YesNo, "Yes: cutting without M7 or M8 is a note"),
        new("rules.lengthOffsetMatchesTool", "H has the tool's number", FieldKind.YesNo, "Empty: yes"),
    ];

    public static IReadOnlyList<Field> Job { get; } =
    [
        new("job.part", "Part", FieldKind.Text),
        new("job.operation", "Operation", FieldKind.Text),
        new("job.revision", "Revision", FieldKind.Text),
        new("job.notes", "Notes", FieldKind.Text),
    ];

    public static IReadOnlyList<Field> Characteristic { get; } =
    [
        new("name", "What is measured", FieldKind.Text),
        new("nominal", "Nominal"),
        new("plus", "Plus"),
        new("minus", "Minus"),
        new("instrument", "Measured with", FieldKind.Text),
        Choice("kind", "Kind", "", "diameter", "width", "wall", "depth", "position", "other"),
        Choice("side", "Side", "", "inside", "outside"),
        new("tool", "Cut by tool", FieldKind.Whole),
        new("workOffset", "Depends on work offset", FieldKind.Text, "G55, say; for a position"),
        Choice("axis", "Along", "For a position: measured from part zero along this axis", "x", "y", "z"),
    ];

    public static Field Parking { get; } = new("parking", "Parking list", FieldKind.Lines, "One a line, in order");

    static Field Torque => new("torque", "Torque", FieldKind.Text, "With its unit: 60 lbf·ft, 80 N·m");

    static Field Choice(string path, string label, string hint, params string[] choices) =>
        new(path, label, FieldKind.Choice, hint) { Choices = choices };

    static IEnumerable<Field> Box() =>
        Axes.SelectMany(a =>
            new Field[]
            {
                new($"min.{a}", $"{a.ToUpperInvariant()} from"),
                new($"max.{a}", $"{a.ToUpperInvariant()} to"),
            }
        );
}
