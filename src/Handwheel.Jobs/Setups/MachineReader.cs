using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>The machine of a setup, and how its control reads what programs leave open.</summary>
sealed class MachineReader(Units units)
{
    public Machine Machine(JsonFields fields)
    {
        var machine = new Machine
        {
            Name = fields.Text("name"),
            Travel = TravelOf(fields.RequiredObject("travel")),
            Reference = Place(fields.OptionalObject("reference")),
            SecondReference = Place(fields.OptionalObject("secondReference")),
            ToolChangeZ = fields.Length("toolChangeZ", units),
            Harmless = [.. fields.List("harmless").Select(c => Code(fields, c)).Distinct(StringComparer.Ordinal)],
            SuppressesHolds =
            [
                .. fields.List("suppressesHolds").Select(c => Code(fields, c)).Distinct(StringComparer.Ordinal),
            ],
            Rapid = Rates(fields.OptionalObject("rapid")),
            Acceleration = Rates(fields.OptionalObject("acceleration")),
            CornerTolerance = fields.Length("cornerTolerance", units, NumberRange.ZeroOrMore),
            RapidPath = fields.OneOf("rapidPath", "straight", "dogleg") switch
            {
                0 => RapidPath.Straight,
                1 => RapidPath.Dogleg,
                _ => RapidPath.NotKnown,
            },
            MaxFeed = fields.Number("maxFeed", NumberRange.Rate),
            MaxSpindle = fields.Number("maxSpindle", NumberRange.Rate),
            ToolChangeSeconds = fields.Number("toolChangeSeconds", NumberRange.ZeroOrMore) ?? 0,
            LeastIncrement = fields.Length("leastIncrement", units, NumberRange.AboveZero),
            AirCutRates = [.. fields.List("airCutRates").Select(r => AirCutRateOf(fields.ObjectOf(r)))],
            Reads = ReadsOf(fields.OptionalObject("reads")),
        };
        fields.End();
        return machine;
    }

    Travel TravelOf(JsonFields fields)
    {
        var travel = new Travel(RangeOf(fields, "x"), RangeOf(fields, "y"), RangeOf(fields, "z"));
        fields.End();
        return travel;
    }

    Range RangeOf(JsonFields fields, string axis)
    {
        var value = fields.Required(axis);
        if (value.Shape != JsonShape.List || value.Items.Count != 2)
            throw fields.Fault(value, "two numbers, the lowest and the highest: [low, high]");
        var (low, high) = (fields.LengthOf(value.Items[0], units), fields.LengthOf(value.Items[1], units));
        if (low >= high)
            throw new InputFault(
                fields.FileName,
                value.Line,
                value.Path,
                $"[{value.Items[0].Found}, {value.Items[1].Found}]",
                "the lower end first: [low, high]"
            );
        return new(low, high);
    }

    Offset? Place(JsonFields? fields)
    {
        if (fields is null)
            return null;
        var place = new Offset(fields.Length("x", units), fields.Length("y", units), fields.Length("z", units));
        fields.End();
        return place;
    }

    static AxisRates? Rates(JsonFields? fields)
    {
        if (fields is null)
            return null;
        var rates = new AxisRates(
            fields.RequiredNumber("x", NumberRange.Rate),
            fields.RequiredNumber("y", NumberRange.Rate),
            fields.RequiredNumber("z", NumberRange.Rate)
        );
        fields.End();
        return rates;
    }

    static AirCutRate AirCutRateOf(JsonFields fields)
    {
        var rate = new AirCutRate(
            fields.RequiredNumber("cut", NumberRange.Rate),
            fields.RequiredNumber("rapid", NumberRange.Rate)
        );
        fields.End();
        return rate;
    }

    /// <summary>A code without leading zeros: M08 is M8.</summary>
    static string Code(JsonFields fields, JsonPart value)
    {
        var code = fields.TextOf(value).ToUpperInvariant();
        var digits = code.AsSpan(Math.Min(1, code.Length));
        var point = digits.IndexOf('.');
        var whole = point < 0 ? digits : digits[..point];
        var tenths = point < 0 ? "0" : digits[(point + 1)..];
        var known = code is ['G' or 'M', ..] && whole.Length is >= 1 and <= 4 && tenths.Length == 1;
        if (!known || whole.ContainsAnyExceptInRange('0', '9') || !char.IsAsciiDigit(tenths[0]))
            throw fields.Fault(value, "a G or M code such as \"G8\" or \"M41\"");
        var number = int.Parse(whole, CultureInfo.InvariantCulture);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{code[0]}{number}{(tenths[0] == '0' ? "" : "." + tenths[0])}"
        );
    }

    Reads ReadsOf(JsonFields? fields)
    {
        if (fields is null)
            return new();
        var reads = new Reads
        {
            ArcCentresAbsolute = fields.OneOf("arcCentres", "incremental", "absolute") == 1,
            ArcTolerance = fields.Length("arcTolerance", units, NumberRange.ZeroOrMore)?.Nanometres,
            WholeNumbersAreIncrements = fields.OneOf("wholeNumbers", "units", "increments") == 1,
            DwellPIsSeconds = fields.OneOf("dwellP", "milliseconds", "seconds") == 1,
            SubprogramCall = SubprogramCall(fields),
            PeckRetract = fields.Length("peckRetract", units, NumberRange.ZeroOrMore)?.Nanometres ?? 0,
            PeckClearance = fields.Length("peckClearance", units, NumberRange.ZeroOrMore)?.Nanometres ?? 0,
            LengthOffsetCancelledByToolChange = fields.OneOf("lengthOffsetOnToolChange", "keep", "cancel") == 1,
            LengthOffsetMovesAtOnce = fields.OneOf("lengthOffsetMoves", "withZ", "atOnce") == 1,
            ReferenceReturnCancelsLength = fields.YesNo("referenceReturnCancelsLength") ?? false,
            ToolChangeRetracts = fields.YesNo("toolChangeRetracts") ?? true,
            DiameterRegisterIsRadius = fields.OneOf("diameterRegister", "diameter", "radius") == 1,
            CompensationEntry = (CompensationEntry)(
                fields.OneOf("compensationEntry", "square", "around", "tangent") ?? 0
            ),
            CompensationCorners = (CompensationCorners)(fields.OneOf("compensationCorners", "arc", "lines") ?? 0),
            CompensationInsideCorners = fields.OneOf("compensationInside", "meet", "refuse") != 1,
            CompensationExit = (CompensationExit)(fields.OneOf("compensationExit", "programmed", "centre") ?? 0),
            FixIsTowardZero = fields.OneOf("fix", "towardZero", "down") != 1,
            LogicIsBitwise = fields.OneOf("logic", "bits", "truth") != 1,
        };
        fields.End();
        return reads;
    }

    static string SubprogramCall(JsonFields fields)
    {
        if (fields.Optional("subprogramCall") is not { } value)
            return "P";
        return fields.TextOf(value) is [>= 'A' and <= 'Z'] letter
            ? letter
            : throw fields.Fault(value, "one capital letter such as \"P\"");
    }
}
