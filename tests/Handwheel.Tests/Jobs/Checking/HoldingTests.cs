using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Moves against what holds the part, through the whole check.</summary>
public sealed class HoldingTests
{
    const string Start = "G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z1.\n";

    /// <summary>The straight way from 0,0 to 6,2 passes the clamp by more than an inch; with equal rates the corner of the dogleg is at 2,2, a tenth beside it.</summary>
    [Theory]
    [InlineData("\"rapidPath\": \"straight\",", false)]
    [InlineData("\"rapidPath\": \"dogleg\",", true)]
    [InlineData("", true)]
    public void A_rapid_with_each_axis_at_its_own_rate(string rapidPath, bool hits)
    {
        var result = Run(
            "G0 Z0.1\nX6. Y2.",
            """{ "name": "clamp", "shape": "box", "workOffset": "G54", "min": { "x": 1.5, "y": 2.1, "z": -1 }, "max": { "x": 2.5, "y": 3, "z": 0.75 } }""",
            rapidPath
        );
        var found = result.Findings.Where(f => f.Id == "rapid-into-holding").ToList();
        Assert.Equal(hits ? [6] : [], found.Select(f => f.Line));
        Assert.All(found, f => Assert.Contains("0.1500 in inside", f.Message, StringComparison.Ordinal));
        Assert.All(found, f => Assert.Contains("own rate", f.Message, StringComparison.Ordinal));
    }

    /// <summary>A helix around a stud: clear of it until the arc bulges to X1.5, where a tool of half an inch is 0.05 in it.</summary>
    [Theory]
    [InlineData("1.95", true)]
    [InlineData("2.05", false)]
    public void An_arc_bulges_into_a_stud(string centre, bool hits)
    {
        var result = Run(
            "G1 Z0.1 F20.\nX0. Y-1.5\nG3 X0. Y1.5 Z-0.1 I0. J1.5",
            $$"""{ "name": "stud", "shape": "cylinder", "workOffset": "G54", "centre": { "x": {{centre}}, "y": 0 }, "diameter": 0.5, "bottom": -1, "top": 1.2 }"""
        );
        Assert.Equal(hits ? [7] : [], result.Findings.Where(f => f.Id == "feed-into-holding").Select(f => f.Line));
    }

    [Fact]
    public void One_cause_is_one_finding_with_the_first_place()
    {
        var result = Run(
            "G1 Z0.1 F20.\nX2.\nX3.\nX2.\nX3.\nG0 Z2.\nX0.",
            """{ "name": "jaw", "shape": "box", "workOffset": "G54", "min": { "x": 1.5, "y": -1, "z": -1 }, "max": { "x": 4, "y": 1, "z": 0.75 } }"""
        );
        var finding = Assert.Single(result.Findings, f => f.Id == "feed-into-holding");
        Assert.Equal(6, finding.Line);
        Assert.EndsWith("And 3 more like it, lines 7, 8, 9.", finding.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(result.Findings, f => f.Id == "rapid-into-holding");
    }

    [Fact]
    public void More_places_are_listed_as_they_stand_in_the_file()
    {
        var result = Run(
            "G1 Z0.1 F20.\nX2.\nM98 P50\nX3.\nM30\nO50\nX2.\nX3.\nX2.\nM99",
            """{ "name": "jaw", "shape": "box", "workOffset": "G54", "min": { "x": 1.5, "y": -1, "z": -1 }, "max": { "x": 4, "y": 1, "z": 0.75 } }"""
        );
        var finding = Assert.Single(result.Findings, f => f.Id == "feed-into-holding");
        Assert.EndsWith("And 4 more like it, lines 8, 11, 12, 13.", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Over_the_top_is_clear_and_what_is_not_looked_at_is_said()
    {
        var result = Run(
            "G0 X6. Y0.\nX0.",
            """{ "name": "jaw", "shape": "box", "workOffset": "G54", "min": { "x": 1.5, "y": -1, "z": -1 }, "max": { "x": 4, "y": 1, "z": 0.999 } }"""
        );
        Assert.DoesNotContain(result.Findings, f => f.Level == Level.Stop);
        Assert.Contains("holder contact: T1 has no holder", result.NotChecked);
    }

    static CheckResult Run(string moves, string holding, string rapidPath = "\"rapidPath\": \"straight\",") =>
        Setups.Run(
            Start + moves + "\nM30",
            Setups.From(
                "inch",
                """[{ "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5 }]""",
                rapidPath + """ "rapid": { "x": 1000, "y": 1000, "z": 1000 } """,
                $"\"holding\": [{holding}]"
            )
        );
}
