using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using NetTopologySuite.Geometries;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>The swept cylinder against boxes and cylinders, against brute force and against an outside geometry library.</summary>
public sealed class SweptCylinderTests
{
    const double Mm = 1e6;

    static readonly Gen<TipPoint> AnyPoint =
        from x in Gen.Long[-30_000_000, 30_000_000]
        from y in Gen.Long[-30_000_000, 30_000_000]
        from z in Gen.Long[-10_000_000, 20_000_000]
        select new TipPoint(x, y, z);

    static readonly Gen<Solid> AnySolid =
        from x in Gen.Long[-15_000_000, 15_000_000]
        from y in Gen.Long[-15_000_000, 15_000_000]
        from w in Gen.Long[1_000_000, 15_000_000]
        from h in Gen.Long[1_000_000, 15_000_000]
        from top in Gen.Long[-5_000_000, 15_000_000]
        from round in Gen.Bool
        select new Solid
        {
            Name = "clamp",
            Round = round,
            MinX = x - w,
            MaxX = x + w,
            MinY = y - (round ? w : h),
            MaxY = y + (round ? w : h),
            Top = top,
            PlaceKnown = true,
            HeightKnown = true,
        };

    static readonly Gen<double> AnyRadius = Gen.Double[0.5 * Mm, 12 * Mm];

    /// <summary>Every sampled contact is found, and what is found is as deep as the deepest sample, within the step of the samples.</summary>
    [Fact]
    public void Brute_force_sampling_finds_the_same() =>
        Gen.Select(AnySolid, AnyPoint, AnyPoint, AnyRadius)
            .Sample(
                (solid, from, to, radius) =>
                {
                    const int samples = 2000;
                    var deepest = double.NegativeInfinity;
                    for (var i = 0; i <= samples; i++)
                    {
                        var at = Between(from, to, (double)i / samples);
                        if (at.Z < solid.Top)
                            deepest = Math.Max(deepest, radius - solid.Distance(at.X, at.Y));
                    }
                    var step = Math.Sqrt(Square(to.X - from.X) + Square(to.Y - from.Y)) / samples;
                    var found = SweptCylinder.Against(solid, from, to, radius)?.Inside ?? double.NegativeInfinity;
                    if (deepest > 2)
                        Assert.InRange(found, deepest - 2, deepest + step + 2);
                    else
                        Assert.True(found <= Math.Max(deepest, 0) + step + 2);
                },
                iter: 3000
            );

    /// <summary>The same with a corner radius: as much of the tool counts as its corner has come to at the height of the top.</summary>
    [Fact]
    public void Brute_force_sampling_finds_the_same_with_a_corner_radius() =>
        Gen.Select(AnySolid, AnyPoint, AnyPoint, AnyRadius, Gen.Double[0.01, 1])
            .Sample(
                (solid, from, to, radius, share) =>
                {
                    const int samples = 2000;
                    var corner = radius * share;
                    var deepest = double.NegativeInfinity;
                    for (var i = 0; i <= samples; i++)
                    {
                        var at = Between(from, to, (double)i / samples);
                        var below = solid.Top - at.Z;
                        if (below <= 0)
                            continue;
                        var missing = Math.Max(0, corner - below);
                        var reach = radius - corner + Math.Sqrt(corner * corner - missing * missing);
                        deepest = Math.Max(deepest, reach - solid.Distance(at.X, at.Y));
                    }
                    var found =
                        SweptCylinder.Against(solid, from, to, radius, corner)?.Inside ?? double.NegativeInfinity;
                    if (deepest > 2)
                        Assert.True(found >= deepest - 2, $"{found} told, {deepest} sampled");
                    Assert.True(found <= (SweptCylinder.Against(solid, from, to, radius)?.Inside ?? 0) + 2);
                },
                iter: 3000
            );

    /// <summary>
    /// Level moves of a ball at the height of the middle of its corner: the outline there is the flat tool of r·√3/2, and its swept area is the
    /// buffer of the path (NetTopologySuite 2.6, buffer with 256 segments a quarter).
    /// </summary>
    [Fact]
    public void A_swept_outline_meets_a_footprint_where_the_buffer_of_an_outside_library_does() =>
        Gen.Select(AnySolid, AnyPoint, AnyPoint, AnyRadius)
            .Sample(
                (solid, start, to, radius) =>
                {
                    var low = solid.Top - radius / 2;
                    var (a, b) = (start with { Z = low }, to with { Z = low });
                    var outline = radius * Math.Sqrt(0.75);
                    var swept = new LineString([new(a.X, a.Y), new(b.X, b.Y)]).Buffer(outline, 256);
                    var footprint = solid.Round
                        ? new Point(solid.CentreX, solid.CentreY).Buffer(solid.Radius, 256)
                        : new GeometryFactory().ToGeometry(
                            new Envelope(solid.MinX, solid.MaxX, solid.MinY, solid.MaxY)
                        );
                    var between = swept.Distance(footprint);
                    var found = SweptCylinder.Against(solid, a, b, radius, radius)?.Inside;
                    // a chord of a 1024-gon is 5e-6 of the radius inside its circle
                    var chords = 1e-5 * (outline + solid.Radius);
                    if (between > chords)
                        Assert.Null(found);
                    else if (swept.Intersection(footprint).Area > 0)
                        Assert.True(found > 0);
                },
                iter: 1000
            );

    /// <summary>Nearest passes of level moves beside boxes and cylinders: the distance of the swept footprint by NetTopologySuite.</summary>
    [Fact]
    public void Distance_of_footprints_as_an_outside_library_has_it() =>
        Gen.Select(AnySolid, AnyPoint, AnyPoint, AnyRadius)
            .Sample(
                (solid, start, to, radius) =>
                {
                    var low = solid.Top - 3_000_000;
                    var (a, b) = (start with { Z = low }, to with { Z = low });
                    var line = new LineString([new(a.X, a.Y), new(b.X, b.Y)]);
                    var distance = solid.Round
                        ? line.Distance(new Point(solid.CentreX, solid.CentreY)) - solid.Radius
                        : line.Distance(
                            new GeometryFactory().ToGeometry(
                                new Envelope(solid.MinX, solid.MaxX, solid.MinY, solid.MaxY)
                            )
                        );
                    var pass = NearestPasses.Along(solid, a, b, new ToolPart(radius, 0));
                    Assert.Equal(Math.Max(0, distance - radius), pass.Distance, 2.0);
                    Assert.Equal(0, pass.Above);
                },
                iter: 3000
            );

    /// <summary>Low moves against a box: the distance of segment and rectangle by NetTopologySuite.</summary>
    [Fact]
    public void Distance_of_segment_and_rectangle_as_an_outside_library_has_it() =>
        Gen.Select(AnySolid.Where(s => !s.Round), AnyPoint, AnyPoint, AnyRadius)
            .Sample(
                (box, start, to, radius) =>
                {
                    var low = box.Top - 1_000_000;
                    var (a, b) = (start with { Z = low }, to with { Z = low });
                    var line = new LineString([new(a.X, a.Y), new(b.X, b.Y)]);
                    var area = new GeometryFactory().ToGeometry(new Envelope(box.MinX, box.MaxX, box.MinY, box.MaxY));
                    var inside = radius - line.Distance(area);
                    var found = SweptCylinder.Against(box, a, b, radius)?.Inside;
                    if (inside > 2)
                        Assert.Equal(inside, found!.Value, 2.0);
                    else
                        Assert.True(found is null || inside > 0);
                },
                iter: 3000
            );

    [Fact]
    public void Splitting_a_move_changes_nothing() =>
        Gen.Select(AnySolid, AnyPoint, AnyPoint, AnyRadius)
            .Sample(
                (solid, from, to, radius) =>
                {
                    var whole = SweptCylinder.Against(solid, from, to, radius)?.Inside ?? 0;
                    var parts = Enumerable
                        .Range(0, 7)
                        .Max(i =>
                            SweptCylinder
                                .Against(solid, Between(from, to, i / 7.0), Between(from, to, (i + 1) / 7.0), radius)
                                ?.Inside
                            ?? 0
                        );
                    Assert.Equal(whole, parts, 3.0);
                }
            );

    [Fact]
    public void Touching_is_no_contact()
    {
        var box = new Solid
        {
            Name = "jaw",
            MinX = 0,
            MaxX = 10 * Mm,
            MinY = 0,
            MaxY = 10 * Mm,
            Top = 5_000_000,
        };
        Assert.Null(SweptCylinder.Against(box, new(-3 * Mm, -20 * Mm, 0), new(-3 * Mm, 20 * Mm, 0), 3 * Mm));
        Assert.NotNull(SweptCylinder.Against(box, new(-2.99 * Mm, -20 * Mm, 0), new(-2.99 * Mm, 20 * Mm, 0), 3 * Mm));
        Assert.Null(SweptCylinder.Against(box, new(5 * Mm, 5 * Mm, 9 * Mm), new(5 * Mm, 5 * Mm, 5 * Mm), 3 * Mm));
        Assert.NotNull(SweptCylinder.Against(box, new(5 * Mm, 5 * Mm, 9 * Mm), new(5 * Mm, 5 * Mm, 4.99 * Mm), 3 * Mm));
    }

    /// <summary>A thin pin between two ends of a long rapid: no step of a sampler would land on it.</summary>
    [Fact]
    public void A_thin_pin_in_a_long_move_is_found()
    {
        var pin = new Solid
        {
            Name = "pin",
            Round = true,
            MinX = -500,
            MaxX = 500,
            MinY = -500,
            MaxY = 500,
            Top = 10_000_000,
        };
        var found = SweptCylinder.Against(pin, new(-900 * Mm, 1000, 0), new(900 * Mm, 1000, 0), 2000);
        Assert.Equal(1500, found!.Value.Inside, 1.0);
    }

    [Fact]
    public void A_dogleg_moves_each_axis_at_its_own_rate()
    {
        Span<TipPoint> points = new TipPoint[4];
        var count = Dogleg.Path(new(0, 0, 0), new(30, 10, -40), new Rates(10, 10, 8), points);
        Assert.Equal([new(0, 0, 0), new(10, 10, -8), new(30, 10, -24), new(30, 10, -40)], points[..count].ToArray());
        Assert.Equal(2, Dogleg.Path(new(0, 0, 0), new(0, 0, -40), new Rates(10, 10, 8), points));
        Assert.Equal(1, Dogleg.Path(new(1, 2, 3), new(1, 2, 3), new Rates(10, 10, 8), points));
    }

    static TipPoint Between(TipPoint from, TipPoint to, double share) =>
        new(from.X + (to.X - from.X) * share, from.Y + (to.Y - from.Y) * share, from.Z + (to.Z - from.Z) * share);

    static double Square(double value) => value * value;
}
