using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Jobs.Checking.Material;

namespace Handwheel.Bench;

/// <summary>
/// Following the stock against stamping it, on the same moves over 150 × 100 mm with a 6 mm ball: passes of short moves over a wavy surface, in four
/// layers. Both removed volumes are compared, or the ratio would mean nothing.
/// </summary>
static class MaterialBench
{
    const double Width = 150;
    const double Depth = 100;
    const double Top = 25;
    const double Radius = 3;
    const double Nanometres = 1e6;

    /// <summary>What stamps every 0.1 mm leave between them, and 32-bit heights, as a share of the volume.</summary>
    const double SameVolume = 0.002;

    public static void Measure(Bars bars)
    {
        Console.WriteLine(
            "stock 150 x 100 mm   grid mm      moves     followed ms    stamped ms   x stamped   removed mm³"
        );
        foreach (var grid in (double[])[1, 0.5, 0.25])
            Row(grid, Path(100_000));
        Row(0.5, Path(300_000));
        bars.AtLeast("material-times-stamping", Row(0.5, Path(1_000_000)), 10);
    }

    static double Row(double grid, (double X, double Y, double Z)[] path)
    {
        double followedVolume = 0,
            stampedVolume = 0;
        var runs = path.Length > 500_000 ? 3 : 5;
        var followed = Timing.Median(() => followedVolume = Follow(grid, path), runs, 2);
        var stamped = Timing.Median(() => stampedVolume = Stamp(grid, path), path.Length > 500_000 ? 1 : 3, 1);
        if (Math.Abs(followedVolume - stampedVolume) > SameVolume * stampedVolume)
            throw new InvalidOperationException(
                FormattableString.Invariant(
                    $"The two stocks disagree: {followedVolume:F1} and {stampedVolume:F1} mm³ removed at a grid of {grid} mm."
                )
            );
        Console.WriteLine(
            FormattableString.Invariant(
                $"3D surfacing         {grid, 7} {path.Length - 1, 10} {followed, 15:F1} {stamped, 13:F1} {stamped / followed, 11:F1} {followedVolume, 13:F1}"
            )
        );
        return stamped / followed;
    }

    static double Follow(double grid, (double X, double Y, double Z)[] path)
    {
        var stock = new Solid
        {
            Name = "stock",
            IsStock = true,
            MaxX = Width * Nanometres,
            MaxY = Depth * Nanometres,
            Top = (long)(Top * Nanometres),
            PlaceKnown = true,
            HeightKnown = true,
        };
        var map = new HeightMap(stock, grid * Nanometres);
        var ball = ToolShape.Ball(Radius * Nanometres);
        var removed = 0.0;
        for (var i = 1; i < path.Length; i++)
            removed += map.Move(At(path[i - 1]), At(path[i]), ball, cut: true).Volume;
        return removed;
    }

    static TipPoint At((double X, double Y, double Z) point) =>
        new(point.X * Nanometres, point.Y * Nanometres, point.Z * Nanometres);

    static double Stamp(double grid, (double X, double Y, double Z)[] path)
    {
        var stock = new StampedStock(Width, Depth, Top, grid);
        for (var i = 1; i < path.Length; i++)
        {
            var (a, b) = (path[i - 1], path[i]);
            stock.BallMove(a.X, a.Y, a.Z, b.X, b.Y, b.Z, Radius);
        }
        return stock.Removed;
    }

    /// <summary>To and fro along X, a little further in Y each time; as many moves as are asked for, in four layers.</summary>
    static (double X, double Y, double Z)[] Path(int moves)
    {
        const int layers = 4;
        var random = new Random(20_260);
        var path = new List<(double, double, double)>(moves + 1);
        var perPass = (int)(Width / 0.3);
        var passes = Math.Max(1, moves / layers / perPass);
        for (var i = 0; path.Count <= moves; i++)
        {
            var layer = Math.Min(layers - 1, i / passes);
            var y = Depth * (i % passes + 0.5) / passes;
            for (var j = 0; j < perPass && path.Count <= moves; j++)
            {
                var along = (j + random.NextDouble() * 0.4) / perPass;
                var x = Width * (i % 2 == 0 ? along : 1 - along);
                var z = 20 - 3 * layer + 2 * Math.Sin(x / 14) * Math.Cos(y / 9);
                path.Add((x, y + (random.NextDouble() - 0.5) * 0.02, z));
            }
        }
        return [.. path];
    }
}
