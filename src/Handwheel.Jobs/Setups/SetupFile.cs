using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>
/// The setup file <c>handwheel-setup/1</c>: strict when read, exact when written. What is read is what was typed: a slip is refused,
/// never passed over.
/// </summary>
public static class SetupFile
{
    public const string Format = "handwheel-setup/1";

    /// <exception cref="InputFault">The text is not a setup; the message names file, line, path, what was found and what was expected.</exception>
    public static Setup Read(byte[] json, string fileName)
    {
        var fields = new JsonFields(JsonText.Read(json, fileName), fileName);
        fields.OneOfRequired("format", Format);
        var units = fields.OneOfRequired("units", "inch", "mm") == 0 ? Units.Inch : Units.Millimetre;
        var read = new SetupReader(units);
        var workOffsets = read.WorkOffsets(fields.RequiredObject("workOffsets"));
        var setup = new Setup
        {
            Units = units,
            Machine = new MachineReader(units).Machine(fields.RequiredObject("machine")),
            WorkOffsets = workOffsets,
            Zeros = read.Zeros,
            CommonOffset = read.CommonOffset(fields.OptionalObject("commonOffset")),
            Tools = read.Tools(fields),
            Stock = read.Stock(fields),
            Holding = [.. fields.List("holding").Select(h => read.Holding(fields.ObjectOf(h)))],
            AirCut = read.AirCut(fields.OptionalObject("airCut")),
            Rules = read.Rules(fields.OptionalObject("rules")),
            Job = read.Job(fields.OptionalObject("job")),
            Characteristics =
            [
                .. fields
                    .List("characteristics")
                    .Select(c => read.Characteristic(fields.ObjectOf(c), workOffsets.Keys)),
            ],
            Parking = [.. fields.List("parking").Select(p => fields.TextOf(p))],
        };
        fields.End();
        return setup;
    }

    /// <summary>The canonical text: fields in the order of the format, lengths as the shortest exact decimal, what is not given left out.</summary>
    public static byte[] Write(Setup setup) => SetupWriter.Write(setup);
}

/// <summary>Everything of a setup except its machine.</summary>
sealed class SetupReader(Units units)
{
    readonly SortedDictionary<WorkOffsetName, ZeroNote> zeros = [];

    /// <summary>What the work offsets that were read say of their zero.</summary>
    public IReadOnlyDictionary<WorkOffsetName, ZeroNote> Zeros => zeros;

    public IReadOnlyDictionary<WorkOffsetName, Offset> WorkOffsets(JsonFields fields)
    {
        var offsets = new SortedDictionary<WorkOffsetName, Offset>();
        foreach (var (name, member) in fields.Members)
        {
            if (!fields.Has(name) || !WorkOffsetName.TryParse(name, out var register))
                throw new InputFault(
                    fields.FileName,
                    member.Line,
                    member.Value.Path,
                    $"the register name \"{name}\"",
                    "G54 to G59, or G54.1P1 to G54.1P299"
                );
            offsets.Add(register, OffsetOf(register, fields.ObjectOf(member.Value)));
        }
        return offsets;
    }

    Offset OffsetOf(WorkOffsetName register, JsonFields fields)
    {
        var offset = new Offset(fields.Length("x", units), fields.Length("y", units), fields.Length("z", units));
        var note = new ZeroNote(fields.Text("zero"), fields.Text("foundBy"));
        if (note != new ZeroNote("", ""))
            zeros.Add(register, note);
        fields.End();
        return offset;
    }

    /// <summary>An axis left out is 0; an axis that is null is not known.</summary>
    public Offset CommonOffset(JsonFields? fields)
    {
        if (fields is null)
            return new(Length.Zero, Length.Zero, Length.Zero);
        var offset = new Offset(Axis("x"), Axis("y"), Axis("z"));
        fields.End();
        return offset;

        Length? Axis(string name) => fields.Has(name) ? fields.Length(name, units) : Length.Zero;
    }

    public IReadOnlyList<Tool> Tools(JsonFields fields)
    {
        var tools = new List<Tool>();
        foreach (var item in fields.RequiredList("tools"))
        {
            var tool = Tool(fields.ObjectOf(item));
            if (tools.Exists(t => t.Number == tool.Number))
                throw new InputFault(
                    fields.FileName,
                    item.Line,
                    item.Path + ".tool",
                    string.Create(CultureInfo.InvariantCulture, $"tool {tool.Number} a second time"),
                    "each tool number once"
                );
            tools.Add(tool);
        }
        return tools;
    }

    Tool Tool(JsonFields fields)
    {
        var tool = new Tool
        {
            Number = fields.WholeOf(fields.Required("tool"), 1, 99_999_999),
            Pocket = fields.Whole("pocket", 0, 99_999),
            Kind = fields.Text("kind"),
            Description = fields.Text("description"),
            Material = fields.Text("material"),
            Diameter = fields.Length("diameter", units, NumberRange.AboveZero),
            CornerRadius = fields.Length("cornerRadius", units, NumberRange.ZeroOrMore),
            Hand = (Hand)(fields.OneOf("hand", "right", "left") ?? 0),
            Flutes = fields.Whole("flutes", 1, 999),
            FluteLength = fields.Length("fluteLength", units, NumberRange.AboveZero),
            Stickout = fields.Length("stickout", units, NumberRange.AboveZero),
            StickoutLeast = fields.Length("stickoutLeast", units, NumberRange.AboveZero),
            StickoutMost = fields.Length("stickoutMost", units, NumberRange.AboveZero),
            Pitch = fields.Length("pitch", units, NumberRange.AboveZero),
            Floating = fields.YesNo("floating") ?? false,
            LengthOffset = fields.Whole("lengthOffset", 1, 9_999),
            Length = fields.Length("length", units),
            LengthWear = fields.Length("lengthWear", units) ?? Length.Zero,
            DiameterOffset = fields.Whole("diameterOffset", 1, 9_999),
            DiameterValue = fields.Length("diameterValue", units),
            DiameterWear = fields.Length("diameterWear", units) ?? Length.Zero,
            AlsoLengthOffsets = [.. fields.List("alsoLengthOffsets").Select(r => fields.WholeOf(r, 1, 9_999))],
            AlsoDiameterOffsets = [.. fields.List("alsoDiameterOffsets").Select(r => fields.WholeOf(r, 1, 9_999))],
            Holder = [.. fields.List("holder").Select(p => HolderPart(fields.ObjectOf(p)))],
        };
        NotAbove(fields, "stickoutLeast", tool.StickoutLeast, "stickout", tool.Stickout);
        NotAbove(fields, "stickoutLeast", tool.StickoutLeast, "stickoutMost", tool.StickoutMost);
        NotAbove(fields, "stickout", tool.Stickout, "stickoutMost", tool.StickoutMost);
        fields.End();
        return tool;
    }

    static void NotAbove(JsonFields fields, string low, Length? least, string high, Length? most)
    {
        if (least is { } l && most is { } m && l > m)
            throw fields.Fault(fields.Required(high), $"at least {low}, {fields.Required(low).Found}");
    }

    HolderPart HolderPart(JsonFields fields)
    {
        var part = new HolderPart(
            fields.RequiredLength("diameter", units, NumberRange.AboveZero),
            fields.RequiredLength("length", units, NumberRange.AboveZero)
        );
        fields.End();
        return part;
    }

    public IReadOnlyList<Stock> Stock(JsonFields fields)
    {
        if (fields.Optional("stock") is not { } value)
            return [];
        var blanks = value.Shape == JsonShape.List ? value.Items : [value];
        return [.. blanks.Select(b => Blank(fields.ObjectOf(b)))];
    }

    Stock Blank(JsonFields fields)
    {
        var workOffset = Register(fields);
        var material = fields.Text("material");
        var parallels = fields.Text("parallels");
        var (min, max) = Box(fields);
        fields.End();
        return new(workOffset, material, min, max) { Parallels = parallels };
    }

    public Holding Holding(JsonFields fields)
    {
        var name = fields.RequiredText("name");
        var box = fields.OneOfRequired("shape", "box", "cylinder") == 0;
        var workOffset = Register(fields);
        Holding holding;
        if (box)
        {
            var (min, max) = Box(fields);
            holding = new BoxHolding(name, workOffset, min, max);
        }
        else
            holding = Cylinder(fields, name, workOffset);
        holding = holding with { Torque = Torque(fields) };
        fields.End();
        return holding;
    }

    static string Torque(JsonFields fields)
    {
        var torque = fields.Text("torque");
        return torque.Length == 0 || torque.Any(char.IsAsciiLetter)
            ? torque
            : throw fields.Fault(fields.Required("torque"), "a torque with its unit, such as 60 lbf·ft or 80 N·m");
    }

    CylinderHolding Cylinder(JsonFields fields, string name, WorkOffsetName workOffset)
    {
        var centre = fields.RequiredObject("centre");
        var (x, y) = (centre.RequiredLength("x", units), centre.RequiredLength("y", units));
        centre.End();
        var diameter = fields.RequiredLength("diameter", units, NumberRange.AboveZero);
        var bottom = fields.RequiredLength("bottom", units);
        var top = fields.RequiredLength("top", units);
        if (bottom >= top)
            throw fields.Fault(fields.Required("top"), $"a top above the bottom, {fields.Required("bottom").Found}");
        return new(name, workOffset, x, y, diameter, bottom, top);
    }

    static WorkOffsetName Register(JsonFields fields)
    {
        var value = fields.Required("workOffset");
        return WorkOffsetName.TryParse(fields.TextOf(value), out var register)
            ? register
            : throw fields.Fault(value, "a register name: G54 to G59, or G54.1P1 to G54.1P299");
    }

    (Point Min, Point Max) Box(JsonFields fields)
    {
        var (low, high) = (fields.RequiredObject("min"), fields.RequiredObject("max"));
        var (min, max) = (PointOf(low), PointOf(high));
        NeedAbove("x", min.X, max.X);
        NeedAbove("y", min.Y, max.Y);
        NeedAbove("z", min.Z, max.Z);
        return (min, max);

        void NeedAbove(string axis, Length least, Length most)
        {
            if (least >= most)
                throw high.Fault(high.Required(axis), $"a value above min.{axis}, {low.Required(axis).Found}");
        }
    }

    Point PointOf(JsonFields fields)
    {
        var point = new Point(
            fields.RequiredLength("x", units),
            fields.RequiredLength("y", units),
            fields.RequiredLength("z", units)
        );
        fields.End();
        return point;
    }

    public AirCutRules AirCut(JsonFields? fields)
    {
        if (fields is null)
            return new();
        var rules = new AirCutRules
        {
            Clearance = fields.Length("clearance", units, NumberRange.ZeroOrMore),
            RaiseStep = fields.Length("raiseStep", units, NumberRange.AboveZero),
            RapidOverride = fields.Number("rapidOverride", NumberRange.Share) ?? 1,
            MaximumRaise = fields.Length("maximumRaise", units, NumberRange.ZeroOrMore),
        };
        fields.End();
        return rules;
    }

    public ShopRules Rules(JsonFields? fields)
    {
        if (fields is null)
            return new();
        var rules = new ShopRules
        {
            LengthOffsetMatchesTool = fields.YesNo("lengthOffsetMatchesTool") ?? true,
            ApproachClearance = fields.Length("approachClearance", units, NumberRange.ZeroOrMore),
            MaterialGrid = fields.Length("materialGrid", units, NumberRange.AboveZero),
            Wet = fields.YesNo("wet") ?? false,
        };
        fields.End();
        return rules;
    }

    public JobNote Job(JsonFields? fields)
    {
        if (fields is null)
            return new();
        var job = new JobNote
        {
            Part = fields.Text("part"),
            Operation = fields.Text("operation"),
            Revision = fields.Text("revision"),
            Notes = fields.Text("notes", severalLines: true),
        };
        fields.End();
        return job;
    }

    public Characteristic Characteristic(JsonFields fields, IEnumerable<WorkOffsetName> workOffsets)
    {
        string[] registers = [.. workOffsets.Select(w => w.ToString())];
        var characteristic = new Characteristic
        {
            Name = fields.RequiredText("name"),
            Nominal = fields.RequiredLength("nominal", units),
            Plus = fields.RequiredLength("plus", units, NumberRange.ZeroOrMore),
            Minus = fields.RequiredLength("minus", units, NumberRange.ZeroOrMore),
            Instrument = fields.Text("instrument"),
            Kind = (CharacteristicKind)(fields.OneOf("kind", SetupWords.CharacteristicKinds) ?? 0),
            Side = (Side?)fields.OneOf("side", "inside", "outside"),
            Tool = fields.Whole("tool", 1, 99_999_999),
            WorkOffset = fields.OneOf("workOffset", registers) is { } register ? registers[register] : "",
            Axis = fields.OneOf("axis", SetupWords.Axes) is { } axis ? SetupWords.Axes[axis] : "",
        };
        fields.End();
        return characteristic;
    }
}
