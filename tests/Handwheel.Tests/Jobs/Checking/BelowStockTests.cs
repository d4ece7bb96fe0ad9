using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>The tip under the stock: a note where nothing is near, a look where something is, whatever has been cut away.</summary>
public sealed class BelowStockTests
{
    /// <summary>A block of 4 × 2 × 1 on two parallels, whose tops are its underside; between them a stop 0.3 below it.</summary>
    const string Table = """
        "stock": { "workOffset": "G54", "min": { "x": -2, "y": -1, "z": -1 }, "max": { "x": 2, "y": 1, "z": 0 } },
        "holding": [
          { "name": "parallel", "shape": "box", "workOffset": "G54", "min": { "x": -2, "y": 0.8, "z": -2 }, "max": { "x": 2, "y": 1, "z": -1 } },
          { "name": "stop", "shape": "cylinder", "workOffset": "G54", "centre": { "x": 1, "y": 0 }, "diameter": 0.5, "bottom": -2, "top": -1.3 }]
        """;

    static IReadOnlyList<Finding> Run(string moves, string holding = Table) =>
        [
            .. Setups
                .Run(
                    "G20 G90\nT1 M6\nG54 G0 X-1. Y0. S3000 M3\nG43 H1 Z1.\n" + moves + "\nG0 Z1.\nM30",
                    Setups.From(
                        "inch",
                        """[{ "tool": 1, "kind": "end mill", "diameter": 0.25, "lengthOffset": 1, "length": 5 }]""",
                        "\"rapidPath\": \"straight\"",
                        holding
                    )
                )
                .Findings.Where(f => f.Id is "below-stock" or "feed-into-holding")
                .OrderBy(f => f.Line),
        ];

    [Fact]
    public void A_through_hole_over_a_gap_is_a_note()
    {
        var found = Assert.Single(Run("G1 Z-1.1 F10."));
        Assert.Equal((Level.Note, 5), (found.Level, found.Line));
        Assert.StartsWith("The tip of T1 end mill goes 0.1000 in below", found.Message, StringComparison.Ordinal);
    }

    /// <summary>The hole is over the gap; the level move after it passes the stop, which its two ends do not come near.</summary>
    [Fact]
    public void A_level_move_is_looked_at_along_its_whole_way()
    {
        var found = Run("G1 Z-1.2 F10.\nX1.9");
        Assert.Equal([(Level.Note, 5), (Level.Check, 6)], found.Select(f => (f.Level, f.Line)));
        Assert.Contains("passes 0.1000 in over stop", found[1].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_arc_is_looked_at_along_its_whole_way()
    {
        var found = Run("G0 X0.2\nG1 Z-1.2 F10.\nG3 X0.2 I0.4");
        Assert.Equal([(Level.Note, 6), (Level.Check, 7)], found.Select(f => (f.Level, f.Line)));
    }

    /// <summary>Beside the parallel, 0.055 from it and 0.1 below the stock.</summary>
    [Fact]
    public void What_stands_beside_the_tool_is_near_as_well()
    {
        var found = Run("G1 Y0.62 F10.\nZ-1.1");
        Assert.Equal((Level.Check, 6), Assert.Single(found.Select(f => (f.Level, f.Line))));
        Assert.Contains("passes 0.0550 in from parallel", found[0].Message, StringComparison.Ordinal);
    }

    /// <summary>Judged by the blank: that the place was cut away before makes no difference.</summary>
    [Fact]
    public void What_was_cut_away_still_counts_as_stock()
    {
        var found = Run("G1 Z-1.1 F10.\nG0 Z1.\nX1.\nG1 Z-1.1\nZ1.\nZ-1.25");
        Assert.Equal([(Level.Note, 5), (Level.Check, 10)], found.Select(f => (f.Level, f.Line)));
    }

    [Fact]
    public void Through_holding_is_said_once_and_by_the_rule_for_it()
    {
        var found = Run("G1 Y0.7 F10.\nZ-1.1");
        Assert.Equal(["feed-into-holding"], found.Where(f => f.Level > Level.Note).Select(f => f.Id));
    }

    [Fact]
    public void Beside_the_stock_nothing_is_below_it() => Assert.Empty(Run("G0 Y-1.2\nG1 Z-1.1 F10.\nX1.\nY-1.13"));
}
