using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

static class PlanMaker
{
    public static ProveOutPlan Make(ProveOutSubject subject, Setup setup, CheckResult check, ShopRulesForProving rules)
    {
        var (tallest, above) = Tallest(setup);
        return new()
        {
            Subject = subject,
            MachineName = setup.Machine.Name,
            Units = setup.Units,
            LeastIncrement = setup.LeastIncrement,
            Tools = [.. check.Tools.SelectMany(use => ToolsOf(use, subject, setup, check))],
            Registers = [.. Registers(setup, check)],
            AirCut = AirCutOf(setup, check.AirCut),
            Findings =
            [
                .. check
                    .Findings.Where(f => f.Level != Level.Note)
                    .GroupBy(f => (f.Id, f.Level))
                    .Select(g => new PlannedFinding(g.Key.Id, g.Key.Level, [.. g.Select(Sentence)])),
            ],
            TallestThing = tallest,
            HeightAbove = above,
            RapidOverride = setup.AirCut.RapidOverride,
            Characteristics = setup.Characteristics,
            DiameterRegisterIsRadius = setup.Machine.Reads.DiameterRegisterIsRadius,
            Parking = setup.Parking,
            Holding = setup.Holding.Count == 0 ? "" : string.Join(", ", setup.Holding.Select(h => h.Name)),
            HoldingDigest = HoldingDigest(setup),
            Rules = rules,
        };
    }

    static string HoldingDigest(Setup setup)
    {
        var text = string.Join(
            '\n',
            setup.Stock.Select(s => s.ToString()).Concat(setup.Holding.Select(h => h.ToString()))
        );
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
    }

    static string Sentence(Finding finding) =>
        finding.Line > 0
            ? Said.Kept($"Line {Checking.Figures.Whole(finding.Line)}: {finding.Message}")
            : finding.Message;

    static IEnumerable<PlannedTool> ToolsOf(ToolUse use, ProveOutSubject subject, Setup setup, CheckResult check)
    {
        var tool = setup.Tools.FirstOrDefault(t => t.Number == use.Tool);
        int?[] offsets = use.LengthOffsets.Count == 0 ? [null] : [.. use.LengthOffsets.Select(h => (int?)h)];
        for (var i = 0; i < offsets.Length; i++)
            yield return ToolOf(use, offsets[i], i == 0, tool, subject, setup.Units, check);
    }

    static PlannedTool ToolOf(
        ToolUse use,
        int? lengthOffset,
        bool first,
        Tool? tool,
        ProveOutSubject subject,
        Units units,
        CheckResult check
    )
    {
        var stops = check.Stops.Where(s => s.Tool == use.Tool).ToList();
        var own = stops.Where(s => s.LengthOffset == lengthOffset).ToList();
        var approach = own.FirstOrDefault(s => s.Kind == "approach");
        var isOwn = tool is not null && tool.LengthOffset == lengthOffset;
        var number = use.Tool.ToString(CultureInfo.InvariantCulture);
        return new()
        {
            Key = first ? number : string.Create(CultureInfo.InvariantCulture, $"{number}-h{lengthOffset}"),
            Tool = use.Tool,
            LengthOffset = lengthOffset,
            Pocket = tool?.Pocket,
            Kind = tool?.Kind ?? "",
            Description = tool?.Description ?? "",
            Stickout = tool?.Stickout,
            Length = isOwn ? tool!.Length : null,
            Wear = isOwn ? tool!.LengthWear : Length.Zero,
            DiameterOffset = tool?.DiameterOffset,
            DiameterValue = tool?.DiameterValue,
            Compensated =
                use.DiameterOffsets is { } used && check.Program.FollowedToEnd && tool?.DiameterOffset is { } d
                    ? used.Contains(d)
                    : null,
            Position = StopOf(stops.FirstOrDefault(s => s.Kind == "position") ?? approach, units),
            Approach = StopOf(approach, units),
            Entry = StopOf(own.FirstOrDefault(s => s.Kind == "entry") ?? approach, units),
            Again = [.. own.Where(s => s.Kind == "approach" && s != approach).Select(Again)],
            Watch = first ? Watch(check, use.Tool) : null,
            WorkOffsets = use.WorkOffsets,
            Motion = subject.Motions?.GetValueOrDefault(use.Tool),
            Cutting = subject.Cutting?.GetValueOrDefault(use.Tool),
        };
    }

    static IReadOnlyList<string>? Watch(CheckResult check, int tool)
    {
        var passes = check.NearestPasses.Where(p => p.Tool == tool).ToList();
        return passes.Count == 0
            ? null
            :
            [
                .. passes.Select(p =>
                    Said.Kept($"Nearest pass {Checking.Figures.Whole(p.Number)}: {p.Message} (without the raise).")
                ),
            ];
    }

    static string Again(Stop stop) =>
        Said.Kept(
            $"Comes down again at line {Checking.Figures.Whole(stop.Line)} under {stop.WorkOffset}: hold on the way down and compare there as well."
        );

    static PlannedStop? StopOf(Stop? stop, Units units)
    {
        if (stop is null)
            return null;
        return new(
            stop.Line,
            stop.Block,
            stop.WorkOffset,
            Of(stop.MachineTo.X),
            Of(stop.MachineTo.Y),
            Of(stop.MachineTo.Z),
            Of(stop.DistanceToGo.X),
            Of(stop.DistanceToGo.Y),
            Of(stop.DistanceToGo.Z),
            Of(stop.DistanceToGoRaised.Z),
            Of(stop.TipAbovePartZero),
            Of(stop.AirBelowRaised),
            stop.Below
        );

        Length? Of(decimal? value) => value is { } v ? Length.From(v, units) : null;
    }

    static IEnumerable<PlannedRegister> Registers(Setup setup, CheckResult check)
    {
        foreach (var use in check.WorkOffsets)
        {
            Offset offset = default;
            if (WorkOffsetName.TryParse(use.Name, out var name) && setup.WorkOffsets.TryGetValue(name, out var given))
                offset = given;
            yield return new(new(use.Name, "x"), offset.X);
            yield return new(new(use.Name, "y"), offset.Y);
            yield return new(new(use.Name, "z"), offset.Z);
        }
        yield return new(new("common", "x"), setup.CommonOffset.X ?? Length.Zero);
        yield return new(new("common", "y"), setup.CommonOffset.Y ?? Length.Zero);
        yield return new(new("common", "z"), setup.CommonOffset.Z ?? Length.Zero);
        foreach (var axis in (string[])["x", "y", "z"])
            yield return new(new("shift", axis), Length.Zero);
    }

    static PlannedAirCut AirCutOf(Setup setup, AirCut airCut)
    {
        return new(
            airCut is { Possible: true, SuggestedRaise: not null },
            Of(airCut.MinimumRaise),
            Of(airCut.MaximumRaise),
            Of(airCut.SuggestedRaise),
            airCut.Why,
            setup.Machine.AirCutRates
        );

        Length? Of(decimal? value) => value is { } v ? Length.From(v, setup.Units) : null;
    }

    /// <summary>The highest top of stock and holding above the zero of the first blank's work offset.</summary>
    static (Length? Height, string Above) Tallest(Setup setup)
    {
        var tops = new List<(WorkOffsetName Offset, Length Top)>();
        tops.AddRange(setup.Stock.Select(s => (s.WorkOffset, s.Max.Z)));
        tops.AddRange(
            setup.Holding.Select(h => (h.WorkOffset, h is BoxHolding box ? box.Max.Z : ((CylinderHolding)h).Top))
        );
        if (tops.Count == 0)
            return (null, "");
        var reference = tops[0].Offset;
        Length? tallest = null;
        foreach (var (offset, top) in tops)
        {
            if (Z(offset) is not { } z || Z(reference) is not { } zero)
                return (null, reference.ToString());
            var height = z + top - zero;
            tallest = tallest is { } t ? Length.Max(t, height) : height;
        }
        return (tallest, reference.ToString());

        Length? Z(WorkOffsetName name) => setup.WorkOffsets.TryGetValue(name, out var offset) ? offset.Z : null;
    }
}
