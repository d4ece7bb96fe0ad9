using System.Text;
using Handwheel.Jobs.Setups;

namespace Handwheel.Bench;

/// <summary>A machine that both programs fit, with everything that the checks use.</summary>
static class BenchSetup
{
    public const string Text = """
        {
          "format": "handwheel-setup/1",
          "units": "inch",
          "machine": {
            "name": "Bench",
            "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] },
            "reference": { "x": 0, "y": 0, "z": 0 },
            "rapid": { "x": 1000, "y": 1000, "z": 800 },
            "acceleration": { "x": 100, "y": 100, "z": 80 },
            "cornerTolerance": 0.002,
            "rapidPath": "straight",
            "maxFeed": 500,
            "maxSpindle": 10000,
            "airCutRates": [ { "cut": 150, "rapid": 150 } ]
          },
          "workOffsets": { "G54": { "x": -30, "y": -15, "z": -20 } },
          "tools": [
            { "tool": 1, "kind": "ball end mill", "diameter": 0.25, "lengthOffset": 1, "length": 5, "stickout": 1.5 },
            { "tool": 2, "kind": "drill", "diameter": 0.25, "lengthOffset": 2, "length": 5.5, "stickout": 2 },
            { "tool": 3, "kind": "tap", "diameter": 0.25, "pitch": 0.05, "lengthOffset": 3, "length": 4.5, "stickout": 2 }
          ],
          "stock": { "workOffset": "G54", "material": "aluminium", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 22, "y": 11, "z": 0 } },
          "holding": [
            { "name": "clamp", "shape": "box", "workOffset": "G54", "min": { "x": -3, "y": -3, "z": -1 }, "max": { "x": -2, "y": 5, "z": 0.75 } },
            { "name": "stud", "shape": "cylinder", "workOffset": "G54", "centre": { "x": -2.5, "y": 8 }, "diameter": 0.5, "bottom": -1, "top": 1.2 }
          ]
        }
        """;

    public static Setup Read() => SetupFile.Read(Encoding.UTF8.GetBytes(Text), "bench-setup.json");
}
