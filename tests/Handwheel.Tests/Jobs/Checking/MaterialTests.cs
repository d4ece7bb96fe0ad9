using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Jobs.Checking.Material;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>The material as a height map: removed volumes against closed formulas, and contact that is there or is not.</summary>
public sealed class MaterialTests
{
    const double Mm = 1e6;
    const double Half = 0.5 * Mm;

    static HeightMap Block(double grid = Half) =>
        new(
            new Solid
            {
                Name = "stock",
                IsStock = true,
                MinX = 0,
                MaxX = 100 * Mm,
                MinY = 0,
                MaxY = 60 * Mm,
                Bottom = -20_000_000,
                Top = 0,
                PlaceKnown = true,
                HeightKnown = true,
            },
            grid
        );

    static TipPoint At(double x, double y, double z) => new(x * Mm, y * Mm, z * Mm);

    /// <summary>A slot with round ends: (L·D + π D²/4) · depth.</summary>
    [Fact]
    public void A_slot_has_the_volume_of_its_formula()
    {
        var map = Block();
        var met = map.Move(At(20, 30, -3), At(70, 30, -3), ToolShape.Flat(5 * Mm), cut: true);
        var expected = (50 * 10 + Math.PI * 25) * 3;
        Assert.Equal(expected, met.Volume, expected * 0.01);
        Assert.Equal(3 * Mm, met.Depth, 1.0);
        Assert.Equal(100 * 60 * 20 - met.Volume, map.Volume, 1.0);
        Assert.False(map.Move(At(20, 30, -3), At(70, 30, -3), ToolShape.Flat(5 * Mm), cut: true).Any);
    }

    /// <summary>A pocket with corners of the tool's radius: (a·b − (4 − π) r²) · depth.</summary>
    [Fact]
    public void A_pocket_has_the_volume_of_its_formula()
    {
        var map = Block();
        var volume = 0.0;
        for (var y = 15.0; y <= 45; y += 2.5)
            volume += map.Move(At(20, y, -4), At(80, y, -4), ToolShape.Flat(4 * Mm), cut: true).Volume;
        var expected = (68 * 38 - (4 - Math.PI) * 16) * 4;
        Assert.Equal(expected, volume, expected * 0.01);
    }

    /// <summary>A drilled hole with its point: π r² · (depth − point) + a third of that over the point, which is 0.3004 D long at 118°.</summary>
    [Fact]
    public void A_drilled_hole_has_the_volume_of_its_formula()
    {
        var met = Block(0.1 * Mm).Move(At(30, 30, 5), At(30, 30, -12), ToolShape.Drill(4 * Mm), cut: true);
        var point = 8 * 0.300430;
        var expected = Math.PI * 16 * (12 - point + point / 3);
        Assert.Equal(expected, met.Volume, expected * 0.005);
    }

    /// <summary>A ball end mill along a line: half a circle of area π R²/2 along L, below its centre, and two quarter balls (together 2/3 π R³) at the ends.</summary>
    [Fact]
    public void A_ball_groove_has_the_volume_of_its_formula()
    {
        var met = Block(0.2 * Mm).Move(At(20, 30, -6), At(70, 30, -6), ToolShape.Ball(6 * Mm), cut: true);
        var expected = Math.PI * 36 / 2 * 50 + 2.0 / 3 * Math.PI * 216;
        Assert.Equal(expected, met.Volume, expected * 0.005);
    }

    /// <summary>
    /// A bull-nose mill along a line, deeper than its corner: across, the slot is 2R wide less two corners of (1 − π/4) r²; each end is half of a
    /// turned body, by Pappus: π R² d less the ring of the corners, whose section (1 − π/4) r² has its middle (10 − 3π)/(12 − 3π) r inside the rim.
    /// </summary>
    [Fact]
    public void A_bull_nose_slot_has_the_volume_of_its_formula()
    {
        const double big = 6;
        const double corner = 2;
        const double deep = 5;
        var met = Block(0.2 * Mm)
            .Move(At(20, 30, -deep), At(70, 30, -deep), ToolShape.Bull(big * Mm, corner * Mm), true);
        var section = (1 - Math.PI / 4) * corner * corner;
        var across = 2 * big * deep - 2 * section;
        var expected = across * 50 + Math.PI * big * big * deep - Ring(big, corner);
        Assert.Equal(expected, met.Volume, expected * 0.005);
    }

    /// <summary>
    /// A pocket with a fillet around its floor, walls straight and round corners of the tool's radius: its prism, less the section of the fillet along
    /// the straight walls, less a whole ring in the four corners.
    /// </summary>
    [Fact]
    public void A_pocket_floor_with_a_fillet_has_the_volume_of_its_formula()
    {
        const double big = 5;
        const double corner = 2;
        var map = Block(0.2 * Mm);
        var shape = ToolShape.Bull(big * Mm, corner * Mm);
        var volume = 0.0;
        for (var y = 20.0; y <= 40; y += 2.5)
            volume += map.Move(At(30, y, -4), At(70, y, -4), shape, cut: true).Volume;
        foreach (var x in (double[])[30, 70])
            volume += map.Move(At(x, 20, -4), At(x, 40, -4), shape, cut: true).Volume;
        var area = (40 + 2 * big) * (20 + 2 * big) - (4 - Math.PI) * big * big;
        var section = (1 - Math.PI / 4) * corner * corner;
        var expected = area * 4 - section * 2 * (40 + 20) - Ring(big, corner);
        Assert.Equal(expected, volume, expected * 0.004);
    }

    /// <summary>What a corner of radius r leaves around the rim of a turned body of radius R (Pappus and Guldin).</summary>
    static double Ring(double big, double corner)
    {
        var section = (1 - Math.PI / 4) * corner * corner;
        var middle = big - corner * (10 - 3 * Math.PI) / (12 - 3 * Math.PI);
        return 2 * Math.PI * middle * section;
    }

    /// <summary>A ball straight down: the cap of a sphere, π d² (R − d/3), and below half its height the cylinder above it.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(6)]
    [InlineData(9)]
    public void A_ball_that_plunges_leaves_the_cap_of_a_sphere(double deep)
    {
        const double big = 6;
        var met = Block(0.1 * Mm).Move(At(30, 30, 1), At(30, 30, -deep), ToolShape.Ball(big * Mm), cut: true);
        var cap = Math.Min(deep, big);
        var expected = Math.PI * cap * cap * (big - cap / 3) + Math.PI * big * big * (deep - cap);
        Assert.Equal(expected, met.Volume, expected * 0.005);
    }

    /// <summary>Any shape on any slope leaves what the lowest of many stamps leaves.</summary>
    [Fact]
    public void A_move_leaves_what_many_stamps_leave() =>
        Gen.Select(
                Gen.Int[0, 3],
                Gen.Double[10, 90],
                Gen.Double[10, 50],
                Gen.Double[10, 90],
                Gen.Double[-8, 2],
                Gen.Double[-8, 2]
            )
            .Sample(
                (kind, x, y, toX, z, toZ) =>
                {
                    var shape = kind switch
                    {
                        0 => ToolShape.Flat(5 * Mm),
                        1 => ToolShape.Ball(5 * Mm),
                        2 => ToolShape.Bull(5 * Mm, 1.5 * Mm),
                        _ => ToolShape.Cone(5 * Mm, 1),
                    };
                    var (whole, stamped) = (Block(2 * Mm), Block(2 * Mm));
                    // off the lattice, so that no point lies on the rim of the tool by chance
                    var (from, to) = (At(x + 0.0137, y + 0.0071, z), At(toX + 0.0219, 60.0053 - y, toZ));
                    whole.Move(from, to, shape, cut: true);
                    for (var i = 0; i <= 1500; i++)
                    {
                        var s = i / 1500.0;
                        var p = new TipPoint(
                            from.X + (to.X - from.X) * s,
                            from.Y + (to.Y - from.Y) * s,
                            from.Z + (to.Z - from.Z) * s
                        );
                        stamped.Move(p, p, shape, cut: true);
                    }
                    // never less than the stamps take, and no more than lies between two of them
                    Assert.InRange(stamped.Volume - whole.Volume, -0.01, 60);
                },
                iter: 60
            );

    const string Stock = """
        "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 1, "y": 1, "z": 0 } }
        """;

    static CheckResult Run(string moves, string more = "", CheckOptions? options = null) =>
        Setups.Run(
            "G20 G90\nT1 M6\nG54 G0 X-1.5 Y0. S3000 M3\nG43 H1 Z1.\n" + moves + "\nG0 Z1.\nM30",
            Setups.From(
                "inch",
                $$"""[{ "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5{{more}} }]""",
                "\"rapidPath\": \"straight\"",
                Stock
            ),
            options
        );

    /// <summary>A wall met again at the same diameter, a floor, a finishing pass along a wall, pecks: no contact. The tolerance is 0.05 mm.</summary>
    [Theory]
    [InlineData("G1 Z-0.3 F20.\nX0.5\nG0 X-1.5\nX0.5")]
    [InlineData("G1 Z-0.3 F20.\nX0.5\nY0.5\nG0 Y0.\nX-1.5")]
    [InlineData("G1 Z-0.3 F20.\nX0.5\nG0 Y0.0015\nX-1.5")]
    [InlineData("G0 X0.\nG98 G83 X0. Y0. Z-0.8 R0.1 Q0.2 F10.\nX0.3 Y0.3\nG80")]
    [InlineData("G1 Z-0.3 F20.\nX0.\nG3 I-0.4\nG0 Z1.\nX-0.4 Y0.4\nZ-0.29")]
    [InlineData("G1 Z-0.3 F20.\nX0.\nG0 Z0.1\nZ-0.3")]
    public void What_was_cut_is_free(string moves)
    {
        var result = Run(moves);
        Assert.DoesNotContain(result.Findings, f => f.Level == Level.Stop);
        Assert.DoesNotContain(result.NotChecked, n => n.StartsWith("rapids through stock", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("G0 Z-0.1\nX0.", 6)]
    [InlineData("G1 Z-0.3 F20.\nX0.5\nG0 Y0.04\nX-1.5", 7)]
    [InlineData("G1 Z-0.3 F20.\nX0.\nG0 Z-0.31", 7)]
    [InlineData("G0 X0.\nZ-0.01", 6)]
    public void What_is_still_there_is_hit(string moves, int line) =>
        Assert.Equal([line], Run(moves).Findings.Where(f => f.Id == "rapid-into-stock").Select(f => f.Line));

    [Fact]
    public void A_step_between_holes_is_low_between_holes() =>
        Assert.Equal(
            [7],
            Run("G0 Z0.1\nG99 G81 X-0.5 Y0. Z-0.5 R-0.2 F10.\nX0.5\nG80")
                .Findings.Where(f => f.Id == "low-between-holes")
                .Select(f => f.Line)
        );

    [Fact]
    public void Material_can_be_switched_off_and_is_left_out_above_a_size_both_said()
    {
        foreach (var options in (CheckOptions[])[new() { Material = false }, new() { MaterialBytesMost = 10 }])
        {
            var result = Run("G0 Z-0.1\nX0.", "", options);
            Assert.DoesNotContain(result.Findings, f => f.Id == "rapid-into-stock");
            Assert.Contains(result.NotChecked, n => n.StartsWith("rapids through stock", StringComparison.Ordinal));
            Assert.Empty(result.Material);
        }
        Assert.Equal(
            "the program is larger than 2 MiB",
            Run(
                "G0 Z-0.1\n" + new string('\n', 2 * 1024 * 1024),
                "",
                new() { MaterialBytesMost = 2 * 1024 * 1024 }
            ).AsCut.Why
        );
    }

    [Fact]
    public void A_tool_that_is_not_known_ends_the_following_out_loud()
    {
        var result = Setups.Run(
            "G20 G90\nT1 M6\nG54 G0 X-1.5 Y0. S3000 M3\nG43 H1 Z1.\nZ-0.1\nG1 X0. F10.\nG0 X0.5\nM30",
            Setups.From("inch", """[{ "tool": 1, "kind": "end mill", "lengthOffset": 1, "length": 5 }]""", "", Stock)
        );
        Assert.DoesNotContain(result.Findings, f => f.Id == "rapid-into-stock");
        Assert.Contains(result.NotChecked, n => n.Contains("from line 6 on", StringComparison.Ordinal));
    }

    /// <summary>A slot through the whole block, 2 long, 0.5 wide, 0.2 deep at 10 in/min: 0.2 in³, 1 in³/min.</summary>
    [Fact]
    public void Figures_of_a_tool()
    {
        var tool = Assert.Single(Run("G1 Z-0.2 F10.\nX1.5").Material);
        Assert.Equal((1, 0.2m), (tool.Tool, tool.Depth));
        Assert.Equal(0.2, (double)tool.Removed, 0.004);
        Assert.InRange((double)tool.Width!.Value, 0.3, 0.51);
        Assert.InRange((double)tool.RemovalRate!.Value, 0.6, 1.01);
    }

    [Fact]
    public void The_holder_against_a_wall_that_is_still_there()
    {
        const string holder = ", \"stickout\": 0.6, \"holder\": [{ \"diameter\": 1.5, \"length\": 2 }]";
        Assert.Contains(Run("G1 Z-0.8 F20.\nX0.", holder).Findings, f => f is { Id: "holder-contact", Line: 5 });
        Assert.DoesNotContain(Run("G1 Z-0.5 F20.\nX0.", holder).Findings, f => f.Level == Level.Stop);
    }
}
