using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Web.Commands;

/// <summary>What a check found, for a person at a terminal: worst first.</summary>
sealed class CheckText(Screen screen, CheckResult result, Units units)
{
    readonly int decimals = units.RegisterDecimals();

    public void Write()
    {
        Head();
        Findings();
        AirCut();
        Tools();
        Stops();
        NearestPasses();
        Material();
        RunTimes();
        NotChecked();
        Line();
        Line(
            screen.Grey(
                "This is what the program and the setup say; neither knows what stands on the table today. It does not prove the program"
            )
        );
        Line(
            screen.Grey(
                "safe: air cut, single block, a thumb on feed hold. The machine builder's manual and local rules come first."
            )
        );
    }

    void Head()
    {
        var program = result.Program;
        Line(screen.Bold(program.Name));
        Line(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{program.Lines} lines, {program.BlocksExecuted} blocks executed, {(program.FollowedToEnd ? "followed to its end" : "NOT followed to its end")}"
            )
        );
        Line($"program in {Unit(program.Units)}; figures below in {(units == Units.Inch ? "inch" : "mm")}");
        Line($"SHA-256 {program.Sha256}");
        foreach (var used in program.Subprograms)
            Line(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{used.Called}, called at line {used.Line}{(used.From is { } from ? " of " + from : "")}, is {used.File}"
                )
            );
        foreach (var value in program.Assumed)
            Line(string.Create(CultureInfo.InvariantCulture, $"assumed: #{value.Parameter} = {value.Value}"));
    }

    static string Unit(string units) => units == "inch" ? "inch" : "mm";

    void Findings()
    {
        Section(Level.Stop, "STOP", "do not press cycle start", screen.Red);
        Section(Level.Check, "CHECK", "look, before the air cut", screen.Yellow);
        Section(Level.Note, "NOTE", "worth knowing", screen.Bold);
        if (result.Findings.Count > 0)
            return;
        Heading("FINDINGS");
        Line("  none");
    }

    void Section(Level level, string word, string meaning, Func<string, string> paint)
    {
        var findings = result.Findings.Where(f => f.Level == level).ToList();
        if (findings.Count == 0)
            return;
        Line();
        Line(paint(string.Create(CultureInfo.InvariantCulture, $"{word} ({findings.Count})")) + ": " + meaning);
        foreach (var finding in findings)
        {
            var where =
                finding.Line == 0
                    ? "whole program"
                    : string.Create(
                        CultureInfo.InvariantCulture,
                        $"line {finding.Line}{(finding.File is { } file ? " of " + file : "")}"
                    );
            var tool = finding.Tool is { } number ? string.Create(CultureInfo.InvariantCulture, $"  T{number}") : "";
            var block = finding.Block.Length > 0 ? "  " + finding.Block : "";
            Line($"  {screen.Bold(where)}{tool}{block}  {screen.Grey(finding.Id)}");
            Line("      " + finding.Message);
            if (finding.Remedy.Length > 0)
                Line("      " + finding.Remedy);
        }
    }

    void AirCut()
    {
        var air = result.AirCut;
        Heading("AIR CUT");
        Line($"  minimum raise    {Length(air.MinimumRaise)}");
        Line($"  maximum raise    {Length(air.MaximumRaise)}");
        Line($"  suggested raise  {Length(air.SuggestedRaise)}");
        if (!air.Possible)
            Line("  " + screen.Red("not possible"));
        if (air.Why is { Length: > 0 } why)
            Line("  " + why);
        if (air.Registers.Count == 0)
            return;
        var table = new TextTable("register", "axis", "baseline", "raised");
        foreach (var register in air.Registers)
            table.Add(
                register.WorkOffset,
                register.Axis.ToUpperInvariant(),
                Length(register.Baseline),
                Length(register.Raised)
            );
        table.Write(Line);
    }

    void Tools()
    {
        Heading("TOOLS");
        var table = new TextTable(
            "tool",
            "uses",
            "H",
            "offsets",
            "lowest tip",
            "highest machine Z",
            "cut",
            "rapid",
            "time"
        );
        foreach (var tool in result.Tools)
            table.Add(
                string.Create(CultureInfo.InvariantCulture, $"T{tool.Tool}"),
                tool.Uses.ToString(CultureInfo.InvariantCulture),
                tool.LengthOffsets.Count == 0 ? "-" : string.Join(' ', tool.LengthOffsets.Select(h => $"H{h}")),
                string.Join(' ', tool.WorkOffsets),
                Length(tool.LowestTip),
                Length(tool.HighestMachineZ),
                Distance(tool.CutDistance),
                Distance(tool.RapidDistance),
                Time(tool.Seconds)
            );
        table.Write(Line);
    }

    void Stops()
    {
        Heading("STOPS");
        if (result.Stops.Count == 0)
        {
            Line("  none");
            return;
        }
        var table = new TextTable(
            "",
            "stop",
            "tool",
            "H",
            "offset",
            "line",
            "Z to go, raised",
            "machine Z, raised",
            "gauge",
            "block"
        );
        foreach (var stop in result.Stops)
            table.Add(
                stop.Number.ToString(CultureInfo.InvariantCulture),
                stop.Kind,
                string.Create(CultureInfo.InvariantCulture, $"T{stop.Tool}"),
                stop.LengthOffset is { } h ? string.Create(CultureInfo.InvariantCulture, $"H{h}") : "-",
                stop.WorkOffset,
                stop.Line.ToString(CultureInfo.InvariantCulture),
                Length(stop.DistanceToGoRaised.Z),
                Length(stop.MachineToRaised.Z),
                stop.Gauge is { } gauge ? $"{gauge} on {stop.Below}" : "-",
                stop.Block
            );
        table.Write(Line);
    }

    void NearestPasses()
    {
        if (result.NearestPasses.Count == 0)
            return;
        Heading("NEAREST PASSES");
        foreach (var pass in result.NearestPasses)
            Line($"  {pass.Message}{(pass.Block.Length > 0 ? "  " + screen.Grey(pass.Block) : "")}");
    }

    void Material()
    {
        if (result.Material.Count == 0)
            return;
        Heading("MATERIAL");
        var table = new TextTable("tool", "removed", "deepest", "widest", "per minute");
        foreach (var tool in result.Material)
            table.Add(
                string.Create(CultureInfo.InvariantCulture, $"T{tool.Tool}"),
                Fixed(tool.Removed, 2),
                Length(tool.Depth),
                Length(tool.Width),
                tool.RemovalRate is { } rate ? Fixed(rate, 2) : "not known"
            );
        table.Write(Line);
    }

    void RunTimes()
    {
        Heading("RUN TIME");
        Line($"  as programmed  {Time(result.RunTime.Programmed)}");
        foreach (var air in result.RunTime.AirCut)
            Line(
                $"  air cut        {Time(air.Seconds)}  feed moves at {Number(air.Cut)}, rapids at {Number(air.Rapid)} x {Number(air.RapidOverride)} "
                    + (units == Units.Inch ? "in/min" : "mm/min")
            );
        AirCutByTool();
    }

    void AirCutByTool()
    {
        var air = result.RunTime.AirCut;
        if (air.Count == 0 || air[0].Tools.Count == 0)
            return;
        Heading("AIR CUT, TOOL BY TOOL");
        var table = new TextTable(["tool", .. air.Select(a => $"at {Number(a.Cut)}/{Number(a.Rapid)}")]);
        foreach (var (i, tool) in air[0].Tools.Index())
            table.Add([
                string.Create(CultureInfo.InvariantCulture, $"T{tool.Tool}"),
                .. air.Select(a => Time(a.Tools[i].Seconds)),
            ]);
        table.Add(["total", .. air.Select(a => Time(a.Seconds))]);
        table.Write(Line);
    }

    void NotChecked()
    {
        if (result.NotChecked.Count == 0)
            return;
        Heading("NOT CHECKED");
        foreach (var group in NotCheckedGroups.Of(result.NotChecked))
        {
            Line("  " + group.What);
            foreach (var why in group.Why)
                Line("      " + why);
        }
    }

    void Heading(string text)
    {
        Line();
        Line(screen.Bold(text));
    }

    void Line(string text = "") => screen.Out.WriteLine(text.TrimEnd());

    string Length(decimal? value) => value is { } known ? Fixed(known, decimals) : "not known";

    string Distance(decimal? value) => value is { } known ? Fixed(known, units == Units.Inch ? 1 : 0) : "not known";

    static string Number(decimal value) => Figure.Shortest(value).ToString(CultureInfo.InvariantCulture);

    static string Fixed(decimal value, int decimals) =>
        decimal.Round(value, decimals, MidpointRounding.AwayFromZero)
            .ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    static string Time(decimal? seconds) => Sheets.Figures.Time(seconds);
}
