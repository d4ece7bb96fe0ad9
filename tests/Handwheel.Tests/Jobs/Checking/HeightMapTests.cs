using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Jobs.Checking.Material;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Runs of moves that follow each other, where a move leaves out what the one before it has cut, against the tool set down at many places.</summary>
public sealed class HeightMapTests
{
    const double Mm = 1e6;
    const int Samples = 300;

    /// <summary>Bound stated for the heights: 1 µm, and 1 µm sideways at the rim.</summary>
    const double Bound = 1000;

    static readonly Solid Stock = new()
    {
        Name = "stock",
        IsStock = true,
        MinX = -3.3 * Mm,
        MaxX = 57 * Mm,
        MinY = 2 * Mm,
        MaxY = 41.7 * Mm,
        Bottom = -20_000_000,
        Top = 0,
        PlaceKnown = true,
        HeightKnown = true,
    };

    static readonly Gen<ToolShape> AnyShape =
        from kind in Gen.Int[0, 4]
        from radius in Gen.Int[1, 14]
        from share in Gen.Double[0.05, 0.95]
        from slope in Gen.Double[0.2, 2]
        select kind switch
        {
            0 => ToolShape.Flat(radius * Mm / 2),
            1 => ToolShape.Ball(radius * Mm / 2),
            2 => ToolShape.Bull(radius * Mm / 2, radius * share * Mm / 2),
            3 => ToolShape.Cone(radius * Mm / 2, slope),
            _ => ToolShape.Drill(radius * Mm / 2),
        };

    /// <summary>Steps of up to 6 mm, some of them along one axis only or straight down, on a lattice that the rims of tools fall on.</summary>
    static readonly Gen<TipPoint[]> AnyPath =
        from steps in Gen.Select(Gen.Int[-24, 24], Gen.Int[-24, 24], Gen.Int[-6, 4], Gen.Int[0, 5]).Array[1, 12]
        from startX in Gen.Int[0, 200]
        from startY in Gen.Int[0, 160]
        select Walk(startX, startY, steps);

    static TipPoint[] Walk(int startX, int startY, (int X, int Y, int Z, int Kind)[] steps)
    {
        var at = new TipPoint(startX * Mm / 4, startY * Mm / 4, -2 * Mm);
        List<TipPoint> path = [at];
        foreach (var (x, y, z, kind) in steps)
        {
            at = kind switch
            {
                0 => at with { Z = at.Z + z * Mm / 4 },
                1 => at with { X = at.X + x * Mm / 4 },
                2 => at with { Y = at.Y + y * Mm / 4 },
                3 => new(at.X + x * Mm / 4, at.Y + y * Mm / 4, at.Z),
                _ => new(at.X + x * Mm / 4, at.Y + y * Mm / 4, at.Z + z * Mm / 4),
            };
            at = at with { Z = Math.Clamp(at.Z, -18 * Mm, 2 * Mm) };
            path.Add(at);
        }
        return [.. path];
    }

    [Fact]
    public void A_run_of_moves_leaves_what_the_tool_leaves_that_is_set_down_everywhere() =>
        Gen.Select(AnyShape, AnyPath, Gen.Int[1, 4])
            .Sample(
                (shape, path, quarters) =>
                {
                    var map = new HeightMap(Stock, quarters * Mm / 4);
                    for (var i = 1; i < path.Length; i++)
                        map.Move(path[i - 1], path[i], shape, cut: true);
                    var (columns, rows) = HeightMap.Size(Stock, quarters * Mm / 4);
                    var (stepX, stepY) = ((Stock.MaxX - Stock.MinX) / columns, (Stock.MaxY - Stock.MinY) / rows);
                    for (var i = 0; i < columns; i += 3)
                    {
                        for (var j = 0; j < rows; j += 3)
                        {
                            var (x, y) = (Stock.MinX + (i + 0.5) * stepX, Stock.MinY + (j + 0.5) * stepY);
                            var (most, least) = SetDown(path, shape, x, y);
                            Assert.InRange(map.HeightAt(x, y)!.Value, least - Bound, most + Bound);
                        }
                    }
                },
                iter: 150
            );

    /// <summary>Heights between which the material is after the tool has been set down at many places of the path: as it is, hardly smaller, and larger and lower by the distance of two places.</summary>
    static (double Most, double Least) SetDown(TipPoint[] path, ToolShape shape, double x, double y)
    {
        double most = Stock.Top,
            least = Stock.Top;
        var smaller = shape.Inset(Bound);
        for (var i = 1; i < path.Length; i++)
        {
            var (from, to) = (path[i - 1], path[i]);
            var (dx, dy, dz) = (to.X - from.X, to.Y - from.Y, to.Z - from.Z);
            var step = Math.Sqrt(dx * dx + dy * dy + dz * dz) / Samples + Bound;
            var larger = shape.Inset(-step);
            if (Nearest(from, to, x, y) > shape.Radius + step)
                continue;
            for (var sample = 0; sample <= Samples; sample++)
            {
                var share = (double)sample / Samples;
                var distance = Math.Sqrt(Square(from.X + dx * share - x) + Square(from.Y + dy * share - y));
                var tip = from.Z + dz * share;
                if (distance <= smaller.Radius)
                    most = Math.Min(most, Math.Max(Stock.Bottom, tip + Bound + smaller.Above(distance)));
                if (distance <= larger.Radius)
                    least = Math.Min(least, Math.Max(Stock.Bottom, tip - step + larger.Above(distance)));
            }
        }
        return (most, least);
    }

    static double Nearest(TipPoint from, TipPoint to, double x, double y)
    {
        var (dx, dy) = (to.X - from.X, to.Y - from.Y);
        var squared = dx * dx + dy * dy;
        var share = squared == 0 ? 0 : Math.Clamp(((x - from.X) * dx + (y - from.Y) * dy) / squared, 0, 1);
        return Math.Sqrt(Square(from.X + dx * share - x) + Square(from.Y + dy * share - y));
    }

    static double Square(double value) => value * value;

    /// <summary>Above a roughed pocket a move meets nothing, whatever stands beside it; down the same way again nothing either.</summary>
    [Fact]
    public void Over_what_is_cut_nothing_is_met()
    {
        var map = new HeightMap(Stock, Mm / 2);
        var flat = ToolShape.Flat(5 * Mm);
        for (var y = 12.0; y <= 30; y += 4)
            Assert.True(map.Move(new(10 * Mm, y * Mm, -5 * Mm), new(45 * Mm, y * Mm, -5 * Mm), flat, cut: true).Any);
        Assert.False(map.Move(new(10 * Mm, 12 * Mm, 9 * Mm), new(10 * Mm, 12 * Mm, -5 * Mm), flat, cut: false).Any);
        Assert.False(map.Move(new(10 * Mm, 12 * Mm, -5 * Mm), new(45 * Mm, 28 * Mm, -5 * Mm), flat, cut: false).Any);
        var met = map.Move(new(10 * Mm, 12 * Mm, -5 * Mm), new(10 * Mm, 12 * Mm, -5.2 * Mm), flat, cut: false);
        Assert.Equal(0.2 * Mm, met.Depth, Bound);
    }
}
