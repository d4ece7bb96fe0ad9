using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Whatever stands in a file: an answer, or one sentence that says why there is none.</summary>
public sealed class OddProgramsTests
{
    static readonly string[] Words =
    [
        "G0",
        "G1",
        "G2",
        "G3",
        "G28",
        "G30",
        "G53",
        "G52",
        "G92",
        "G10 L2 P1",
        "G90",
        "G91",
        "G43 H1",
        "G43 H9",
        "G44 H1",
        "G49",
        "G54",
        "G55",
        "G54.1 P7",
        "G81",
        "G83",
        "G84",
        "G80",
        "G98",
        "G99",
        "G93",
        "G95",
        "G94",
        "G20",
        "G21",
        "G18",
        "G17",
        "G41 D1",
        "G40",
        "T1 M6",
        "T7 M6",
        "M98 P1",
        "M99",
        "M3",
        "M5",
        "S100",
        "F10.",
        "F0",
        "X1.",
        "X-99999999999.",
        "Y-2.5",
        "Z-1.",
        "Z.1",
        "I1.",
        "J-.5",
        "K0.",
        "R.2",
        "Q.1",
        "Q0",
        "P1",
        "A90.",
        "/",
        "(",
        ")",
        "#1=2",
        "..",
        "é",
        "\n",
        "\n",
        "\n",
    ];

    static readonly Setup Setup = Handwheel.Tests.Jobs.Checking.Setups.From(
        "inch",
        """[{ "tool": 1, "kind": "tap", "diameter": 0.5, "pitch": 0.05, "lengthOffset": 1, "length": 5, "diameterOffset": 1, "diameterValue": 0.5 }]""",
        """ "rapid": { "x": 1000, "y": 1000, "z": 800 }, "acceleration": { "x": 100, "y": 100, "z": 80 }, "cornerTolerance": 0.002, "maxFeed": 100, "maxSpindle": 50, "reads": { "toolChangeRetracts": false } """,
        """
        "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 1, "y": 1, "z": 0 } },
        "holding": [{ "name": "jaw", "shape": "box", "workOffset": "G54", "min": { "x": 1, "y": -1, "z": -1 }, "max": { "x": 4, "y": 1, "z": 0.5 } },
                    { "name": "lost", "shape": "cylinder", "workOffset": "G59", "centre": { "x": 0, "y": 0 }, "diameter": 1, "bottom": 0, "top": 1 }],
        "rules": { "approachClearance": 0.1 }
        """,
        """{ "G54": { "x": -20, "y": -10, "z": -18 }, "G55": { "x": -10 }, "G59": { "x": 0, "y": 0 } }"""
    );

    [Fact]
    public void Any_order_of_words_gives_a_result_or_a_sentence() =>
        Gen.Int[0, Words.Length - 1]
            .Array[1, 60]
            .Sample(
                picks =>
                {
                    var text = string.Join(' ', picks.Select(i => Words[i]));
                    try
                    {
                        var result = Handwheel.Tests.Jobs.Checking.Setups.Run(
                            text,
                            Setup,
                            new CheckOptions { BlocksMost = 2000 }
                        );
                        Assert.True(result.Findings.Count < 2000);
                        Assert.All(result.Findings, f => Assert.NotEqual("", f.Message));
                        Assert.True(result.AirCut.Possible || result.AirCut.Why is not null);
                        Assert.True(result.AirCut.SuggestedRaise is null || result.AirCut.Possible);
                    }
                    catch (InputFault fault)
                    {
                        Assert.Contains("test.nc", fault.Message, StringComparison.Ordinal);
                    }
                },
                iter: 5000
            );
}
