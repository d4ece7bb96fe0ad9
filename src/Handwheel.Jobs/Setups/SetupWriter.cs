using System.Text.Encodings.Web;
using System.Text.Json;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>Writes a setup: fields in the order of the format, what is not given left out.</summary>
sealed class SetupWriter(Utf8JsonWriter json, Units units)
{
    public static byte[] Write(Setup setup)
    {
        using var stream = new MemoryStream();
        var options = new JsonWriterOptions
        {
            Indented = true,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            NewLine = "\n",
        };
        using (var json = new Utf8JsonWriter(stream, options))
            new SetupWriter(json, setup.Units).Whole(setup);
        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }

    void Whole(Setup setup)
    {
        json.WriteStartObject();
        json.WriteString("format", SetupFile.Format);
        json.WriteString("units", units == Units.Inch ? "inch" : "mm");
        MachineOf(setup.Machine);
        json.WriteStartObject("workOffsets");
        foreach (var (register, value) in setup.WorkOffsets.OrderBy(w => w.Key))
            WorkOffset(register, value, setup.Zeros.GetValueOrDefault(register));
        json.WriteEndObject();
        CommonOffset(setup.CommonOffset);
        Array("tools", setup.Tools, ToolOf, evenIfEmpty: true);
        if (setup.Stock is [var blank])
        {
            json.WritePropertyName("stock");
            Blank(blank);
        }
        else
            Array("stock", setup.Stock, Blank);
        Array("holding", setup.Holding, HoldingOf);
        AirCut(setup.AirCut);
        json.WriteStartObject("rules");
        json.WriteBoolean("lengthOffsetMatchesTool", setup.Rules.LengthOffsetMatchesTool);
        Length("approachClearance", setup.Rules.ApproachClearance);
        Length("materialGrid", setup.Rules.MaterialGrid);
        if (setup.Rules.Wet)
            json.WriteBoolean("wet", true);
        json.WriteEndObject();
        json.WriteStartObject("job");
        Text("part", setup.Job.Part);
        Text("operation", setup.Job.Operation);
        Text("revision", setup.Job.Revision);
        Text("notes", setup.Job.Notes);
        json.WriteEndObject();
        Array("characteristics", setup.Characteristics, CharacteristicOf);
        Array("parking", setup.Parking, json.WriteStringValue);
        json.WriteEndObject();
    }

    void MachineOf(Machine machine)
    {
        json.WriteStartObject("machine");
        Text("name", machine.Name);
        json.WriteStartObject("travel");
        Range("x", machine.Travel.X);
        Range("y", machine.Travel.Y);
        Range("z", machine.Travel.Z);
        json.WriteEndObject();
        if (machine.Reference is { } reference)
            Place("reference", reference);
        if (machine.SecondReference is { } second)
            Place("secondReference", second);
        Length("toolChangeZ", machine.ToolChangeZ);
        Array("harmless", machine.Harmless, json.WriteStringValue);
        Array("suppressesHolds", machine.SuppressesHolds, json.WriteStringValue);
        Rates("rapid", machine.Rapid);
        Rates("acceleration", machine.Acceleration);
        Length("cornerTolerance", machine.CornerTolerance);
        if (machine.RapidPath != RapidPath.NotKnown)
            json.WriteString("rapidPath", machine.RapidPath == RapidPath.Straight ? "straight" : "dogleg");
        Number("maxFeed", machine.MaxFeed);
        Number("maxSpindle", machine.MaxSpindle);
        Number("toolChangeSeconds", machine.ToolChangeSeconds);
        Length("leastIncrement", machine.LeastIncrement);
        Array(
            "airCutRates",
            machine.AirCutRates,
            rate =>
            {
                json.WriteStartObject();
                Number("cut", rate.Cut);
                Number("rapid", rate.Rapid);
                json.WriteEndObject();
            }
        );
        ReadsOf(machine.Reads);
        json.WriteEndObject();
    }

    void ReadsOf(Reads reads)
    {
        json.WriteStartObject("reads");
        json.WriteString("arcCentres", reads.ArcCentresAbsolute ? "absolute" : "incremental");
        if (reads.ArcTolerance is { } tolerance)
            Length("arcTolerance", Nc.Length.FromNanometres(tolerance));
        json.WriteString("wholeNumbers", reads.WholeNumbersAreIncrements ? "increments" : "units");
        json.WriteString("dwellP", reads.DwellPIsSeconds ? "seconds" : "milliseconds");
        json.WriteString("subprogramCall", reads.SubprogramCall);
        Length("peckRetract", Nc.Length.FromNanometres(reads.PeckRetract));
        Length("peckClearance", Nc.Length.FromNanometres(reads.PeckClearance));
        json.WriteString("lengthOffsetOnToolChange", reads.LengthOffsetCancelledByToolChange ? "cancel" : "keep");
        json.WriteString("lengthOffsetMoves", reads.LengthOffsetMovesAtOnce ? "atOnce" : "withZ");
        json.WriteBoolean("referenceReturnCancelsLength", reads.ReferenceReturnCancelsLength);
        json.WriteBoolean("toolChangeRetracts", reads.ToolChangeRetracts);
        json.WriteString("diameterRegister", reads.DiameterRegisterIsRadius ? "radius" : "diameter");
        json.WriteString(
            "compensationEntry",
            reads.CompensationEntry switch
            {
                CompensationEntry.Around => "around",
                CompensationEntry.Tangent => "tangent",
                _ => "square",
            }
        );
        json.WriteString(
            "compensationCorners",
            reads.CompensationCorners == CompensationCorners.Lines ? "lines" : "arc"
        );
        json.WriteString("compensationInside", reads.CompensationInsideCorners ? "meet" : "refuse");
        json.WriteString(
            "compensationExit",
            reads.CompensationExit == CompensationExit.FromCentre ? "centre" : "programmed"
        );
        json.WriteString("fix", reads.FixIsTowardZero ? "towardZero" : "down");
        json.WriteString("logic", reads.LogicIsBitwise ? "bits" : "truth");
        json.WriteEndObject();
    }

    void WorkOffset(WorkOffsetName register, Offset value, ZeroNote? zero)
    {
        json.WriteStartObject(register.ToString());
        Length("x", value.X);
        Length("y", value.Y);
        Length("z", value.Z);
        Text("zero", zero?.At ?? "");
        Text("foundBy", zero?.FoundBy ?? "");
        json.WriteEndObject();
    }

    /// <summary>All three axes, since a missing one would be read as 0.</summary>
    void CommonOffset(Offset offset)
    {
        json.WriteStartObject("commonOffset");
        foreach (var (name, value) in new[] { ("x", offset.X), ("y", offset.Y), ("z", offset.Z) })
            if (value is null)
                json.WriteNull(name);
            else
                Length(name, value);
        json.WriteEndObject();
    }

    void ToolOf(Tool tool)
    {
        json.WriteStartObject();
        json.WriteNumber("tool", tool.Number);
        Number("pocket", tool.Pocket);
        Text("kind", tool.Kind);
        Text("description", tool.Description);
        Text("material", tool.Material);
        Length("diameter", tool.Diameter);
        Length("cornerRadius", tool.CornerRadius);
        json.WriteString("hand", tool.Hand == Hand.Left ? "left" : "right");
        Number("flutes", tool.Flutes);
        Length("fluteLength", tool.FluteLength);
        Length("stickout", tool.Stickout);
        Length("stickoutLeast", tool.StickoutLeast);
        Length("stickoutMost", tool.StickoutMost);
        Length("pitch", tool.Pitch);
        if (tool.Floating)
            json.WriteBoolean("floating", true);
        Number("lengthOffset", tool.LengthOffset);
        Length("length", tool.Length);
        Length("lengthWear", tool.LengthWear);
        Number("diameterOffset", tool.DiameterOffset);
        Length("diameterValue", tool.DiameterValue);
        Length("diameterWear", tool.DiameterWear);
        Array("alsoLengthOffsets", tool.AlsoLengthOffsets, json.WriteNumberValue);
        Array("alsoDiameterOffsets", tool.AlsoDiameterOffsets, json.WriteNumberValue);
        Array(
            "holder",
            tool.Holder,
            part =>
            {
                json.WriteStartObject();
                Length("diameter", part.Diameter);
                Length("length", part.Length);
                json.WriteEndObject();
            }
        );
        json.WriteEndObject();
    }

    void Blank(Stock stock)
    {
        json.WriteStartObject();
        json.WriteString("workOffset", stock.WorkOffset.ToString());
        Text("material", stock.Material);
        Text("parallels", stock.Parallels);
        PointOf("min", stock.Min);
        PointOf("max", stock.Max);
        json.WriteEndObject();
    }

    void HoldingOf(Holding holding)
    {
        json.WriteStartObject();
        json.WriteString("name", holding.Name);
        json.WriteString("shape", holding is BoxHolding ? "box" : "cylinder");
        json.WriteString("workOffset", holding.WorkOffset.ToString());
        if (holding is BoxHolding box)
        {
            PointOf("min", box.Min);
            PointOf("max", box.Max);
        }
        else if (holding is CylinderHolding cylinder)
        {
            Place("centre", new(cylinder.CentreX, cylinder.CentreY, null));
            Length("diameter", cylinder.Diameter);
            Length("bottom", cylinder.Bottom);
            Length("top", cylinder.Top);
        }
        Text("torque", holding.Torque);
        json.WriteEndObject();
    }

    void AirCut(AirCutRules rules)
    {
        json.WriteStartObject("airCut");
        Length("clearance", rules.Clearance);
        Length("raiseStep", rules.RaiseStep);
        Number("rapidOverride", rules.RapidOverride);
        Length("maximumRaise", rules.MaximumRaise);
        json.WriteEndObject();
    }

    void CharacteristicOf(Characteristic characteristic)
    {
        json.WriteStartObject();
        json.WriteString("name", characteristic.Name);
        Length("nominal", characteristic.Nominal);
        Length("plus", characteristic.Plus);
        Length("minus", characteristic.Minus);
        Text("instrument", characteristic.Instrument);
        json.WriteString("kind", SetupWords.CharacteristicKinds[(int)characteristic.Kind]);
        if (characteristic.Side is { } side)
            json.WriteString("side", side == Side.Inside ? "inside" : "outside");
        Number("tool", characteristic.Tool);
        Text("workOffset", characteristic.WorkOffset);
        Text("axis", characteristic.Axis);
        json.WriteEndObject();
    }

    void PointOf(string name, Point point) => Place(name, new(point.X, point.Y, point.Z));

    void Place(string name, Offset offset)
    {
        json.WriteStartObject(name);
        Length("x", offset.X);
        Length("y", offset.Y);
        Length("z", offset.Z);
        json.WriteEndObject();
    }

    void Range(string name, Range range)
    {
        json.WriteStartArray(name);
        json.WriteNumberValue(Shortest(range.Low.In(units)));
        json.WriteNumberValue(Shortest(range.High.In(units)));
        json.WriteEndArray();
    }

    void Rates(string name, AxisRates? rates)
    {
        if (rates is not { } given)
            return;
        json.WriteStartObject(name);
        Number("x", given.X);
        Number("y", given.Y);
        Number("z", given.Z);
        json.WriteEndObject();
    }

    void Length(string name, Length? value)
    {
        if (value is { } length)
            json.WriteNumber(name, Shortest(length.In(units)));
    }

    void Number(string name, decimal? value)
    {
        if (value is { } number)
            json.WriteNumber(name, Shortest(number));
    }

    void Text(string name, string value)
    {
        if (value.Length > 0)
            json.WriteString(name, value);
    }

    void Array<T>(string name, IReadOnlyList<T> items, Action<T> write, bool evenIfEmpty = false)
    {
        if (items.Count == 0 && !evenIfEmpty)
            return;
        json.WriteStartArray(name);
        foreach (var item in items)
            write(item);
        json.WriteEndArray();
    }

    /// <summary>Without trailing zeros: dividing by one with 28 decimals drops them.</summary>
    static decimal Shortest(decimal value) => value / 1.0000000000000000000000000000m;
}
