using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>What the check says of a compensated path: bounds as programmed, everything else by the tool's centre.</summary>
public class CompensatedCheckTests
{
    const string Start = "G20 G17 G90 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. S3000 M3\nG43 H1 Z1.\nZ0.1\n";
    const string End = "G0 Z1.\nM30\n";

    /// <summary>Half an inch in D1; the blank lies from 0 to 4 in X and Y.</summary>
    static Setup Setup(string more = "", string reads = "") =>
        Setups.From(
            "inch",
            """[{ "tool": 1, "kind": "end mill", "diameter": 0.5, "fluteLength": 1.25, "lengthOffset": 1, "length": 5, "diameterOffset": 1, "diameterValue": 0.5 }]""",
            $$""" "rapid": { "x": 1000, "y": 1000, "z": 800 }, "reads": { {{reads}} } """,
            """ "stock": { "workOffset": "G54", "min": { "x": 1, "y": 1, "z": -1 }, "max": { "x": 4, "y": 4, "z": 0 } } """
                + more,
            """{ "G54": { "x": -20, "y": -10, "z": -18 } }"""
        );

    const string AroundTheBlank = "G1 Z-0.5 F20.\nG41 D1 X1. Y0.5 F10.\nY4.\nX4.\nY1.\nX0.5\nG40 X0. Y0.\n";

    [Fact]
    public void Bounds_are_programmed_and_distances_are_the_centres()
    {
        var result = Setups.Run(Start + AroundTheBlank + End, Setup());
        var tool = Assert.Single(result.Tools);
        Assert.Equal([0m, 4m], tool.Bounds.X!);
        Assert.Equal([0m, 4m], tool.Bounds.Y!);
        Assert.Equal(-0.5m, tool.LowestTip);
        // plunge 0.6; in from (0,0) to (0.75,0.5); 3.5, 3, 3 and 3.5 with three quarter turns of 0.25; out from (0.5,0.75) to (0,0)
        var ways = 0.6 + 2 * Math.Sqrt(0.75 * 0.75 + 0.25) + 3.5 + 3 + 3 + 3.5 + 0.75 * Math.PI * 0.5;
        Assert.Equal(ways, (double)tool.CutDistance!.Value, 5);
    }

    [Fact]
    public void The_material_is_cut_where_the_tool_is()
    {
        // beside the blank: what is programmed is its edge
        var result = Setups.Run(Start + AroundTheBlank + End, Setup());
        Assert.Empty(result.Material);
        Assert.DoesNotContain(result.Findings, f => f.Level == Level.Stop);
        // on its other side the tool is in the blank
        var inside = Setups.Run(Start + AroundTheBlank.Replace("G41", "G42", StringComparison.Ordinal) + End, Setup());
        Assert.True(Assert.Single(inside.Material).Removed > 1);
    }

    [Fact]
    public void Holding_is_met_by_the_centres_way()
    {
        // a stud that the programmed path, taken for the centre's, would go through by 0.2
        const string Stud =
            """, "holding": [{ "name": "stud", "shape": "cylinder", "workOffset": "G54", "centre": { "x": 1.3, "y": 2 }, "diameter": 0.5, "bottom": -2, "top": 0.05 }]""";
        var program = Start + AroundTheBlank + End;
        Assert.DoesNotContain("feed-into-holding", Setups.Run(program, Setup(Stud)).Findings.Select(f => f.Id));
        var pass = Assert.Single(Setups.Run(program, Setup(Stud)).NearestPasses);
        Assert.Equal(0.05m, pass.Distance);
        var zero = program.Replace("D1", "D2", StringComparison.Ordinal);
        Assert.Contains("feed-into-holding", Setups.Run(zero, Setup(Stud)).Findings.Select(f => f.Id));
    }

    [Fact]
    public void Travel_is_left_by_the_centre_alone()
    {
        // programmed to machine X0, its limit; the centre goes half a diameter further
        var program = Start + "G42 D1 G1 X20. F10.\nY5.\nG40 X0.\n" + End;
        Assert.Contains("outside-travel", Setups.Run(program, Setup()).Findings.Select(f => f.Id));
        var left = program.Replace("G42", "G41", StringComparison.Ordinal);
        Assert.DoesNotContain("outside-travel", Setups.Run(left, Setup()).Findings.Select(f => f.Id));
    }

    [Fact]
    public void A_stop_gives_where_the_axes_are_and_says_so()
    {
        var result = Setups.Run(Start + "G41 D1 G1 X1. Y0.5 F10.\nY4. Z-0.5\nG40 X0.\n" + End, Setup());
        var entry = result.Stops.Single(s => s.Kind == "entry");
        Assert.Equal((0.75m, 0.5m), (entry.From.X, entry.From.Y));
        Assert.Equal((0.75m, 4m, -19.25m), (entry.To.X, entry.To.Y, entry.MachineTo.X));
        Assert.Contains(
            result.NotChecked,
            n => n.Contains("gives those of the tool's centre", StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("G41 D1 G1 X0.2 F10.\nY4.\nG40 X-1.", "is 0.2000 in long; the radius in D1 is 0.2500 in")]
    [InlineData(
        "G41 D1 G1 X1. F10.\nY2.\nX0.8\nY0.\nG40 X-1.",
        "takes 0.2500 in of each, and one of them has 0.2000 in"
    )]
    [InlineData("G41 D1 G1 X1. F10.\nY2.\nG3 X0.8 Y2.2 R0.2\nG1 X0.\nG40 Y4.", "An arc of radius 0.2000 in")]
    [InlineData(
        "G41 D1 G1 X1. F10.\nY2.\nG91 G28 X0\nG90 G40 Y4.",
        "A reference return, a move in machine coordinates"
    )]
    [InlineData("G41 D1 G1 X1. F10.\nY2.\nG42 Y3.\nG40 X4.", "G42 comes on while the other one is on")]
    public void What_cannot_be_is_one_finding_with_its_figures(string program, string words)
    {
        var result = Setups.Run(Start + program + "\n" + End, Setup());
        var finding = Assert.Single(result.Findings, f => f.Id == "compensation-entry");
        Assert.Equal(Level.Check, finding.Level);
        Assert.Contains(words, finding.Message, StringComparison.Ordinal);
        Assert.Contains(
            result.NotChecked,
            n => n.Contains("goes elsewhere than was worked out", StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("", 0)]
    [InlineData("\"compensationInside\": \"refuse\"", 1)]
    public void The_machine_says_whether_it_takes_inside_corners(string reads, int findings)
    {
        var result = Setups.Run(Start + "G41 D1 G1 X1. F10.\nY2.\nX0.\nG40 Y4.\n" + End, Setup(reads: reads));
        Assert.Equal(findings, result.Findings.Count(f => f.Id == "compensation-entry"));
    }

    [Fact]
    public void How_far_a_control_looks_ahead_is_said_and_no_finding()
    {
        var result = Setups.Run(Start + "G41 D1 G1 X1. F10.\nY2.\nM8\nS2000\nX0.\nG40 Y4.\n" + End, Setup());
        Assert.DoesNotContain("compensation-entry", result.Findings.Select(f => f.Id));
        Assert.Contains(result.NotChecked, n => n.Contains("2 blocks without X and Y", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_value_the_path_is_as_programmed_and_that_is_said()
    {
        var result = Setups.Run(Start + AroundTheBlank.Replace("D1", "D7", StringComparison.Ordinal) + End, Setup());
        Assert.Contains("diameter-offset-is-not-the-tools", result.Findings.Select(f => f.Id));
        Assert.Contains(
            result.NotChecked,
            n => n.Contains("D7 has no value; moves are judged where they are programmed", StringComparison.Ordinal)
        );
        Assert.Empty(result.Material);
    }

    [Fact]
    public void Left_on_gives_the_radius()
    {
        var result = Setups.Run(Start + "G41 D1 G1 X1. F10.\nY2.\n" + End, Setup());
        var finding = result.Findings.Single(f => f.Id == "compensation-left-on");
        Assert.Contains("by D1, a radius of 0.2500 in", finding.Message, StringComparison.Ordinal);
    }
}
