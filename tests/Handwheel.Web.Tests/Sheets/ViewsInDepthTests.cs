using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>The views with depth, from the side and over the travel.</summary>
public sealed class ViewsInDepthTests
{
    static Scene Scene => PartViewTests.Scene;

    static Scene Cut => PartViewTests.Cut;

    /// <summary>ISO 5456-3, isometric axonometry: Z upright, X and Y at 30° to the level, 120° between the axes, scales as 1 : 1 : 1.</summary>
    [Fact]
    public void The_axes_of_the_view_in_depth_are_those_of_the_standard()
    {
        var axes = Projection.Axes(ViewFrom.Isometric);
        Assert.Equal(["X", "Y", "Z"], axes.Select(a => a.Name));
        var angles = axes.Select(a => Math.Atan2(a.Up, a.Right) * 180 / Math.PI).ToList();
        Assert.Equal([30, 150, 90], angles.Select(a => Math.Round(a, 9)));
        Assert.All(axes, a => Assert.Equal(1, Math.Sqrt((a.Right * a.Right) + (a.Up * a.Up)), 12));
    }

    [Theory]
    [InlineData(ViewFrom.Top, "X", "Y")]
    [InlineData(ViewFrom.Front, "X", "Z")]
    [InlineData(ViewFrom.Side, "Y", "Z")]
    public void Each_flat_view_shows_two_axes_square_to_each_other(ViewFrom from, string right, string up)
    {
        Assert.Equal([(right, 1.0, 0.0), (up, 0.0, 1.0)], Projection.Axes(from));
        var names = PartView.Draw(Scene, from, 480, 320).Marks.OfType<Label>().Where(l => l.Layer == "zero");
        Assert.Equal([right, up, "G55"], names.Select(l => l.Text));
    }

    /// <summary>A box 1 × 2 × 3: its edges along the axes are as 1 : 2 : 3 on paper too.</summary>
    [Fact]
    public void Lengths_along_all_three_axes_are_to_one_scale_in_depth()
    {
        var box = new Solid("stock", false, new(0, 0, 0), new(1, 2, 3));
        var scene = Scene with { Stock = [box], Holding = [], Path = [], Zeros = [], Raise = null };
        var faces = PartView
            .Draw(scene, ViewFrom.Isometric, 400, 400)
            .Marks.OfType<Strokes>()
            .Where(s => s.Layer == "stock")
            .Select(s => s.Lines[0])
            .ToList();
        double Edge(int face, int corner) =>
            Math.Sqrt(
                Math.Pow(faces[face][corner].X - faces[face][corner + 1].X, 2)
                    + Math.Pow(faces[face][corner].Y - faces[face][corner + 1].Y, 2)
            );
        // left, front, top: along Y, along X; and down
        Assert.Equal(2, Edge(0, 0) / Edge(1, 0), 6);
        Assert.Equal(3, Edge(0, 1) / Edge(1, 0), 6);
    }

    [Fact]
    public void What_is_behind_is_painted_first_and_what_stands_on_it_last()
    {
        Solid Box(string name, double x, double y, double z) =>
            new(name, false, new(x, y, z), new(x + 1, y + 1, z + 1));
        var near = Box("near", 0, 0, 0);
        var right = Box("right", 2, 0, 0);
        var back = Box("back", 0, 2, 0);
        var above = Box("above", 0, 0, 1);
        foreach (
            var given in new[]
            {
                new[] { near, right, back, above },
                [above, back, right, near],
                [right, near, above, back],
            }
        )
        {
            var order = BackToFront.Order(given).ToList();
            Assert.Equal(4, order.Distinct().Count());
            Assert.All(new[] { right, back }, far => Assert.True(order.IndexOf(far) < order.IndexOf(near)));
            Assert.True(order.IndexOf(near) < order.IndexOf(above));
        }
        // in each other: no order, but none is lost
        var large = new Solid("large", false, new(-5, -5, -5), new(5, 5, 5));
        Assert.Equal(2, BackToFront.Order([near, large]).Count);
    }

    /// <summary>Painted over any random boxes that touch nowhere, a nearer one is never covered: a ray from the eye meets it first.</summary>
    [Fact]
    public void Boxes_apart_from_each_other_are_always_in_the_order_in_which_a_look_meets_them()
    {
        var random = new Random(5);
        for (var trial = 0; trial < 300; trial++)
        {
            var boxes = new List<Solid>();
            for (var i = 0; i < 40 && boxes.Count < 7; i++)
            {
                var low = new Place3(random.Next(12), random.Next(12), random.Next(6));
                var box = new Solid(
                    $"{i}",
                    false,
                    low,
                    new(low.X + 1 + random.Next(4), low.Y + 1 + random.Next(4), low.Z + 1 + random.Next(3))
                );
                if (boxes.TrueForAll(b => Apart(b, box)))
                    boxes.Add(box);
            }
            var order = BackToFront.Order(boxes).ToList();
            foreach (var a in boxes)
            foreach (var b in boxes.Where(b => b != a && IsMetAfter(b, a)))
                Assert.True(order.IndexOf(b) < order.IndexOf(a), $"trial {trial}: {b} over {a}");
        }

        static bool Apart(Solid a, Solid b) =>
            a.Max.X <= b.Min.X
            || b.Max.X <= a.Min.X
            || a.Max.Y <= b.Min.Y
            || b.Max.Y <= a.Min.Y
            || a.Max.Z <= b.Min.Z
            || b.Max.Z <= a.Min.Z;

        // along the look, X and Y grow and Z falls, all alike: from a place inside a, a step along it is inside b
        static bool IsMetAfter(Solid b, Solid a)
        {
            for (var x = a.Min.X + 0.25; x < a.Max.X; x += 0.5)
            for (var y = a.Min.Y + 0.25; y < a.Max.Y; y += 0.5)
            for (var z = a.Min.Z + 0.25; z < a.Max.Z; z += 0.5)
            for (var step = 0.125; step < 14; step += 0.25)
                if (Inside(b, x + step, y + step, z - step))
                    return true;
            return false;
        }

        static bool Inside(Solid s, double x, double y, double z) =>
            x > s.Min.X && x < s.Max.X && y > s.Min.Y && y < s.Max.Y && z > s.Min.Z && z < s.Max.Z;
    }

    [Fact]
    public void In_depth_the_stock_as_cut_is_tops_and_walls_and_the_hole_shows_no_top()
    {
        var marks = PartView.Draw(Cut, ViewFrom.Isometric, 520, 420).Marks.OfType<Strokes>();
        var cut = marks.Where(s => s.Layer == "as-cut").ToList();
        Assert.Contains(cut, s => s.Fill == "#c3c9cf");
        Assert.Contains(cut, s => s.Fill == "#a9b0b7");
        // the slot is deeper, so darker, than the top: two greys of level faces at least
        Assert.True(
            cut.Select(s => s.Fill).Where(f => f is not (null or "#c3c9cf" or "#a9b0b7")).Distinct().Count() >= 2
        );
        // 52 × 32 cells with three heights are few pieces, not one a cell
        Assert.InRange(cut.Count, 20, 900);
        Assert.DoesNotContain(marks, s => s.Layer == "stock");
    }

    [Fact]
    public void The_travel_is_drawn_whole_with_its_ends_in_machine_coordinates()
    {
        var picture = PartView.Draw(Scene, ViewFrom.Travel, 400, 260);
        var travel = Assert.Single(picture.Marks.OfType<Strokes>(), s => s.Layer == "travel").Lines[0];
        // X from -40 to 0, Y from -20 to 0
        Assert.Equal(2, (travel[1].X - travel[0].X) / (travel[1].Y - travel[2].Y), 6);
        Assert.Equal(
            ["-40.0000", "0.0000", "-20.0000", "0.0000"],
            picture.Marks.OfType<Label>().Where(l => l.Layer == "travel").Select(l => l.Text)
        );
        Assert.DoesNotContain(picture.Marks, m => m.Layer is "cuts" or "rapids");
    }

    [Fact]
    public void A_convex_outline_is_hatched_inside_and_nowhere_else()
    {
        Spot[] kite = [new(10, 0), new(40, 20), new(30, 60), new(0, 30)];
        var lines = Shapes.Hatch(kite);
        Assert.NotEmpty(lines);
        Assert.All(
            lines,
            l =>
            {
                Assert.Equal(l[0].X + l[0].Y, l[1].X + l[1].Y, 9);
                Assert.All(l, s => Assert.InRange(s.X, -1e-9, 40 + 1e-9));
                Assert.All(l, s => Assert.InRange(s.Y, -1e-9, 60 + 1e-9));
            }
        );
    }
}
