using System.Globalization;
using System.Text;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>A small job of our own invention: two tools, one work offset, and what the control shows at every step.</summary>
static class SpacerPlate
{
    public const string Machine = "Mill 9";

    public static readonly string[] Program =
    [
        "%",
        "O0900 (SPACER PLATE)",
        "N10 G20",
        "N20 G0 G17 G40 G49 G80 G90",
        "N100 T1 M6",
        "N110 G54 G0 X-0.5 Y0.5 S3000 M3",
        "N120 G43 H1 Z1.0 M8",
        "N130 G1 Z-0.25 F30.",
        "N140 X4.5",
        "N150 G0 Z1.0 M9",
        "N160 G91 G28 Z0.",
        "N170 G90",
        "N200 T2 M6",
        "N210 G54 G0 X1. Y1. S2000 M3",
        "N220 G43 H2 Z1.0 M8",
        "N230 G81 X1. Y1. Z-0.5 R0.1 F10.",
        "N240 X3.",
        "N250 G80",
        "N260 G0 Z1.0 M9",
        "N270 G91 G28 Z0.",
        "N280 G90",
        "N290 M30",
        "%",
    ];

    const string MachineFacts = """
          "format": "handwheel-setup/1",
          "units": "inch",
          "machine": {
            "name": "Mill 9",
            "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] },
            "reference": { "x": 0, "y": 0, "z": 0 },
            "toolChangeZ": 0,
            "rapid": { "x": 1000, "y": 1000, "z": 800 },
            "rapidPath": "straight",
            "maxFeed": 500,
            "maxSpindle": 10000,
            "airCutRates": [ { "cut": 150, "rapid": 150 } ]
          },
          "parking": [ "axes to the power-off position" ],
        """;

    public static readonly string Facts = "{" + MachineFacts + """ "workOffsets": {}, "tools": [] }""";

    public static readonly string Setup =
        "{"
        + MachineFacts
        + """
              "workOffsets": { "G54": { "x": -20.1234, "y": -10.4321, "z": -18.0625 } },
              "commonOffset": { "x": 0, "y": 0, "z": 0 },
              "tools": [
                { "tool": 1, "pocket": 1, "kind": "end mill", "description": "1/2 4FL", "diameter": 0.5, "flutes": 4,
                  "fluteLength": 1.25, "stickout": 2, "lengthOffset": 1, "length": 5.0417 },
                { "tool": 2, "pocket": 2, "kind": "drill", "description": "1/4 jobber", "diameter": 0.25, "flutes": 2,
                  "fluteLength": 2, "stickout": 3, "lengthOffset": 2, "length": 6.1283 }
              ],
              "stock": { "workOffset": "G54", "material": "aluminium 6061-T6",
                         "min": { "x": 0, "y": 0, "z": -0.75 }, "max": { "x": 4, "y": 2, "z": 0 } },
              "airCut": { "clearance": 1, "raiseStep": 1, "rapidOverride": 0.5 },
              "job": { "part": "Spacer plate", "operation": "10", "revision": "A" },
              "characteristics": [ { "name": "thickness", "nominal": 0.75, "plus": 0.005, "minus": 0.005, "instrument": "micrometer" } ]
            }
            """;

    /// <summary>lowest tip −0.5, so that 1.5 would clear by 1 in; 2.0000 is the next whole inch.</summary>
    public const decimal Raise = 2m;

    /// <summary>What the control shows: the register as the setup gives it, work offset + length + programmed Z for machine Z.</summary>
    static readonly Dictionary<string, decimal> Shows = new(StringComparer.Ordinal)
    {
        ["G54.x"] = -20.1234m,
        ["G54.y"] = -10.4321m,
        ["G54.z"] = -18.0625m,
        ["H1.length"] = 5.0417m,
        ["H2.length"] = 6.1283m,
        ["tool.1.machine-z"] = -18.0625m + 5.0417m + 1m,
        ["tool.2.machine-z"] = -18.0625m + 6.1283m + 1m,
    };

    /// <summary>What a person at the machine types at a step that takes a reading.</summary>
    public static string Reading(string step)
    {
        if (step.EndsWith(".rapid", StringComparison.Ordinal))
            return "5";
        if (step == "ready.table")
            return "0.0000";
        if (step.StartsWith("first-piece.", StringComparison.Ordinal))
            return "0.7501";
        var known = Shows.FirstOrDefault(s => step.EndsWith(s.Key, StringComparison.Ordinal)).Value;
        if (step is "ready.tool.1.length" or "ready.tool.2.length")
            known = Shows[step.Contains(".1.", StringComparison.Ordinal) ? "H1.length" : "H2.length"];
        var raised = step.StartsWith("air-cut.", StringComparison.Ordinal);
        return (raised ? known + Raise : known).ToString("0.0000", CultureInfo.InvariantCulture);
    }

    /// <summary>The block that the page asks for, as it stands in the control.</summary>
    public static string Line(int number) => Program[number - 1];

    public static byte[] ProgramBytes => Encoding.UTF8.GetBytes(string.Join('\n', Program) + "\n");
    public static byte[] SetupBytes => Encoding.UTF8.GetBytes(Setup);
}
