using System.Text;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Setups;

/// <summary>Setup texts of our own invention that tests read, whole or with one thing changed.</summary>
static class SetupSamples
{
    /// <summary>Every field of the format.</summary>
    public const string Full = """
        {
          "format": "handwheel-setup/1",
          "units": "inch",
          "machine": {
            "name": "Mill 2",
            "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] },
            "reference": { "x": 0, "y": 0, "z": 0 },
            "secondReference": { "x": -20, "y": 0, "z": 0 },
            "toolChangeZ": 0,
            "harmless": ["G8", "M41"],
            "suppressesHolds": ["M49"],
            "rapid": { "x": 1000, "y": 1000, "z": 800 },
            "acceleration": { "x": 100, "y": 100, "z": 80 },
            "cornerTolerance": 0.002,
            "rapidPath": "straight",
            "maxFeed": 500,
            "maxSpindle": 10000,
            "toolChangeSeconds": 5,
            "leastIncrement": 0.0001,
            "airCutRates": [ { "cut": 150, "rapid": 150 }, { "cut": 75, "rapid": 300 } ],
            "reads": {
              "arcCentres": "incremental",
              "arcTolerance": 0.0005,
              "wholeNumbers": "units",
              "dwellP": "milliseconds",
              "subprogramCall": "P",
              "peckRetract": 0.02,
              "peckClearance": 0.05,
              "lengthOffsetOnToolChange": "keep",
              "lengthOffsetMoves": "withZ",
              "referenceReturnCancelsLength": false,
              "toolChangeRetracts": true,
              "diameterRegister": "diameter",
              "compensationEntry": "tangent",
              "compensationCorners": "lines",
              "compensationInside": "refuse",
              "compensationExit": "centre",
              "fix": "down",
              "logic": "truth"
            }
          },
          "workOffsets": { "G55": { "x": -22.5, "y": -9.25, "z": -18.125, "zero": "left front corner", "foundBy": "edge finder" }, "G54.1P3": { "x": 0, "y": 0, "z": 0 } },
          "commonOffset": { "x": 0, "y": 0, "z": 0 },
          "tools": [
            { "tool": 1, "pocket": 1, "kind": "end mill", "description": "1/2 4FL", "material": "carbide", "diameter": 0.5, "cornerRadius": 0,
              "hand": "right", "flutes": 4, "fluteLength": 1.25, "stickout": 1.75, "stickoutLeast": 1.7, "stickoutMost": 1.8, "pitch": null, "floating": false,
              "lengthOffset": 1, "length": 5.0625, "lengthWear": 0, "diameterOffset": 1, "diameterValue": 0.5, "diameterWear": 0,
              "alsoLengthOffsets": [], "alsoDiameterOffsets": [],
              "holder": [ { "diameter": 1.75, "length": 2.5 } ] }
          ],
          "stock": { "workOffset": "G55", "material": "aluminium 6061-T6", "parallels": "0.75 pair",
                     "min": { "x": -0.1, "y": -3.1, "z": -1.0 }, "max": { "x": 5.1, "y": 0.1, "z": 0.05 } },
          "holding": [
            { "name": "toe clamp, left", "shape": "box", "workOffset": "G55",
              "min": { "x": -1.5, "y": -2.0, "z": -1.0 }, "max": { "x": 0.25, "y": -1.0, "z": 0.75 }, "torque": "45 lbf·ft" },
            { "name": "stud", "shape": "cylinder", "workOffset": "G55",
              "centre": { "x": -0.8, "y": -1.5 }, "diameter": 0.5, "bottom": -1.0, "top": 1.6, "torque": "hand tight" }
          ],
          "airCut": { "clearance": 1.0, "raiseStep": 1.0, "rapidOverride": 0.5, "maximumRaise": null },
          "rules": { "lengthOffsetMatchesTool": true, "approachClearance": 0.1, "materialGrid": 0.01, "wet": true },
          "job": { "part": "", "operation": "", "revision": "", "notes": "" },
          "characteristics": [ { "name": "bore", "nominal": 1.0, "plus": 0.0005, "minus": 0.0005, "instrument": "bore gauge",
                                 "kind": "diameter", "side": "inside", "tool": 4, "workOffset": "G55", "axis": "x" } ],
          "parking": [ "axes to the power-off position", "witness marks aligned" ]
        }
        """;

    /// <summary>Only what is required.</summary>
    public const string Least = """
        {
          "format": "handwheel-setup/1",
          "units": "mm",
          "machine": {
            "travel": { "x": [-700, 0], "y": [-400, 0], "z": [-500, 0] }
          },
          "workOffsets": {},
          "tools": []
        }
        """;

    public static Setup Read(string text) => SetupFile.Read(Encoding.UTF8.GetBytes(text), "job.setup.json");

    /// <summary><see cref="Full"/> with one piece of text replaced; the piece must be there.</summary>
    public static string Changed(string old, string changed)
    {
        var text = Full.ReplaceLineEndings("\n");
        Assert.Contains(old, text, StringComparison.Ordinal);
        var at = text.IndexOf(old, StringComparison.Ordinal);
        return text[..at] + changed + text[(at + old.Length)..];
    }
}
