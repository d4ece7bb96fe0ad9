using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>
/// Appendix B of T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274NGC Interpreter - Version 3", NISTIR 6556, 17 August 2000: its
/// two programs, its first move, its outside corner, its way off, and its list of errors. Table 12 is the edge of the material, table 13 the
/// path of a tool of diameter 1 along it: the first run with that diameter must give the second ("derived").
/// </summary>
public class NistCompensationTests
{
    const string EdgeContour = """
        N0010 G1 X1 Y5
        N0020 G41 D1 G1 Y4
        N0030 G3 X2 Y3 I1
        N0040 G2 X3 Y2 J-1
        N0050 G1 Y-1
        N0060 G2 X2 Y-2 I-1
        N0070 G1 X-2
        N0080 G2 X-2.6 Y-0.2 J1
        N0090 G1 X1.4 Y2.8
        N0100 G2 X2 Y3 I0.6 J-0.8
        N0110 G40
        """;

    const string NominalPath = """
        N0010 G1 X1.5 Y5
        N0020 G41 D1 G1 Y4
        N0030 G3 X2 Y3.5 I0.5
        N0040 G2 X3.5 Y2 J-1.5
        N0050 G1 Y-1
        N0060 G2 X2 Y-2.5 I-1.5
        N0070 G1 X-2
        N0080 G2 X-2.9 Y0.2 J1.5
        N0090 G1 X1.1 Y3.2
        N0100 G2 X2 Y3.5 I0.9 J-1.2
        N0110 G40
        """;

    /// <summary>The report's readings, in inch as its text has it, and one register.</summary>
    static ControlSettings Report(double diameter) =>
        MotionLog.Settings() with
        {
            DiameterOffsets = new Dictionary<int, long> { [1] = (long)Math.Round(diameter * 25_400_000) },
            Reads = new()
            {
                CompensationEntry = CompensationEntry.Tangent,
                CompensationCorners = CompensationCorners.Arc,
                CompensationInsideCorners = false,
                CompensationExit = CompensationExit.FromCentre,
            },
        };

    static MotionLog Run(string program, double diameter) =>
        MotionLog.Of("G20 G90 G17 G0 X0 Y0 Z0 F20\n" + program, Report(diameter));

    /// <summary>Inch, of all legs from this one on.</summary>
    static double Length(MotionLog log, int from) => log.Ways.Skip(from).Sum(w => w.Length) / 25_400_000;

    [Fact]
    public void Edge_contour_gives_the_nominal_path() // tables 12 and 13, pp. 76 and 79
    {
        var edge = Run(EdgeContour, 1);
        Assert.Empty(edge.Faults);
        Assert.Equal(
            "F(1,5,0) F(1.433,4.25,0) A(1.5,4,0) A(2,3.5,0) A(3.5,2,0) F(3.5,-1,0) A(2,-2.5,0) F(-2,-2.5,0) "
                + "A(-2.9,0.2,0) F(1.1,3.2,0) A(2,3.5,0)",
            string.Join(' ', edge.Moves.Skip(1))
        );
        var nominal = Run(NominalPath, 0);
        Assert.Equal(nominal.Moves.TakeLast(8), edge.Moves.TakeLast(8));
        for (var i = 1; i <= 5; i++)
        {
            var (a, b) = (edge.Arcs[^i], nominal.Arcs[^i]);
            Assert.Equal(b.CentreU, a.CentreU, 1.0);
            Assert.Equal(b.CentreV, a.CentreV, 1.0);
            Assert.Equal(b.Radius, a.Radius, 1.0);
            Assert.Equal(b.Sweep, a.Sweep, 1e-7);
        }
    }

    [Fact]
    public void First_move_and_the_arc_after_it() // B.6, p. 81: figures derived from the rule
    {
        var log = Run(EdgeContour, 1);
        Assert.Equal(1.4330127, log.Legs[2].To.X / 25_400_000.0, 7);
        Assert.Equal(4.25, log.Legs[2].To.Y / 25_400_000.0, 7);
        // the cutter is square to its way at the programmed place
        var (x, y) = (log.Legs[2].To.X - 25_400_000.0, log.Legs[2].To.Y - 4 * 25_400_000.0);
        Assert.Equal(0, x * (log.Legs[2].To.X - log.Legs[2].From.X) + y * (log.Legs[2].To.Y - log.Legs[2].From.Y), 1e8);
        var around = log.Arcs[0];
        Assert.Equal((1, 4), (Math.Round(around.CentreU / 25_400_000, 7), Math.Round(around.CentreV / 25_400_000, 7)));
        Assert.Equal(0.5, around.Radius / 25_400_000, 7);
        Assert.Equal(-30, around.Sweep * 180 / Math.PI, 5);
        var second = log.Arcs[1];
        Assert.Equal((2, 4), (Math.Round(second.CentreU / 25_400_000, 7), Math.Round(second.CentreV / 25_400_000, 7)));
        Assert.Equal(0.5, second.Radius / 25_400_000, 7);
    }

    [Fact]
    public void Length_of_the_contour() // N0040 to N0100, derived: three lines of 3, 4 and 5, and arcs of radius 1.5 that turn once around
    {
        Assert.Equal(12 + 3 * Math.PI, Length(Run(EdgeContour, 1), 5), 7);
        Assert.Equal(12 + 2 * Math.PI, Length(Run(EdgeContour, 0), 4), 7);
    }

    [Theory] // B.4, p. 77: tool 0.97 along a path for 1.0: the register is -0.03 and the side is the other one
    [InlineData(-0.03, 3.485)]
    [InlineData(0.03, 3.515)]
    [InlineData(0, 3.5)]
    public void A_negative_register_goes_to_the_other_side(double diameter, double x)
    {
        var log = Run(NominalPath, diameter);
        Assert.Empty(log.Faults);
        Assert.Equal(x, log.Legs.Single(l => l.To.Y == -25_400_000).To.X / 25_400_000.0, 7);
    }

    [Fact]
    public void Arcs_go_round_the_corners_of_a_triangle() // B.1, figure 2, left; corners of our own
    {
        var log = Run("G0 X2 Y5\nG41 D1 G1 X2 Y2\nY-1\nX-2\nX2 Y2\nG40", 1);
        Assert.Empty(log.Faults);
        Assert.Equal(3, log.Arcs.Count);
        Assert.All(log.Arcs, a => Assert.Equal(0.5, a.Radius / 25_400_000, 7));
        Assert.All(log.Arcs, a => Assert.True(a.Sweep < 0));
    }

    [Fact]
    public void The_simple_entry_at_a_corner() // B.3.1.2, p. 77: from (1.5,4) to (3,3), then down the right side
    {
        var log = Run("G1 X1.5 Y4\nG41 D1 G1 X3 Y3\nY-1\nG40", 1);
        Assert.Empty(log.Faults);
        Assert.Equal("(3.5,3,0)", log.Moves.Last(m => m[0] == 'A')[1..]);
        Assert.Equal("F(3.5,-1,0)", log.Moves.Last());
    }

    [Fact]
    public void No_way_off_of_its_own() // B.6, p. 82: as if compensation had never been on and the tool stood here
    {
        Assert.EndsWith("A(2,3.5,0) F(5,3.5,0)", Run(EdgeContour + "\nX5", 1).MovesText, StringComparison.Ordinal);
        Assert.EndsWith("A(2,3.5,0) F(3,3.5,0)", Run(EdgeContour + "\nG91 X1", 1).MovesText, StringComparison.Ordinal);
        Assert.EndsWith("A(2,3.5,0) F(2,5,0)", Run(EdgeContour + "\nX2 Y5", 1).MovesText, StringComparison.Ordinal);
    }

    [Theory] // B.5, p. 80, by its numbers
    [InlineData("G41 D1 G1 X9\nG92 X1", FaultKind.CompensationEntry, CompensationCause.Shift)] // 1
    [InlineData("G41 D1\nG38.2 X1", FaultKind.CannotFollow, "G38.2")] // 3
    [InlineData("G18 G41 D1", FaultKind.CannotFollow, "G41 or G42 outside the XY plane")] // 4
    [InlineData("G41 D1 G1 X9\nG42 X20", FaultKind.CompensationEntry, CompensationCause.OtherSide)] // 5
    [InlineData("G41 D1 G1 X9\nG28 X0", FaultKind.CompensationEntry, CompensationCause.OtherMotion)] // 6
    [InlineData("G41 D1 G1 X9\nG30 X0", FaultKind.CompensationEntry, CompensationCause.OtherMotion)] // 6
    [InlineData("G41 D1 G1 X9\nG53 X0", FaultKind.CompensationEntry, CompensationCause.OtherMotion)] // 7
    [InlineData("G41 D1 G1 X9\nG18", FaultKind.CannotFollow, "G41 or G42 outside the XY plane")] // 8
    [InlineData("G41 D1 G1 X9\nG19", FaultKind.CannotFollow, "G41 or G42 outside the XY plane")] // 9
    [InlineData("G41 D1 G1 X9\nX20\nY20", FaultKind.CompensationEntry, CompensationCause.CornerRefused)] // 10
    [InlineData("G41 D1 G1 X.2", FaultKind.CompensationEntry, CompensationCause.EntryShort)] // 11
    [InlineData("G41 D1 G1 X9\nD2 X20", FaultKind.CompensationEntry, CompensationCause.OtherRegister)] // 12
    [InlineData("G41 D1 D2 G1 X9", FaultKind.SameGroupTwice, "D twice")] // 13
    [InlineData("G41 D-1 G1 X9", FaultKind.CannotRead, "D")] // 14
    [InlineData("G41 D1 G1 X9\nX20\nG3 X20.5 Y.5 J.4", FaultKind.CompensationEntry, CompensationCause.ArcSmall)] // 16
    [InlineData("G41 G42 D1 G1 X9", FaultKind.SameGroupTwice, "G41 and G42")] // 17
    public void Its_errors_are_faults(string program, FaultKind kind, string cause)
    {
        var settings = Report(1);
        settings = settings with
        {
            DiameterOffsets = new Dictionary<int, long> { [1] = 25_400_000, [2] = 20_000_000 },
        };
        var log = MotionLog.Of("G20 G90 G17 G0 X0 Y0 Z0 F20\n" + program + "\nG40 Y40\nM30", settings);
        Assert.Contains(log.Faults, f => f.Kind == kind && f.Cause == cause);
    }

    [Fact]
    public void On_before_the_move_of_its_block() // B.2.3, p. 75
    {
        var beside = Run("G1 G41 D1 X4\nX9\nG40 Y5", 1).MovesText;
        Assert.Equal(Run("G41 D1\nG1 X4\nX9\nG40\nY5", 1).MovesText, beside);
        Assert.EndsWith("F(9,0.5,0) F(9,5,0)", beside, StringComparison.Ordinal);
    }
}
