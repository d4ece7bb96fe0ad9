using System.Security.Cryptography;
using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>A setup, a check and a path made by hand, so that the paper is tested without the program reader.</summary>
static class SampleSheet
{
    public static readonly DateTimeOffset Printed = new(2026, 3, 4, 14, 12, 0, TimeSpan.FromHours(1));

    public const string SetupJson = """
        {
          "format": "handwheel-setup/1", "units": "inch",
          "machine": { "name": "Mill 2", "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] }, "toolChangeZ": -0.7525 },
          "workOffsets": { "G55": { "x": -22.5, "y": -9.25, "z": -18.125, "zero": "left back corner, top of stock", "foundBy": "edge finder" }, "G56": { "x": -10.125, "y": -9.25, "z": -18.1305 } },
          "tools": [
            { "tool": 1, "pocket": 1, "kind": "end mill", "description": "1/2 4FL carbide", "diameter": 0.5, "stickout": 1.75, "stickoutLeast": 1.7, "stickoutMost": 1.9, "lengthOffset": 1, "length": 5.0625, "diameterOffset": 1, "diameterValue": 0.5 },
            { "tool": 4, "pocket": 12, "kind": "drill", "description": "No. 7 (⌀0.201) stub", "diameter": 0.201, "stickout": 2.1, "lengthOffset": 4, "length": 5.437, "lengthWear": -0.002 },
            { "tool": 9, "pocket": 9, "kind": "tap", "hand": "left", "description": "1/4-20 spiral point", "diameter": 0.25, "stickout": 2, "lengthOffset": 9, "length": 5.9065 }
          ],
          "stock": { "workOffset": "G55", "material": "aluminium 6061-T6", "parallels": "0.75 parallels", "min": { "x": -0.1, "y": -3.1, "z": -1 }, "max": { "x": 5.1, "y": 0.1, "z": 0 } },
          "holding": [
            { "name": "toe clamp, left", "shape": "box", "workOffset": "G55", "min": { "x": -1.5, "y": -2, "z": -1 }, "max": { "x": 0.25, "y": -1, "z": 0.75 }, "torque": "30 lbf·ft" },
            { "name": "toe clamp, right", "shape": "box", "workOffset": "G55", "min": { "x": 4.75, "y": -2, "z": -1 }, "max": { "x": 6.5, "y": -1, "z": 0.75 }, "torque": "30 lbf·ft" },
            { "name": "stud", "shape": "cylinder", "workOffset": "G55", "centre": { "x": -0.8, "y": -1.5 }, "diameter": 0.5, "bottom": -1, "top": 1.6 }
          ],
          "job": { "part": "Bearing cap", "operation": "20", "revision": "B", "notes": "Burrs off the sawn edge first; long edge against the stops." },
          "airCut": { "clearance": 1, "raiseStep": 1, "rapidOverride": 0.5 },
          "characteristics": [
            { "name": "bore", "nominal": 1.0, "plus": 0.0005, "minus": 0.0005, "instrument": "bore gauge", "kind": "diameter", "side": "inside", "tool": 1 },
            { "name": "depth", "nominal": 0.25, "plus": 0.002, "minus": 0.002, "instrument": "depth micrometer", "kind": "depth", "tool": 1 }
          ],
          "parking": [ "axes to the power-off position", "witness marks aligned", "power off at the isolator" ]
        }
        """;

    public static Setup Setup { get; } = SetupFile.Read(Encoding.UTF8.GetBytes(SetupJson), "sample.setup.json");

    public static CheckResult Check { get; } =
        new()
        {
            Program = new()
            {
                Name = "bearing-cap-op20.nc",
                Sha256 = Convert.ToHexStringLower(SHA256.HashData("sample"u8)),
                Bytes = 1234,
                Lines = 80,
                BlocksExecuted = 78,
                Units = "inch",
                FollowedToEnd = true,
            },
            Tools = [Use(1, "G55", -0.25m, 312.4m), Use(4, "G55", -1.1m, 64.2m), Use(9, "G55", -0.7m, 41m)],
            WorkOffsets = [new("G55", -1.1m, new(null, null, null))],
            AirCut = new()
            {
                Possible = true,
                MinimumRaise = 3.7m,
                MaximumRaise = 5.1m,
                SuggestedRaise = 4m,
                Registers = [new("G55", "z", -18.125m, -14.125m)],
            },
            Stops = [.. Approach(1, 1, 9), .. Approach(4, 4, 31), .. Approach(9, 9, 55)],
            RunTime = new(
                417.6m,
                [
                    new(150, 150, 0.5m, 612) { Tools = [new(1, 400), new(4, 150), new(9, 62)] },
                    new(75, 300, 0.5m, 801) { Tools = [new(1, 500), new(4, 200), new(9, 101)] },
                ]
            ),
            BlockDelete = new(false, 3),
            OperatorStops =
            [
                Waits(1, "M1", 28, "N190 M1 (LOOK AT THE FLOOR)", "LOOK AT THE FLOOR", "block"),
                Waits(2, "M0", 52, "N400 M0", "BLOW OUT THE HOLES", "before"),
                Waits(3, "M0", 70, "N500 M0", "", null),
            ],
            Restarts =
            [
                Again(1, 4, "N100 T1 M6") with
                {
                    FromTheTop = true,
                },
                Again(4, 29, "N200 T4 M6") with
                {
                    NotStated = ["the work offset (G54 …)", "S"],
                },
                Again(9, 53, "N450 T9 M6") with
                {
                    Cautions = ["a shift (G52, G92) is in force here, and a reset may take it away"],
                },
            ],
            NotChecked = ["holder contact: T4 has no holder", "acceleration: not given, rapids are timed as instant"],
            Findings =
            [
                new()
                {
                    Id = "listed-tool-unused",
                    Level = Level.Note,
                    Message = "T12 is in the setup and the program does not use it.",
                    Remedy = "Leave it out, or look whether a tool change is missing.",
                },
                new()
                {
                    Id = "length-offset-is-not-the-tools",
                    Level = Level.Stop,
                    Line = 42,
                    Block = "G43 H2 Z1.",
                    Tool = 4,
                    Message =
                        "T4 is in the spindle and H2 is commanded; T4's own is H4. The tip would be 0.3745 in lower than the program believes.",
                    Remedy = "Put H4 in the block, or say in the setup that H2 belongs to T4.",
                },
                new()
                {
                    Id = "units-not-stated",
                    Level = Level.Check,
                    Line = 3,
                    Block = "G0 X0. Y0.",
                    Message = "No G20 or G21 before the first move; read as inch, as the setup says.",
                    Remedy = "State the units in the first block.",
                },
            ],
        };

    public static SheetInput Input(PaperSize paper = PaperSize.Letter) =>
        new()
        {
            Setup = Setup,
            SetupSha256 = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(SetupJson))),
            Check = Check,
            Path = Path,
            Printed = Printed,
            Paper = paper,
        };

    static OperatorStop Waits(int number, string kind, int line, string block, string said, string? from) =>
        new()
        {
            Number = number,
            Kind = kind,
            Tool = 1,
            Line = line,
            Block = block,
            Instruction = said,
            InstructionFrom = from,
        };

    static Restart Again(int tool, int line, string block) =>
        new()
        {
            Tool = tool,
            Line = line,
            Block = block,
            InForce = ["G20", "G17", "G90", "G94", "G98", "G40", "G49", "G80", "G55"],
        };

    static ToolUse Use(int tool, string offset, decimal lowest, decimal seconds) =>
        new()
        {
            Tool = tool,
            Uses = 1,
            LengthOffsets = [tool],
            WorkOffsets = [offset],
            LowestTip = lowest,
            Seconds = seconds,
            Coolant = tool == 1 ? ["flood"] : [],
            Bounds = new(null, null, null),
        };

    static Stop[] Approach(int tool, int h, int line) =>
        [
            Stop("position", tool, null, line - 1, $"G0 G90 G55 X0.5 Y-0.5 (T{tool})"),
            Stop("approach", tool, h, line, $"G43 H{h} Z0.25 M8") with
            {
                MachineTo = new(-22m, -9.75m, -12.8125m),
                MachineToRaised = new(-22m, -9.75m, -8.8125m),
                DistanceToGo = new(0, 0, -12.3125m),
                DistanceToGoRaised = new(0, 0, -8.3125m),
                TipAbovePartZero = 0.25m,
                TipAbovePartZeroRaised = 4.25m,
                AirBelowRaised = 4.25m,
                Below = "stock",
                Gauge = "4.0000 + 0.2500",
            },
        ];

    static Stop Stop(string kind, int tool, int? h, int line, string block) =>
        new()
        {
            Number = line,
            Kind = kind,
            Tool = tool,
            LengthOffset = h,
            WorkOffset = "G55",
            Line = line,
            Block = block,
            From = new(null, null, null),
            To = new(0.5m, -0.5m, 0.25m),
            MachineTo = new(-22m, -9.75m, -0.7525m),
            MachineToRaised = new(-22m, -9.75m, -0.7525m),
            DistanceToGo = new(null, null, null),
            DistanceToGoRaised = new(null, null, null),
        };

    /// <summary>A profile, two holes and a tapped hole, in setup space.</summary>
    public static IReadOnlyList<TipRun> Path { get; } =
    [
        Run(1, true, (0.5, -0.5, 10), (0.5, -0.5, 0.25)),
        Run(
            1,
            false,
            (0.5, -0.5, 0.25),
            (0.5, -0.5, -0.25),
            (4.5, -0.5, -0.25),
            (4.5, -2.5, -0.25),
            (0.5, -2.5, -0.25),
            (0.5, -0.5, -0.25)
        ),
        Run(1, true, (0.5, -0.5, -0.25), (0.5, -0.5, 10)),
        Run(4, true, (1, -1.5, 10), (1, -1.5, 0.25)),
        Run(4, false, (1, -1.5, 0.25), (1, -1.5, -1.1)),
        Run(4, true, (1, -1.5, -1.1), (1, -1.5, 0.25), (4, -1.5, 0.25)),
        Run(4, false, (4, -1.5, 0.25), (4, -1.5, -1.1)),
        Run(9, false, (1, -1.5, 0.25), (1, -1.5, -0.7)),
    ];

    static TipRun Run(int tool, bool rapid, params (double X, double Y, double Z)[] tip) =>
        new(tool, rapid, [.. tip.Select(t => new Place3(t.X - 22.5, t.Y - 9.25, t.Z - 18.125))]);
}
