using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>The nearest pass to each clamp, and the holder as stacked cylinders.</summary>
public sealed class NearestPassTests
{
    const double Mm = 1e6;

    const string Clamps = """
        "holding": [
          { "name": "toe clamp, left", "shape": "box", "workOffset": "G54", "min": { "x": -3, "y": -1, "z": -1 }, "max": { "x": -1, "y": 1, "z": 0.75 } },
          { "name": "stud", "shape": "cylinder", "workOffset": "G54", "centre": { "x": 3, "y": 0 }, "diameter": 0.5, "bottom": -1, "top": 1.3 }]
        """;

    [Fact]
    public void Every_clamp_has_its_nearest_pass_though_nothing_is_hit()
    {
        // over the clamp at Z0.962: 0.212 above 0.75; beside the stud the centre comes to X2, 1 − 0.25 − 0.25
        var result = Run("G1 X2. F20.\nG0 X0.\nG0 Z0.962\nX-2.\nX0.\nZ2.");
        Assert.DoesNotContain(result.Findings, f => f.Level == Level.Stop);
        Assert.Equal(
            [("toe clamp, left", 8, 0.212m, "above", "tool"), ("stud", 5, 0.5m, "beside", "tool")],
            result.NearestPasses.Select(p => (p.Holding, p.Line, p.Distance, p.Side, p.Part))
        );
        Assert.Equal("T1 passes 0.2120 in above toe clamp, left, at line 8", result.NearestPasses[0].Message);
        Assert.Equal("X-2.", result.NearestPasses[0].Block);
        Assert.Equal([1, 2], result.NearestPasses.Select(p => p.Number));
        Assert.Equal(("G54", 2m, 0m, 1m), Place(result.NearestPasses[1]));
        Assert.InRange(result.NearestPasses[0].At.X!.Value, -3.25m, -0.75m);
        Assert.Equal(0.962m, result.NearestPasses[0].At.Z);
    }

    static (string, decimal?, decimal?, decimal?) Place(NearestPass pass) =>
        (pass.WorkOffset, pass.At.X, pass.At.Y, pass.At.Z);

    /// <summary>A ball of 0.5 in with its tip 0.1 in below the edge it passes: its centre is 0.15 in above it and 0.35 in beside it, √(0.15² + 0.35²) − 0.25; half as large a corner: √(0.025² + 0.225²) − 0.125.</summary>
    [Theory]
    [InlineData("ball end mill", "", 0.130789)]
    [InlineData("end mill", ", \"cornerRadius\": 0.125", 0.101385)]
    [InlineData("end mill", "", 0.1)]
    [InlineData("drill", "", 0.1)]
    public void A_corner_radius_passes_an_edge_further_away(string kind, string corner, double distance)
    {
        var pass = Run("G1 Z0.65 F20.\nX-0.65\nG0 Z2.", corner, kind).NearestPasses[0];
        Assert.Equal(distance, (double)pass.Distance, 6);
        Assert.Equal(("G54", -0.65m, 0m, 0.65m), Place(pass));
    }

    [Fact]
    public void A_clamp_that_is_hit_is_gone_through()
    {
        var result = Run("G1 Z0.5 F20.\nX-1.\nG0 Z2.");
        Assert.Contains(result.Findings, f => f.Id == "feed-into-holding");
        Assert.Equal(
            ("through", 0m, 6),
            (result.NearestPasses[0].Side, result.NearestPasses[0].Distance, result.NearestPasses[0].Line)
        );
    }

    /// <summary>Tip at −0.5, holder of 2 in from 1 in above the tip: bottom at 0.5, under the clamp's top of 0.75; the tool itself stays clear.</summary>
    [Theory]
    [InlineData("G1 Z-0.5 F20.\nX-0.1\nG0 Z2.", 6)]
    [InlineData("G1 Z-0.2 F20.\nX-0.1\nG0 Z2.", null)]
    public void The_holder_comes_down_beside_a_clamp(string moves, int? line)
    {
        var result = Run(moves, ", \"stickout\": 1, \"holder\": [{ \"diameter\": 2, \"length\": 2 }]");
        Assert.Equal(
            line is null ? [] : [line.Value],
            result.Findings.Where(f => f.Id == "holder-contact").Select(f => f.Line)
        );
        Assert.DoesNotContain(result.Findings, f => f.Id == "feed-into-holding");
        Assert.DoesNotContain(result.NotChecked, n => n.StartsWith("holder contact", StringComparison.Ordinal));
        if (line is null)
            Assert.Equal(
                ("above", 0.05m, "holder"),
                (result.NearestPasses[0].Side, result.NearestPasses[0].Distance, result.NearestPasses[0].Part)
            );
    }

    [Fact]
    public void A_holder_without_a_stick_out_is_said() =>
        Assert.Contains(
            "holder contact: T1 has a holder but no stick-out",
            Run("X1.", ", \"holder\": [{ \"diameter\": 2, \"length\": 2 }]").NotChecked
        );

    /// <summary>Against brute force: no sample is nearer than the figure, and the nearest sample is within its step of it.</summary>
    [Fact]
    public void Sampling_finds_nothing_nearer() =>
        Gen.Select(Point, Point, Point, Gen.Double[1 * Mm, 10 * Mm], Gen.Bool)
            .Sample(
                (corner, start, end, radius, round) =>
                {
                    var solid = new Solid
                    {
                        Name = "clamp",
                        Round = round,
                        MinX = corner.X,
                        MaxX = corner.X + 8 * Mm,
                        MinY = corner.Y,
                        MaxY = corner.Y + 8 * Mm,
                        Top = (long)corner.Z,
                    };
                    var found = NearestPasses.Along(solid, start, end, new ToolPart(radius, 0)).Distance;
                    var nearest = double.PositiveInfinity;
                    for (var i = 0; i <= 1000; i++)
                    {
                        var share = i / 1000.0;
                        var x = start.X + (end.X - start.X) * share;
                        var y = start.Y + (end.Y - start.Y) * share;
                        var above = Math.Max(0, start.Z + (end.Z - start.Z) * share - solid.Top);
                        var beside = Math.Max(0, solid.Distance(x, y) - radius);
                        nearest = Math.Min(nearest, Math.Sqrt(above * above + beside * beside));
                    }
                    Assert.InRange(found, nearest - 0.15 * Mm, nearest + 2);
                },
                iter: 500
            );

    static readonly Gen<TipPoint> Point =
        from x in Gen.Long[-40_000_000, 40_000_000]
        from y in Gen.Long[-40_000_000, 40_000_000]
        from z in Gen.Long[-20_000_000, 20_000_000]
        select new TipPoint(x, y, z);

    static CheckResult Run(string moves, string tool = "", string kind = "end mill") =>
        Setups.Run(
            "G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z1.\n" + moves + "\nM30",
            Setups.From(
                "inch",
                $$"""[{ "tool": 1, "kind": "{{kind}}", "diameter": 0.5, "lengthOffset": 1, "length": 5{{tool}} }]""",
                "\"rapidPath\": \"straight\"",
                Clamps
            )
        );
}
