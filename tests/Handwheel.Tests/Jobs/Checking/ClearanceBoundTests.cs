using System.Globalization;
using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>
/// Whole programs against brute force: the tool with its holder is set down at many places of a path that is worked out here, and its outline is gone along
/// at many heights. No place may be nearer to a clamp than the check says, less the stated bound of 0.0005 in.
/// </summary>
public sealed class ClearanceBoundTests
{
    const double Mm = 1e6;
    const double Bound = 0.0005 * 25.4;

    /// <summary>Heights along the corner, and one above it: the surface between two of them is this near to one, mm.</summary>
    const int Outlines = 64;

    /// <summary>A cutter, and the holder above its stick-out; a holder radius of 0: none is described.</summary>
    readonly record struct Shape(double Radius, double Corner, double Stickout, double Holder);

    static readonly Gen<Shape> AnyTool =
        from radius in Gen.Int[4, 24]
        from quarters in Gen.Int[0, 4]
        from stickout in Gen.Int[14, 40]
        from wider in Gen.Int[0, 20]
        select new Shape(
            radius / 2.0,
            radius / 2.0 * quarters / 4,
            stickout / 2.0,
            wider == 0 ? 0 : radius / 2.0 + wider / 2.0
        );

    static readonly Gen<(double X, double Y, double W, double H, double Top, bool Round)> AnyClamp = Gen.Select(
        Gen.Int[-40, 40],
        Gen.Int[-40, 40],
        Gen.Int[4, 30],
        Gen.Int[4, 30],
        Gen.Int[-8, 8],
        Gen.Bool,
        (x, y, w, h, top, round) => ((double)x, (double)y, (double)w, (double)h, (double)top, round)
    );

    static readonly Gen<(double X, double Y, double Z)> AnyPlace = Gen.Select(
        Gen.Int[-600, 600],
        Gen.Int[-600, 600],
        Gen.Int[-90, 150],
        (x, y, z) => (x / 10.0, y / 10.0, z / 10.0)
    );

    [Fact]
    public void Straight_moves() => Hold(Kind.Straight, 120);

    [Fact]
    public void Rapids_with_each_axis_at_its_own_rate() => Hold(Kind.Dogleg, 120);

    [Fact]
    public void Arcs_and_helices() => Hold(Kind.Arc, 120);

    enum Kind
    {
        Straight,
        Dogleg,
        Arc,
    }

    static void Hold(Kind kind, int iterations) =>
        Gen.Select(AnyTool, AnyClamp, AnyPlace, AnyPlace, Gen.Int[1, 359])
            .Sample(
                (tool, clamp, from, to, turn) =>
                {
                    var (block, path) = kind switch
                    {
                        Kind.Straight => (Straight("G1", to), Along([from, to])),
                        Kind.Dogleg => (Straight("G0", to), Along(Corners(from, to))),
                        _ => Arc(from, to, turn),
                    };
                    var result = Run(tool, clamp, from, block, kind == Kind.Dogleg ? "dogleg" : "straight");
                    var found = (double)result.NearestPasses[0].Distance;
                    var (nearest, slack) = BruteForce(tool, clamp, path);
                    // the check measures on the way down to the start as well, but from a place that is no nearer
                    var start = BruteForce(tool, clamp, [from, from]).Nearest;
                    nearest = Math.Min(nearest, start);
                    Assert.True(found <= nearest + Bound, $"{block}: {found} told, {nearest} found");
                    Assert.True(found >= nearest - slack - Bound, $"{block}: {found} told, {nearest} found");
                    var hit = result.Findings.Any(f =>
                        f.Id is "feed-into-holding" or "rapid-into-holding" or "holder-contact"
                    );
                    if (Deepest(tool, clamp, path) > 2 * Bound)
                        Assert.True(hit, $"{block}: goes through the clamp and nothing is said");
                    else if (nearest > slack + Bound)
                        Assert.False(hit, $"{block}: clears by {nearest} and is called a contact");
                },
                iter: iterations
            );

    static string Straight(string code, (double X, double Y, double Z) to) =>
        string.Create(CultureInfo.InvariantCulture, $"{code} X{to.X:F3} Y{to.Y:F3} Z{to.Z:F3}");

    static (double X, double Y, double Z)[] Along((double X, double Y, double Z)[] corners)
    {
        const int samples = 1200;
        var path = new List<(double, double, double)>();
        for (var c = 1; c < corners.Length; c++)
        {
            var (a, b) = (corners[c - 1], corners[c]);
            for (var i = 0; i <= samples; i++)
            {
                var s = (double)i / samples;
                path.Add((a.X + (b.X - a.X) * s, a.Y + (b.Y - a.Y) * s, a.Z + (b.Z - a.Z) * s));
            }
        }
        return [.. path];
    }

    /// <summary>X and Y at 1000, Z at 800 units a minute: where each of them has arrived.</summary>
    static (double X, double Y, double Z)[] Corners(
        (double X, double Y, double Z) from,
        (double X, double Y, double Z) to
    )
    {
        var times = new[]
        {
            Math.Abs(to.X - from.X) / 1000,
            Math.Abs(to.Y - from.Y) / 1000,
            Math.Abs(to.Z - from.Z) / 800,
        };
        double At(double a, double b, double whole, double time) => time >= whole ? b : a + (b - a) * time / whole;
        return
        [
            from,
            .. times
                .Order()
                .Select(t =>
                    (At(from.X, to.X, times[0], t), At(from.Y, to.Y, times[1], t), At(from.Z, to.Z, times[2], t))
                ),
        ];
    }

    /// <summary>From the first place around a centre, rising or falling to the second's height: ends rounded to a micrometre, so within the control's tolerance.</summary>
    static (string Block, (double X, double Y, double Z)[] Path) Arc(
        (double X, double Y, double Z) from,
        (double X, double Y, double Z) to,
        int turn
    )
    {
        var (i, j) = ((to.X - from.X) / 2, (to.Y - from.Y) / 2 + 1.5);
        i = Math.Round(i, 3);
        j = Math.Round(j, 3);
        var (cx, cy) = (from.X + i, from.Y + j);
        var (radius, start) = (Math.Sqrt(i * i + j * j), Math.Atan2(-j, -i));
        var sweep = turn * Math.PI / 180;
        var ends = (
            X: Math.Round(cx + radius * Math.Cos(start + sweep), 3),
            Y: Math.Round(cy + radius * Math.Sin(start + sweep), 3)
        );
        const int samples = 3000;
        var path = new (double, double, double)[samples + 1];
        for (var s = 0; s <= samples; s++)
        {
            var angle = start + sweep * s / samples;
            path[s] = (
                cx + radius * Math.Cos(angle),
                cy + radius * Math.Sin(angle),
                from.Z + (to.Z - from.Z) * s / samples
            );
        }
        var block = string.Create(
            CultureInfo.InvariantCulture,
            $"G3 X{ends.X:F3} Y{ends.Y:F3} Z{to.Z:F3} I{i:F3} J{j:F3}"
        );
        return (block, path);
    }

    /// <summary>The least distance of the sampled tool, and how far it can be from the true one: half a step of the path and of the outline.</summary>
    static (double Nearest, double Slack) BruteForce(
        Shape tool,
        (double X, double Y, double W, double H, double Top, bool Round) clamp,
        (double X, double Y, double Z)[] path
    )
    {
        var (nearest, step) = (double.PositiveInfinity, 0.0);
        for (var p = 0; p < path.Length; p++)
        {
            var at = path[p];
            if (p > 0)
                step = Math.Max(step, Distance(path[p - 1], at));
            var beside = Beside(clamp, at.X, at.Y);
            for (var o = 0; o <= Outlines + 1; o++)
            {
                var (up, radius) = Outline(tool, o);
                var above = Math.Max(0, at.Z + up - clamp.Top);
                var sideways = Math.Max(0, beside - radius);
                nearest = Math.Min(nearest, Math.Sqrt(above * above + sideways * sideways));
            }
        }
        return (nearest, step / 2 + tool.Corner * Math.PI / 2 / Outlines);
    }

    /// <summary>How deep the sampled tool gets into the clamp, sideways or down, whichever is less; below 0: it does not.</summary>
    static double Deepest(
        Shape tool,
        (double X, double Y, double W, double H, double Top, bool Round) clamp,
        (double X, double Y, double Z)[] path
    )
    {
        var deepest = double.NegativeInfinity;
        foreach (var at in path)
        {
            var beside = Beside(clamp, at.X, at.Y);
            for (var o = 0; o <= Outlines + 1; o++)
            {
                var (up, radius) = Outline(tool, o);
                deepest = Math.Max(deepest, Math.Min(radius - beside, clamp.Top - at.Z - up));
            }
        }
        return deepest;
    }

    static (double Up, double Radius) Outline(Shape tool, int place)
    {
        if (place > Outlines)
            return tool.Holder == 0 ? (0, 0) : (tool.Stickout, tool.Holder);
        var angle = Math.PI / 2 * place / Outlines;
        return (
            tool.Corner * (1 - Math.Cos(angle)),
            tool.Corner == 0 ? tool.Radius : tool.Radius - tool.Corner + tool.Corner * Math.Sin(angle)
        );
    }

    static double Beside((double X, double Y, double W, double H, double Top, bool Round) clamp, double x, double y)
    {
        if (clamp.Round)
            return Math.Max(0, Math.Sqrt((x - clamp.X) * (x - clamp.X) + (y - clamp.Y) * (y - clamp.Y)) - clamp.W / 2);
        var dx = Math.Max(0, Math.Abs(x - clamp.X) - clamp.W / 2);
        var dy = Math.Max(0, Math.Abs(y - clamp.Y) - clamp.H / 2);
        return Math.Sqrt(dx * dx + dy * dy);
    }

    static double Distance((double X, double Y, double Z) a, (double X, double Y, double Z) b) =>
        Math.Sqrt((b.X - a.X) * (b.X - a.X) + (b.Y - a.Y) * (b.Y - a.Y) + (b.Z - a.Z) * (b.Z - a.Z));

    /// <summary>The tool comes down to the start from a place above everything: the way down is nearest at its end.</summary>
    static CheckResult Run(
        Shape tool,
        (double X, double Y, double W, double H, double Top, bool Round) clamp,
        (double X, double Y, double Z) from,
        string block,
        string rapidPath
    ) =>
        Setups.Run(
            string.Create(
                CultureInfo.InvariantCulture,
                $"G21 G90 G17\nT1 M6\nG54 G0 X{from.X:F3} Y{from.Y:F3} S900 M3\nG43 H1 Z90. F500.\nZ{from.Z:F3}\n{block}\nM30"
            ),
            Setups.From(
                "mm",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $$"""[{ "tool": 1, "kind": "end mill", "diameter": {{tool.Radius * 2}}, "cornerRadius": {{tool.Corner}}, "lengthOffset": 1, "length": 100{{Holder(tool)}} }]"""
                ),
                $$""" "rapidPath": "{{rapidPath}}", "rapid": { "x": 1000, "y": 1000, "z": 800 } """,
                clamp.Round ? Round(clamp) : Box(clamp)
            )
        );

    static string Holder(Shape tool) =>
        tool.Holder == 0
            ? ""
            : string.Create(
                CultureInfo.InvariantCulture,
                $$""", "stickout": {{tool.Stickout}}, "holder": [{ "diameter": {{tool.Holder * 2}}, "length": 40 }]"""
            );

    static string Round((double X, double Y, double W, double H, double Top, bool Round) clamp) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $$""" "holding": [{ "name": "clamp", "shape": "cylinder", "workOffset": "G54", "centre": { "x": {{clamp.X}}, "y": {{clamp.Y}} }, "diameter": {{clamp.W}}, "bottom": -50, "top": {{clamp.Top}} }] """
        );

    static string Box((double X, double Y, double W, double H, double Top, bool Round) clamp) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $$""" "holding": [{ "name": "clamp", "shape": "box", "workOffset": "G54", "min": { "x": {{clamp.X - clamp.W / 2}}, "y": {{clamp.Y - clamp.H / 2}}, "z": -50 }, "max": { "x": {{clamp.X + clamp.W / 2}}, "y": {{clamp.Y + clamp.H / 2}}, "z": {{clamp.Top}} } }] """
        );

    [Fact]
    public void The_bound_is_the_one_that_is_stated() => Assert.Equal(Bound * Mm, HoldingSweep.Bound, 6);
}
