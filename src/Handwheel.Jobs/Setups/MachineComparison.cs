using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>One thing that two machines do not have alike.</summary>
/// <param name="What">What it is called on the machine's page: <c>Z travel</c>.</param>
/// <param name="Was">With unit, of the machine where the program was proved.</param>
/// <param name="Now">With unit, of the machine where it is set up.</param>
/// <param name="Means">What that changes for the job, in one line.</param>
public sealed record MachineDifference(string What, string Was, string Now, string Means)
{
    public override string ToString() => $"{What}: was {Was}, is {Now}. {Means}";
}

/// <summary>Names what differs between the machine that a program was proved on and the one that it is set up on, and what that changes.</summary>
public static class MachineComparison
{
    const string NotGiven = "not given";

    /// <summary>Empty: as far as the two are described, they are alike.</summary>
    public static IReadOnlyList<MachineDifference> Of(Setup proved, Setup now) =>
        [
            .. Facts
                .Select(f => (f.What, Was: f.Text(proved), Now: f.Text(now), f.Means))
                .Where(f => f.Was.Key != f.Now.Key)
                .Select(f => new MachineDifference(f.What, f.Was.Words, f.Now.Words, f.Means)),
        ];

    /// <summary>A fact as it is compared, and as people read it.</summary>
    readonly record struct Told(string Key, string Words);

    sealed record Fact(string What, Func<Setup, Told> Text, string Means);

    static readonly Fact[] Facts = [.. Positions(), .. Rates(), .. Increments(), .. Reads(), .. Compensation()];

    static IEnumerable<Fact> Positions()
    {
        const string travel =
            "The room for the raise and for every move was checked with this machine's travel: look at its findings.";
        yield return new("X travel", s => Between(s, s.Machine.Travel.X), travel);
        yield return new("Y travel", s => Between(s, s.Machine.Travel.Y), travel);
        yield return new("Z travel", s => Between(s, s.Machine.Travel.Z), travel);
        yield return new(
            "Reference position",
            s => Place(s, s.Machine.Reference),
            "A reference return ends elsewhere: see what stands on its way."
        );
        yield return new(
            "Second reference position",
            s => Place(s, s.Machine.SecondReference),
            "A return to it ends elsewhere: see what stands on its way."
        );
        yield return new(
            "Z after a tool change",
            s => At(s, s.Machine.ToolChangeZ, "the top of Z travel"),
            "The first move of each tool begins at another height: its distance-to-go is another one."
        );
        yield return new(
            "Retracts by itself for a tool change",
            s => YesNo(s.Machine.Reads.ToolChangeRetracts),
            "Where it does not, the tool changes where it stands: see that it clears everything."
        );
    }

    static IEnumerable<Fact> Rates()
    {
        const string quicker = "Times are others, and a move may come quicker than the people here are used to.";
        yield return new("Rapid rates", s => Axes(s, s.Machine.Rapid, "/min"), quicker);
        yield return new("Acceleration", s => Axes(s, s.Machine.Acceleration, "/s²"), quicker);
        yield return new(
            "Rapids go",
            s =>
                Plain(
                    s.Machine.RapidPath switch
                    {
                        RapidPath.Straight => "straight to their end",
                        RapidPath.Dogleg => "each axis at its own rate",
                        _ => "not known, both are checked",
                    }
                ),
            "A rapid over the corner of a clamp passes elsewhere."
        );
        yield return new("Corner tolerance", s => At(s, s.Machine.CornerTolerance, NotGiven), "Times are others.");
        yield return new(
            "Highest feed",
            s => Rate(s, s.Machine.MaxFeed, "/min"),
            "A feed above it is cut down, or is an alarm."
        );
        yield return new(
            "Highest spindle speed",
            s => Plain(s.Machine.MaxSpindle is { } speed ? Number(speed) + " rev/min" : NotGiven),
            "A speed above it is cut down, or is an alarm: feed a tooth is then another one."
        );
        yield return new(
            "Tool change takes",
            s => Plain(Number(s.Machine.ToolChangeSeconds) + " s"),
            "Times are others."
        );
        yield return new(
            "Rates of the air cut",
            s =>
                s.Machine.AirCutRates.Count == 0
                    ? Plain(NotGiven)
                    : new(
                        string.Join(';', s.Machine.AirCutRates.Select(r => $"{Metric(s, r.Cut)} {Metric(s, r.Rapid)}")),
                        string.Join(
                            "; ",
                            s.Machine.AirCutRates.Select(r =>
                                $"{Number(r.Cut)} and {Number(r.Rapid)} {s.Units.Symbol()}/min"
                            )
                        )
                    ),
            "The air cut takes another time."
        );
    }

    static IEnumerable<Fact> Increments()
    {
        yield return new(
            "Units of the registers",
            s => Plain(s.Units == Units.Inch ? "inch" : "mm"),
            "Every register is read and typed in the other unit."
        );
        yield return new(
            "Least increment",
            s => At(s, s.LeastIncrement, NotGiven),
            "Registers have other decimals: what was typed there cannot be copied digit by digit."
        );
        yield return new(
            "A length without a point counts",
            s => Plain(s.Machine.Reads.WholeNumbersAreIncrements ? "least increments" : "whole inches or millimetres"),
            "The same text is another place, many times further or nearer."
        );
    }

    static IEnumerable<Fact> Reads()
    {
        yield return new(
            "Arc centres are",
            s => Plain(s.Machine.Reads.ArcCentresAbsolute ? "absolute" : "incremental"),
            "The same I, J, K is another arc."
        );
        yield return new(
            "Arc tolerance",
            s =>
                At(
                    s,
                    s.Machine.Reads.ArcTolerance is { } nm ? Length.FromNanometres(nm) : null,
                    "0.0005 in or 0.01 mm"
                ),
            "An arc that ran there may be an alarm here."
        );
        yield return new(
            "P of a dwell counts",
            s => Plain(s.Machine.Reads.DwellPIsSeconds ? "seconds" : "milliseconds"),
            "A dwell takes a thousand times as long, or nearly none."
        );
        yield return new(
            "Letter that names a subprogram",
            s => Plain(s.Machine.Reads.SubprogramCall),
            "Another subprogram is called, or none."
        );
        yield return new(
            "G73 backs off by",
            s => At(s, Length.FromNanometres(s.Machine.Reads.PeckRetract), NotGiven),
            "Chips break otherwise."
        );
        yield return new(
            "G83 comes back to, above the last depth",
            s => At(s, Length.FromNanometres(s.Machine.Reads.PeckClearance), NotGiven),
            "A rapid in the hole ends nearer to the bottom, or further from it."
        );
        yield return new(
            "At a tool change the length offset is",
            s => Plain(s.Machine.Reads.LengthOffsetCancelledByToolChange ? "cancelled" : "kept"),
            "A move before the next G43 has another height."
        );
        yield return new(
            "G43 moves the axis",
            s => Plain(s.Machine.Reads.LengthOffsetMovesAtOnce ? "at once" : "with the next Z"),
            "The axis may move in a block where it stood still there."
        );
        yield return new(
            "A reference return in Z cancels the length offset",
            s => YesNo(s.Machine.Reads.ReferenceReturnCancelsLength),
            "A move after a reference return has another height."
        );
        yield return new(
            "Codes that move nothing",
            s => List(s.Machine.Harmless),
            "A code that did nothing there may do something here."
        );
        yield return new(
            "Codes that switch off feed hold, single block or overrides",
            s => List(s.Machine.SuppressesHolds),
            "Feed hold may do nothing where it worked there."
        );
        yield return new(
            "FIX of a negative value goes",
            s => Plain(s.Machine.Reads.FixIsTowardZero ? "toward zero" : "down"),
            "A worked-out value is another one."
        );
        yield return new(
            "AND, OR, XOR work on",
            s => Plain(s.Machine.Reads.LogicIsBitwise ? "bits" : "true or false"),
            "A condition may turn out otherwise."
        );
    }

    static IEnumerable<Fact> Compensation()
    {
        const string other = "Under G41 and G42 the tool's way is another one at this place.";
        yield return new(
            "The D register holds",
            s => Plain(s.Machine.Reads.DiameterRegisterIsRadius ? "the radius" : "the diameter"),
            "The same value typed here takes off half as much, or twice as much."
        );
        yield return new(
            "The move with G41 ends",
            s =>
                Plain(
                    s.Machine.Reads.CompensationEntry switch
                    {
                        CompensationEntry.Around => "around the first point",
                        CompensationEntry.Tangent => "tangent to the next move",
                        _ => "square to the next move",
                    }
                ),
            other
        );
        yield return new(
            "Outside corners under G41 are",
            s => Plain(s.Machine.Reads.CompensationCorners == CompensationCorners.Lines ? "lines" : "arcs"),
            other
        );
        yield return new(
            "At inside corners under G41 the ways",
            s => Plain(s.Machine.Reads.CompensationInsideCorners ? "meet" : "are refused"),
            other
        );
        yield return new(
            "After G40 an axis not named",
            s =>
                Plain(
                    s.Machine.Reads.CompensationExit == CompensationExit.FromCentre
                        ? "stays where the centre was"
                        : "goes back to where it was programmed"
                ),
            other
        );
    }

    static Told Plain(string words) => new(words, words);

    static Told YesNo(bool yes) => Plain(yes ? "yes" : "no");

    static Told List(IReadOnlyList<string> codes) =>
        Plain(codes.Count == 0 ? "none" : string.Join(", ", codes.Order(StringComparer.Ordinal)));

    static Told At(Setup setup, Length? value, string otherwise) =>
        value is { } length ? new(Key(length), Text(setup, length)) : Plain(otherwise);

    static Told Between(Setup setup, Range range) =>
        new($"{Key(range.Low)} {Key(range.High)}", $"{Number(range.Low.In(setup.Units))} to {Text(setup, range.High)}");

    static Told Place(Setup setup, Offset? place) =>
        place is not { } at
            ? Plain(NotGiven)
            : new(
                $"{Key(at.X)} {Key(at.Y)} {Key(at.Z)}",
                $"X {Or(setup, at.X)}, Y {Or(setup, at.Y)}, Z {Or(setup, at.Z)}"
            );

    static string Or(Setup setup, Length? value) => value is { } length ? Text(setup, length) : NotGiven;

    static Told Axes(Setup setup, AxisRates? rates, string per) =>
        rates is not { } of
            ? Plain(NotGiven)
            : new(
                $"{Metric(setup, of.X)} {Metric(setup, of.Y)} {Metric(setup, of.Z)}",
                $"X {Number(of.X)}, Y {Number(of.Y)}, Z {Number(of.Z)} {setup.Units.Symbol()}{per}"
            );

    static Told Rate(Setup setup, decimal? rate, string per) =>
        rate is { } of ? new(Metric(setup, of), $"{Number(of)} {setup.Units.Symbol()}{per}") : Plain(NotGiven);

    /// <summary>Two machines that count in different units are compared in one.</summary>
    static string Metric(Setup setup, decimal rate) => Number(setup.Units == Units.Inch ? rate * 25.4m : rate);

    static string Key(Length? length) =>
        length is { } of ? of.Nanometres.ToString(CultureInfo.InvariantCulture) : NotGiven;

    static string Text(Setup setup, Length length) => $"{Number(length.In(setup.Units))} {setup.Units.Symbol()}";

    static string Number(decimal value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
