using System.Globalization;
using System.Numerics;
using System.Text;
using CsCheck;
using Handwheel.Nc;
using NetTopologySuite.Geometries;

namespace Handwheel.Tests.Nc;

/// <summary>What holds for the tool's way beside any path: plane geometry, and NetTopologySuite's buffer for outlines.</summary>
public class CompensationPropertyTests
{
    const double Millimetre = 1e6;

    /// <summary>A closed outline of lines and arcs, counterclockwise, in mm: corners, and how far each side bulges (tan of a quarter of its arc; 0: a line).</summary>
    sealed record Outline((double X, double Y)[] Corners, double[] Bulges)
    {
        public override string ToString() =>
            string.Join(' ', Corners.Zip(Bulges, (c, b) => FormattableString.Invariant($"({c.X};{c.Y};{b})")));
    }

    /// <summary>Corners around a centre at rising angles, so that straight sides never cross; places are whole micrometres.</summary>
    static Gen<Outline> Star(double least, double most, bool arcs) =>
        Gen.Int[3, 9]
            .SelectMany(n =>
                Gen.Select(
                    Gen.Double[0.15, 0.85].Array[n],
                    Gen.Double[least, most].Array[n],
                    Gen.OneOf(Gen.Double[-0.25, -0.03], Gen.Double[0.03, 0.35]).Array[n],
                    Gen.Bool.Array[n],
                    (turns, radii, bulges, round) =>
                    {
                        var corners = new (double, double)[n];
                        for (var i = 0; i < n; i++)
                        {
                            var angle = (i + turns[i]) * Math.Tau / n;
                            corners[i] = (Round(radii[i] * Math.Cos(angle)), Round(radii[i] * Math.Sin(angle)));
                        }
                        return new Outline(corners, [.. bulges.Select((b, i) => arcs && round[i] ? b : 0)]);
                    }
                )
            );

    static double Round(double value) => Math.Round(value, 3);

    static string Number(double value)
    {
        var text = value.ToString("0.######", CultureInfo.InvariantCulture);
        return text.Contains('.', StringComparison.Ordinal) ? text : text + ".";
    }

    /// <summary>The outline as a program: on in the middle of the first side, which is cut in two, and once around; from and to a place <paramref name="off"/> mm right of it.</summary>
    static string Program(Outline outline, double off, string on)
    {
        var text = new StringBuilder("G21 G17 G90 G40\n");
        var n = outline.Corners.Length;
        var (first, second) = (outline.Corners[0], outline.Corners[1]);
        var middle = (X: Round((first.X + second.X) / 2), Y: Round((first.Y + second.Y) / 2));
        var side = Math.Sqrt(Math.Pow(second.X - first.X, 2) + Math.Pow(second.Y - first.Y, 2));
        var way = off / side;
        var away = (X: Round(middle.X + (second.Y - first.Y) * way), Y: Round(middle.Y - (second.X - first.X) * way));
        text.Append(Invariant($"G0 X{Number(away.X)} Y{Number(away.Y)} Z0.\n"));
        text.Append(Invariant($"G1 {on} D1 X{Number(middle.X)} Y{Number(middle.Y)} F100.\n"));
        text.Append(Invariant($"G1 X{Number(second.X)} Y{Number(second.Y)}\n"));
        for (var i = 1; i < n; i++)
            Side(text, outline.Corners[i], outline.Corners[(i + 1) % n], outline.Bulges[i]);
        text.Append(Invariant($"G1 X{Number(middle.X)} Y{Number(middle.Y)}\n"));
        text.Append(Invariant($"G40 X{Number(away.X)} Y{Number(away.Y)}\nM30\n"));
        return text.ToString();
    }

    static string Around(Outline outline, bool outside) =>
        outside ? Program(outline, 50, "G42") : Program(outline, -25, "G41");

    static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    static void Side(StringBuilder text, (double X, double Y) from, (double X, double Y) to, double bulge)
    {
        if (bulge == 0)
        {
            text.Append(Invariant($"G1 X{Number(to.X)} Y{Number(to.Y)}\n"));
            return;
        }
        var (dx, dy) = (to.X - from.X, to.Y - from.Y);
        var factor = (1 - bulge * bulge) / (4 * bulge);
        var (i, j) = (dx / 2 - dy * factor, dy / 2 + dx * factor);
        text.Append(
            Invariant($"{(bulge > 0 ? "G3" : "G2")} X{Number(to.X)} Y{Number(to.Y)} I{Number(i)} J{Number(j)}\n")
        );
    }

    static ControlSettings Settings(double register, Func<Reads, Reads>? reads = null) =>
        MotionLog.Settings(Units.Millimetre) with
        {
            DiameterOffsets = new Dictionary<int, long> { [1] = (long)Math.Round(register * Millimetre), [2] = 0 },
            Reads = (reads ?? (r => r))(new Reads { DiameterRegisterIsRadius = true }),
        };

    /// <summary>The centre's way between entry and exit, and what was programmed there.</summary>
    static (List<Way> Centre, List<Way> Programmed) Contour(MotionLog log) =>
        (log.Ways.Skip(2).SkipLast(1).Where(w => w.Length > 0).ToList(), log.Programmed.Skip(1).SkipLast(1).ToList());

    static void KeepsItsDistance(MotionLog log, double radius, bool arcs)
    {
        var (centre, programmed) = Contour(log);
        var before = log.Ways[1].To;
        foreach (var way in centre)
        {
            Assert.True((way.From - before).Magnitude < 1, "the way has a gap");
            before = way.To;
            var nearest = Enumerable.Range(0, 9).Select(i => programmed.Min(p => p.Distance(way.At(i / 8.0)))).ToList();
            Assert.True(nearest.Min() >= radius - 2, $"{radius - nearest.Min()} nm too near at line {way.Line}");
            if (arcs)
                Assert.True(nearest.Max() <= radius + 2, $"{nearest.Max() - radius} nm off at line {way.Line}");
        }
        foreach (var side in programmed.Where(p => p.Length > radius))
        {
            var places = Enumerable.Range(0, 65).Select(i => side.At(i / 64.0));
            Assert.True(places.Any(p => centre.Min(c => c.Distance(p)) <= radius + 2), $"line {side.Line} is not cut");
        }
    }

    /// <summary>
    /// The tool fits everywhere: what is left when it has gone round is the outline (closing, or opening from inside). Two sides
    /// that bulge inwards can cross beside a sharp corner; such an outline has no inside to keep to.
    /// </summary>
    static bool Fits(MotionLog log, double radius, bool outside)
    {
        var corners = Contour(log).Programmed.SelectMany(w => Enumerable.Range(0, 32).Select(i => w.At(i / 32.0)));
        var outline = PolygonOf(corners);
        if (!outline.IsValid)
            return false;
        var side = outside ? radius : -radius;
        var rolled = outline.Buffer(side, 32).Buffer(-side, 32);
        return Math.Abs(rolled.Area - outline.Area) < 0.002 * outline.Area && rolled.NumGeometries == 1;
    }

    static Polygon PolygonOf(IEnumerable<Complex> places)
    {
        var ring = places.Select(p => new Coordinate(p.Real, p.Imaginary)).ToList();
        ring.Add(ring[0]);
        return new GeometryFactory().CreatePolygon([.. ring]);
    }

    static Gen<(Outline Outline, double Radius, bool Arcs)> Case(double radius, double most) =>
        Gen.Select(Star(20, most, arcs: true), Gen.Double[0.2, radius], Gen.Bool, (o, r, a) => (o, Round(r), a));

    static Reads With(Reads reads, bool arcs) =>
        reads with
        {
            CompensationCorners = arcs ? CompensationCorners.Arc : CompensationCorners.Lines,
        };

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_centre_keeps_its_distance(bool outside)
    {
        var measured = 0;
        Case(4, 40)
            .Sample(
                c =>
                {
                    var log = MotionLog.Of(Around(c.Outline, outside), Settings(c.Radius, r => With(r, c.Arcs)));
                    if (log.Faults.Count > 0 || !Fits(log, c.Radius * Millimetre, outside))
                        return;
                    Interlocked.Increment(ref measured);
                    KeepsItsDistance(log, c.Radius * Millimetre, c.Arcs);
                },
                iter: 600
            );
        Assert.True(measured > 100, $"only {measured} outlines had room for the tool");
    }

    [Fact]
    public void Where_the_tool_does_not_fit_it_is_said() // straight sides: NetTopologySuite's inward buffer has nothing left
    {
        var narrow = 0;
        Gen.Select(Star(8, 40, arcs: false), Gen.Double[4, 20])
            .Sample(
                (outline, radius) =>
                {
                    var log = MotionLog.Of(Around(outline, outside: false), Settings(radius));
                    if (!PolygonOf(Contour(log).Programmed.Select(w => w.From)).Buffer(-radius * Millimetre).IsEmpty)
                        return;
                    Interlocked.Increment(ref narrow);
                    Assert.NotEmpty(log.Faults);
                },
                iter: 1000
            );
        Assert.True(narrow > 100, $"only {narrow} outlines were too narrow");
    }

    static bool IsConvex(Outline outline)
    {
        var n = outline.Corners.Length;
        for (var i = 0; i < n; i++)
        {
            var (a, b, c) = (outline.Corners[i], outline.Corners[(i + 1) % n], outline.Corners[(i + 2) % n]);
            if ((b.X - a.X) * (c.Y - b.Y) - (b.Y - a.Y) * (c.X - b.X) < 1)
                return false;
        }
        return true;
    }

    static Polygon CentreOf(MotionLog log) =>
        PolygonOf(Contour(log).Centre.SelectMany(w => Enumerable.Range(0, 128).Select(i => w.At(i / 128.0))));

    [Fact]
    public void Outside_a_convex_outline_the_way_is_the_edge_of_its_buffer() // NetTopologySuite; Steiner: area + perimeter·r + π·r²
    {
        var measured = 0;
        Gen.Select(Star(20, 22, arcs: false).Where(IsConvex), Gen.Double[0.5, 15])
            .Sample(
                (outline, r) =>
                {
                    var radius = Round(r) * Millimetre;
                    var log = MotionLog.Of(Around(outline, outside: true), Settings(Round(r)));
                    Assert.Empty(log.Faults);
                    var edge = PolygonOf(Contour(log).Programmed.Select(w => w.From));
                    var centre = CentreOf(log);
                    var steiner = edge.Area + edge.Length * radius + Math.PI * radius * radius;
                    Assert.Equal(1, centre.Area / steiner, 1e-4);
                    var buffer = edge.Buffer(radius, 128);
                    Assert.True(centre.SymmetricDifference(buffer).Area < 1e-4 * buffer.Area);
                    Interlocked.Increment(ref measured);
                },
                iter: 300
            );
        Assert.Equal(300, measured);
    }

    [Fact]
    public void Inside_a_convex_outline_the_way_is_the_edge_of_what_is_left() // NetTopologySuite's inward buffer
    {
        var measured = 0;
        Gen.Select(Star(20, 22, arcs: false).Where(IsConvex), Gen.Double[0.5, 9])
            .Sample(
                (outline, r) =>
                {
                    var radius = Round(r) * Millimetre;
                    var log = MotionLog.Of(Around(outline, outside: false), Settings(Round(r)));
                    if (log.Faults.Count > 0)
                        return;
                    Interlocked.Increment(ref measured);
                    var left = PolygonOf(Contour(log).Programmed.Select(w => w.From)).Buffer(-radius);
                    Assert.Equal(left.Area, CentreOf(log).Area, 3 * left.Length);
                },
                iter: 500
            );
        Assert.True(measured > 200, $"only {measured} outlines had room for the tool");
    }

    static Outline Mirrored(Outline outline) =>
        new([.. outline.Corners.Select(c => (-c.X, c.Y))], [.. outline.Bulges.Select(b => -b)]);

    /// <summary>The same outline the other way round, from the same side.</summary>
    static Outline Reversed(Outline outline)
    {
        var n = outline.Corners.Length;
        return new(
            [.. Enumerable.Range(0, n).Select(i => outline.Corners[(n + 1 - i) % n])],
            [.. Enumerable.Range(0, n).Select(i => -outline.Bulges[(n - i) % n])]
        );
    }

    [Fact]
    public void Left_of_a_path_is_right_of_its_mirror_image() =>
        Case(4, 40)
            .Sample(
                c =>
                {
                    var settings = Settings(c.Radius, r => With(r, c.Arcs));
                    var (straight, mirror) = (
                        MotionLog.Of(Around(c.Outline, outside: true), settings),
                        MotionLog.Of(Program(Mirrored(c.Outline), -50, "G41"), settings)
                    );
                    Assert.Equal(straight.Faults.Select(f => f.Cause), mirror.Faults.Select(f => f.Cause));
                    SameWays(
                        straight.Ways.Skip(2),
                        mirror
                            .Ways.Skip(2)
                            .Select(w => (-Complex.Conjugate(w.From), -Complex.Conjugate(w.To), w.Length))
                    );
                },
                iter: 300
            );

    [Fact]
    public void Back_along_a_path_on_its_other_side_is_the_same_way() =>
        Case(4, 40)
            .Sample(
                c =>
                {
                    var settings = Settings(c.Radius, r => With(r, c.Arcs));
                    var forth = MotionLog.Of(Around(c.Outline, outside: true), settings);
                    var back = MotionLog.Of(Program(Reversed(c.Outline), -50, "G41"), settings);
                    if (forth.Faults.Count + back.Faults.Count > 0)
                        return;
                    SameWays(
                        Contour(forth).Centre,
                        Contour(back).Centre.AsEnumerable().Reverse().Select(w => (w.To, w.From, w.Length))
                    );
                },
                iter: 300
            );

    static void SameWays(IEnumerable<Way> ways, IEnumerable<(Complex From, Complex To, double Length)> others)
    {
        var (first, second) = (ways.ToList(), others.ToList());
        Assert.Equal(first.Count, second.Count);
        foreach (var (way, other) in first.Zip(second))
        {
            Assert.True((way.From - other.From).Magnitude < 3 && (way.To - other.To).Magnitude < 3);
            Assert.Equal(way.Length, other.Length, 30.0);
        }
    }

    [Fact]
    public void A_register_does_what_a_path_worked_out_by_hand_does() =>
        Gen.Select(Gen.Int[20, 60], Gen.Int[20, 60], Gen.Int[1, 9])
            .Sample(
                (w, h, r) =>
                {
                    var edge = Invariant($"G41 D1 G1 X0. Y10.\nY{h}.\nX{w}.\nY0.\nX0.\nY10.\nG40 X-50.");
                    var byHand = Invariant(
                        $"""
                        G41 D2 G1 X-{r}. Y10.
                        Y{h}.
                        G2 X0. Y{h + r}. I{r}.
                        G1 X{w}.
                        G2 X{w + r}. Y{h}. J-{r}.
                        G1 Y0.
                        G2 X{w}. Y-{r}. I-{r}.
                        G1 X0.
                        G2 X-{r}. Y0. J{r}.
                        G1 Y10.
                        G40 X-50.
                        """
                    );
                    const string Start = "G21 G90 G0 X-50. Y10. Z0. F9.\n";
                    var (beside, plain) = (
                        MotionLog.Of(Start + edge, Settings(r)),
                        MotionLog.Of(Start + byHand, Settings(r))
                    );
                    Assert.Empty(beside.Faults);
                    Assert.Equal(plain.MovesText, beside.MovesText);
                    Assert.Equal(plain.Ways.Sum(x => x.Length), beside.Ways.Sum(x => x.Length), 10.0);
                },
                iter: 100
            );
}
