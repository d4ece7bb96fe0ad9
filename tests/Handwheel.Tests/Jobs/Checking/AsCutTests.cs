using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>What the check hands over for the picture of the stock as cut.</summary>
public sealed class AsCutTests
{
    const string Stock = """
        "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 1, "y": 1, "z": 0 } }
        """;

    static CheckResult Run(
        string moves,
        string more = Stock,
        CheckOptions? options = null,
        string tool = "\"diameter\": 0.5,"
    ) =>
        Setups.Run(
            "G20 G90\nT1 M6\nG54 G0 X-1.5 Y0. S3000 M3\nG43 H1 Z1.\n" + moves + "\nG0 Z1.\nM30",
            Setups.From(
                "inch",
                $$"""[{ "tool": 1, "kind": "end mill", {{tool}} "lengthOffset": 1, "length": 5 }]""",
                "\"rapidPath\": \"straight\"",
                more
            ),
            options
        );

    /// <summary>A slot 0.5 wide and 0.3 deep along X, and a hole through the block.</summary>
    [Fact]
    public void Heights_are_those_that_the_tool_leaves()
    {
        var blank = Assert.Single(Run("G1 Z-0.3 F20.\nX1.5\nG0 Z1.\nX0. Y0.7\nG1 Z-1.1\nG0 Z1.").AsCut.Blanks);
        Assert.Equal((-21, -19, -11, -9), (blank.MinX, blank.MaxX, blank.MinY, blank.MaxY));
        Assert.Equal((-19, 1), (blank.Bottom, blank.Height));
        Assert.Equal(blank.Columns * blank.Rows, blank.Heights.Length);
        Assert.Equal(1, At(blank, -0.9, -0.9), 6);
        Assert.Equal(0.7, At(blank, 0.2, 0.2), 6);
        Assert.Equal(0.7, At(blank, -0.9, -0.2), 6);
        Assert.Equal(1, At(blank, 0.2, 0.3), 6);
        Assert.Equal(0, At(blank, 0.1, 0.8), 6);
    }

    /// <summary>A blank of 20 in has 1016 points along a side at 0.5 mm: those that are taken together show the slot between them.</summary>
    [Fact]
    public void A_large_blank_is_thinned_and_loses_no_slot()
    {
        const string large = """
            "stock": { "workOffset": "G54", "min": { "x": -10, "y": -1, "z": -1 }, "max": { "x": 10, "y": 1, "z": 0 } }
            """;
        var blank = Assert.Single(
            Run("G0 X0.\nG1 Z-0.3 F20.\nY0.2\nG0 Z1.", large, null, "\"diameter\": 0.05,").AsCut.Blanks
        );
        Assert.Equal((320, 102), (blank.Columns, blank.Rows));
        Assert.Equal(0.7, blank.Heights.Span.ToArray().Min(), 6);
    }

    /// <summary>A slot of 0.5 in and one narrower than a cell: the first is there, narrower at most, the second is not deeper than its highest point.</summary>
    [Fact]
    public void On_the_coarser_grid_nothing_is_lower_than_what_is_left()
    {
        const string large = """
            "stock": { "workOffset": "G54", "min": { "x": -10, "y": -1, "z": -1 }, "max": { "x": 10, "y": 1, "z": 0 } }
            """;
        AsCut Cut(string diameter) =>
            Run("G0 X0. Y-2.\nG1 Z-0.3 F20.\nY2.\nG0 Z1.", large, null, $"\"diameter\": {diameter},").AsCut;
        var wide = Cut("0.5");
        var cells = Assert.Single(wide.NowhereLower);
        Assert.Equal((256, 102), (cells.Columns, cells.Rows));
        Assert.Equal(0.7, At(cells, 0, 0), 6);
        for (var x = -9.99; x < 10; x += 0.011)
            Assert.InRange(At(cells, x, 0.3), At(wide.Blanks[0], x, 0.3) - 1e-6, 1);
        Assert.Equal(1, Cut("0.03").NowhereLower[0].Heights.Span.ToArray().Min(), 6);
    }

    [Fact]
    public void What_is_not_known_is_not_shown_and_why_is_said()
    {
        Assert.Equal("the setup describes no stock", Run("G1 Z-0.3 F20.", "").AsCut.Why);
        Assert.Equal("it was switched off", Run("G1 Z-0.3 F20.", Stock, new() { Material = false }).AsCut.Why);
        Assert.Equal(
            "from line 5 on: diameter or length of T1 is not known",
            Run("G1 Z-0.3 F20.", Stock, null, "").AsCut.Why
        );
        Assert.Contains("a block was not followed", Run("G1 Z-0.3 F20.\nG5.1 Q1").AsCut.Why, StringComparison.Ordinal);
        foreach (var result in (CheckResult[])[Run("G1 Z-0.3 F20.", ""), Run("G1 Z-0.3 F20.", Stock, null, "")])
            Assert.Empty(result.AsCut.Blanks);
    }

    /// <summary>In the cell under a place given from G54, whose zero is at X-20 Y-10.</summary>
    static double At(AsCutBlank blank, double x, double y)
    {
        var column = (int)((x - 20 - blank.MinX) / (blank.MaxX - blank.MinX) * blank.Columns);
        var row = (int)((y - 10 - blank.MinY) / (blank.MaxY - blank.MinY) * blank.Rows);
        return blank.Heights.Span[row * blank.Columns + column];
    }
}
