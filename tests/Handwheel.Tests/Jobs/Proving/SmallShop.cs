using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>A small job of our own: one fixture at G55, a few tools, a raise of 3 in, and the people around it.</summary>
static class SmallShop
{
    public static readonly Actor Setter = Person(1, "setter", Roles.Setter);
    public static readonly Actor Operator = Person(2, "operator", Roles.Operator);
    public static readonly Actor NightSetter = Person(3, "night setter", Roles.Setter | Roles.Operator);
    public static readonly Actor Supervisor = Person(4, "supervisor", Roles.Supervisor);
    public static readonly Actor Programmer = Person(5, "programmer", Roles.Programmer);
    public static readonly Actor Administrator = Person(6, "administrator", Roles.Administrator);
    public static readonly Guid Machine = new("00000000-0000-0000-0000-0000000000aa");
    public static readonly DateTimeOffset Morning = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    public static readonly byte[] Program =
        "%\nO1234 (BRACKET)\nN10 G90 G20 G17\nN20 T1 M6\nN30 G55 G0 X1. Y1.\nN40 G43 H1 Z0.1\nN50 G1 Z-0.25 F20.\nN60 M30\n%\n"u8.ToArray();

    public static decimal Length(int tool) => 5m + tool / 16m;

    static Actor Person(byte number, string name, Roles roles) =>
        new(new Guid(number, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0), name, roles);

    public static Setup Setup(int tools = 2, decimal z = -18.125m) =>
        new()
        {
            Units = Units.Inch,
            Machine = new()
            {
                Name = "Mill 2",
                Travel = new(new(In(-40), In(0)), new(In(-20), In(0)), new(In(-25), In(0))),
            },
            WorkOffsets = new Dictionary<WorkOffsetName, Offset>
            {
                [new WorkOffsetName(2)] = new(In(-22.5m), In(-9.25m), In(z)),
            },
            Tools =
            [
                .. Enumerable
                    .Range(1, tools)
                    .Select(n => new Tool
                    {
                        Number = n,
                        Pocket = n,
                        Kind = "end mill",
                        LengthOffset = n,
                        Length = In(Length(n)),
                        DiameterOffset = n,
                        DiameterValue = In(0.5m),
                        Stickout = In(1.75m),
                    }),
            ],
            Stock = [new Stock(new(2), "aluminium 6061-T6", new(In(0), In(0), In(-1)), new(In(5), In(3), In(0)))],
            Holding = [new BoxHolding("toe clamp", new(2), new(In(-1), In(0), In(-1)), new(In(0), In(1), In(0.75m)))],
            AirCut = new() { RapidOverride = 0.5m },
            Characteristics =
            [
                new()
                {
                    Name = "bore",
                    Nominal = In(1),
                    Plus = In(0.0005m),
                    Minus = In(0.0005m),
                    Kind = CharacteristicKind.Diameter,
                    Side = Side.Inside,
                    Tool = 1,
                },
                new()
                {
                    Name = "depth",
                    Nominal = In(0.25m),
                    Plus = In(0.002m),
                    Minus = In(0.002m),
                    Kind = CharacteristicKind.Depth,
                    Tool = tools,
                },
            ],
            Parking = ["axes to the power-off position", "power off at the isolator"],
        };

    public static CheckResult Check(Setup setup, bool airCutPossible = true, params Finding[] findings)
    {
        var z = setup.WorkOffsets[new WorkOffsetName(2)].Z!.Value.In(Units.Inch);
        return new()
        {
            Program = new()
            {
                Name = "bracket.nc",
                Sha256 = "aa",
                Units = "inch",
            },
            Tools =
            [
                .. setup.Tools.Select(t => new ToolUse
                {
                    Tool = t.Number,
                    Uses = 1,
                    LengthOffsets = [t.Number],
                    WorkOffsets = ["G55"],
                    Bounds = new(null, null, null),
                }),
            ],
            WorkOffsets = [new("G55", -0.25m, new(null, null, null))],
            AirCut = new()
            {
                Possible = airCutPossible,
                MinimumRaise = 2.25m,
                MaximumRaise = airCutPossible ? 6.5m : 1m,
                SuggestedRaise = airCutPossible ? 3m : null,
                Why = airCutPossible ? null : "T1 at line 7 needs 2.2500, the travel leaves 1.0000",
                Registers = [],
            },
            Stops = [.. setup.Tools.SelectMany(t => Stops(t, z))],
            RunTime = new(null, []),
            NotChecked = [],
            Findings = findings,
        };
    }

    static IEnumerable<Stop> Stops(Tool tool, decimal z)
    {
        var line = 10 * tool.Number;
        var machineZ = z + tool.Length!.Value.In(Units.Inch) + 0.1m;
        Stop Of(string kind, int at, decimal to, decimal machine, decimal toGo, decimal toGoRaised) =>
            new()
            {
                Number = at,
                Kind = kind,
                Tool = tool.Number,
                LengthOffset = kind == "position" ? null : tool.Number,
                WorkOffset = "G55",
                Line = at,
                Block = "N" + at.ToString(CultureInfo.InvariantCulture),
                From = new(null, null, null),
                To = new(1, 1, to),
                MachineTo = new(-21.5m, -8.25m, machine),
                MachineToRaised = new(-21.5m, -8.25m, machine + 3),
                DistanceToGo = new(null, null, kind == "position" ? null : toGo),
                DistanceToGoRaised = new(null, null, kind == "position" ? null : toGoRaised),
                TipAbovePartZero = to,
                AirBelowRaised = kind == "position" ? null : to + 3,
                Below = "stock",
            };
        yield return Of("position", line, 0, 0, 0, 0);
        yield return Of("approach", line + 1, 0.1m, machineZ, machineZ, machineZ + 3);
        yield return Of("entry", line + 2, -0.25m, machineZ - 0.35m, -0.35m, -0.35m);
    }

    public static ProveOutSubject Subject(Purpose purpose = Purpose.Prove, byte[]? program = null, byte id = 1) =>
        new(
            new Guid(id, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0),
            Machine,
            "bb",
            "cc",
            [ProgramInControl.From("bracket.nc", program ?? Program, new Random(7))],
            purpose
        );

    public static ProveOutPlan Plan(
        int tools = 2,
        ShopRulesForProving? rules = null,
        Purpose purpose = Purpose.Prove,
        bool airCutPossible = true,
        params Finding[] findings
    )
    {
        var setup = Setup(tools);
        return ProveOutPlan.From(
            Subject(purpose),
            setup,
            Check(setup, airCutPossible, findings),
            rules ?? new() { ReadWear = false }
        );
    }

    public static Length In(decimal inches) => Handwheel.Nc.Length.From(inches, Units.Inch);

    /// <summary>Nothing to say but which offset may be raised.</summary>
    public static Dictionary<string, string> Words(string words = "none") =>
        Handoff.Headings.ToDictionary(h => h.Key, h => h.Key == "raised" ? "G55, as last read" : words);
}
