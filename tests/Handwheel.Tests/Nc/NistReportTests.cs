using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>
/// Worked cases of T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274NGC Interpreter - Version 3", NISTIR 6556, 17 August 2000.
/// Section or page beside each; "derived" where the report gives the rule and not the figures. T is a rapid, F a feed, A an arc, and
/// places are what the report calls the current position: programmed coordinates.
/// </summary>
public class NistReportTests
{
    static MotionLog Run(string program, ControlSettings? settings = null) =>
        MotionLog.Of(program, settings ?? MotionLog.Settings(Units.Millimetre));

    static string Moves(string program) => Run(program).MovesText;

    static double Millimetres(double nanometres) => nanometres / 1e6;

    [Fact]
    public void First_printed_canned_cycle() // p. 32
    {
        var moves = Moves("G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8 F9");
        Assert.Equal("T(1,2,3) T(4,5,3) T(4,5,2.8) F(4,5,1.5) T(4,5,3)", moves);
    }

    [Fact]
    public void Second_printed_canned_cycle() // p. 32
    {
        var moves = Moves("G0 X1 Y2 Z3\nG91 G81 G98 X4 Y5 Z-0.6 R1.8 L3 F9");
        Assert.Equal(
            "T(1,2,3) T(1,2,4.8) T(5,7,4.8) F(5,7,4.2) T(5,7,4.8) "
                + "T(9,12,4.8) F(9,12,4.2) T(9,12,4.8) T(13,17,4.8) F(13,17,4.2) T(13,17,4.8)",
            moves
        );
    }

    // C.3, lines n0030 to n0090; derived from 3.5.16. Start: Z reads -2 at (0,0). The report states no initial G98 or G99, so each is set.
    const string SampleCycles = """
        G0 X0 Y0 Z-2 F10
        n0030 g81 x3 y4 r0.2 z-1.1
        n0040 x1 y0 r0 g91 l3
        n0050 y-2 r0.1
        n0060 g82 g90 x4 y5 r0.2 z-1.1
        n0070 x2 z-3.0
        n0080 g91 x-2 y2 r0 l4
        """;

    [Fact]
    public void Sample_cycles_that_return_to_R()
    {
        Assert.Equal(
            "T(0,0,-2) "
                + "T(0,0,0.2) T(3,4,0.2) F(3,4,-1.1) T(3,4,0.2) "
                + "T(4,4,0.2) F(4,4,-0.9) T(4,4,0.2) T(5,4,0.2) F(5,4,-0.9) T(5,4,0.2) T(6,4,0.2) F(6,4,-0.9) T(6,4,0.2) "
                + "T(6,4,0.3) T(6,2,0.3) F(6,2,-0.8) T(6,2,0.3) "
                + "T(4,5,0.3) T(4,5,0.2) F(4,5,-1.1) T(4,5,0.2) "
                + "T(2,5,0.2) F(2,5,-3) T(2,5,0.2) "
                + "T(0,7,0.2) F(0,7,-2.8) T(0,7,0.2) T(-2,9,0.2) F(-2,9,-2.8) T(-2,9,0.2) "
                + "T(-4,11,0.2) F(-4,11,-2.8) T(-4,11,0.2) T(-6,13,0.2) F(-6,13,-2.8) T(-6,13,0.2)",
            Moves("G99\n" + SampleCycles)
        );
    }

    [Fact]
    public void Sample_cycles_that_return_to_the_initial_level()
    {
        Assert.EndsWith(
            "T(4,5,0.3) T(4,5,0.2) F(4,5,-1.1) T(4,5,0.3) "
                + "T(2,5,0.3) T(2,5,0.2) F(2,5,-3) T(2,5,0.3) "
                + "T(0,7,0.3) F(0,7,-2.7) T(0,7,0.3) T(-2,9,0.3) F(-2,9,-2.7) T(-2,9,0.3) "
                + "T(-4,11,0.3) F(-4,11,-2.7) T(-4,11,0.3) T(-6,13,0.3) F(-6,13,-2.7) T(-6,13,0.3)",
            Moves("G98\n" + SampleCycles),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Sample_pecks() // C.3 n0090: the last peck is what is left
    {
        var log = Run("G99 G0 X0 Y0 Z0.2\nn0090 g83 g90 x5 y6 r.2 z-1.1 q.21 f1");
        var bottoms = log.Legs.Where(l => l.Part == CyclePart.Down).Select(l => l.To.Z / 10_000);
        Assert.Equal([-1, -22, -43, -64, -85, -106, -110], bottoms);
    }

    [Theory]
    // C.3 n0230 and n0430: the same cycle across the other planes, derived.
    [InlineData("G18", "g81 z3 x4 r0.2 y-1.1", "T(0,0.2,0) T(4,0.2,3) F(4,-1.1,3) T(4,0.2,3)")]
    [InlineData("G19", "g81 y3 z4 r0.2 x-1.1", "T(0.2,0,0) T(0.2,3,4) F(-1.1,3,4) T(0.2,3,4)")]
    public void Cycles_in_the_other_planes(string plane, string cycle, string expected) =>
        Assert.Equal("T(0,0,0) " + expected, Moves($"{plane} G99 G0 X0 Y0 Z0\n{cycle} F1"));

    [Fact]
    public void Session_of_table_10() // p. 63; its expressions written as their values, and a start at the origin
    {
        var settings = MotionLog.Settings(Units.Millimetre) with
        {
            LengthOffsets = new Dictionary<int, long> { [2] = 1_000_000 },
            ToolChangeZ = 500_000,
        };
        var log = Run(
            """
            g0 g53 x0 y0 z0
            g1 x3 y1 f20.0
            g2 x0 r 7.01 z0.5
            t2
            m6 g43 h2
            g1 x30
            g91 g81 x3 y2 z-0.8 r1.5 l2
            m2
            """,
            settings
        );
        Assert.Equal(
            "T(0,0,0) F(3,1,0) A(0,1,0.5) F(30,1,-0.5) "
                + "T(30,1,1) T(33,3,1) F(33,3,0.2) T(33,3,1) T(36,5,1) F(36,5,0.2) T(36,5,1)",
            log.MovesText
        );
        var arc = Assert.Single(log.Arcs);
        Assert.Equal(1.5, Millimetres(arc.CentreU), 4);
        Assert.Equal(7.8476, Millimetres(arc.CentreV), 4);
        Assert.Equal(-24.711389, arc.Sweep * 180 / Math.PI, 5); // derived
        Assert.Equal(3.0644443, Millimetres(arc.Length), 6); // derived
        Assert.Equal((2, RunEnd.ProgramEnd), (log.Last.Tool, log.End));
    }

    [Fact]
    public void Centre_format_arc() // 3.5.3.2, p. 24
    {
        var arc = Run("G0 X7 Y7 Z0\nG17 G2 X10 Y16 I3 J4 Z9 F10").Arcs[0];
        Assert.Equal((10, 11, 5), (Millimetres(arc.CentreU), Millimetres(arc.CentreV), Millimetres(arc.Radius)));
        Assert.Equal(-143.1301, arc.Sweep * 180 / Math.PI, 4); // derived
        Assert.Equal(Math.Sqrt(12.49046 * 12.49046 + 81), Millimetres(arc.Length), 4); // derived: along the helix
    }

    [Fact]
    public void Radius_format_arc() // 3.5.3.1, p. 23; start and figures derived
    {
        var arc = Run("G0 X0 Y15 Z0\nG17 G2 X10 Y15 R20 Z5 F10").Arcs[0];
        Assert.Equal(5, Millimetres(arc.CentreU), 6);
        Assert.Equal(-4.364917, Millimetres(arc.CentreV), 6);
        Assert.Equal(-28.955024, arc.Sweep * 180 / Math.PI, 6);
    }

    [Fact]
    public void Radii_may_differ_by_two_thousandths() // 3.5.3.2
    {
        var settings = MotionLog.Settings(Units.Millimetre) with { Reads = new() { ArcTolerance = 2_000 } };
        Assert.Empty(Run("G0 X0 Y0 Z0\nG2 X10.0019 Y0 I5 F9", settings).Faults);
        var fault = Assert.Single(Run("G0 X0 Y0 Z0\nG2 X10.0021 Y0 I5 F9", settings).Faults);
        Assert.Equal((FaultKind.ArcRadiiDiffer, 5e6, 5.0021e6), (fault.Kind, fault.First, fault.Second));
    }

    [Fact]
    public void A_full_circle_needs_a_centre() // 3.5.3: end and start the same
    {
        Assert.Equal(Math.Tau, Run("G0 X1 Y0 Z0\nG3 X1 Y0 I-1 F9").Arcs[0].Sweep);
        Assert.Equal(FaultKind.ArcFullCircleByRadius, Run("G0 X1 Y0 Z0\nG3 X1 Y0 R1 F9").Faults[0].Kind);
    }

    [Fact]
    public void A_shift_makes_the_place_read_as_programmed() // 3.5.18, p. 36
    {
        var log = Run("G0 X4\nG92 X7\nG92 X9\nG91 G92 X9\nG55 G90 X9\nG92.2\nX4\nG92.3 X0\nG92.1\nX4");
        var shifts = log
            .Events.Where(e => e.StartsWith("shift", StringComparison.Ordinal))
            .Select(e => e.Split(' ')[^3]);
        Assert.Equal(["-3000000", "-5000000", "-5000000", "0", "-5000000", "0"], shifts);
        Assert.Equal([4, 4, 4, 4], log.Legs.Select(l => l.To.X / 1_000_000));
    }

    [Fact]
    public void A_register_is_written_in_machine_coordinates() // 3.5.5, p. 25
    {
        var log = Run("G10 L2 P1 X3.5 Y17.2\nG0 X0 Y0 Z1");
        Assert.Equal("T(3.5,17.2,1)", log.MovesText);
        Assert.Equal(Axes.X | Axes.Y, Assert.Single(log.Writes).Axes);
    }

    [Theory] // 3.5.8, p. 26: by the point programmed to the reference; with no axis words straight there
    [InlineData("G28 X1 Z2", "T(1,5,2) T(-100,5,-300)")]
    [InlineData("G30 Y6", "T(5,6,5) T(5,-21,5)")]
    [InlineData("G28", "T(-100,-200,-300)")]
    [InlineData("G91 G28 Z0", "T(5,5,-300)")]
    public void Reference_returns(string block, string expected)
    {
        var settings = MotionLog.Settings(Units.Millimetre) with
        {
            Reference = new(-100_000_000, -200_000_000, -300_000_000),
            SecondReference = new(-20_000_000, -21_000_000, -22_000_000),
        };
        Assert.Equal("T(5,5,5) " + expected, Run("G0 X5 Y5 Z5\n" + block, settings).MovesText);
    }

    [Fact]
    public void Machine_coordinates_hold_for_one_block() // 3.5.12, p. 29
    {
        Assert.Equal("T(11,12,13) T(1,12,13) T(12,12,13)", Moves("G10 L2 P1 X10 Y10 Z10\nG0 X1 Y2 Z3\nG53 X1\nX2"));
    }

    [Theory] // table 4, p. 20: one code of a group in a block
    [InlineData("G0 G1 X1")]
    [InlineData("G17 G18")]
    [InlineData("G90 G91")]
    [InlineData("G93 G94")]
    [InlineData("G20 G21")]
    [InlineData("G41 G42")]
    [InlineData("G43 G49")]
    [InlineData("G98 G99")]
    [InlineData("G54 G55")]
    [InlineData("G61 G64")]
    [InlineData("G4 G92 X1 P1")]
    [InlineData("M0 M1")]
    [InlineData("M3 M4")]
    [InlineData("M8 M9")]
    [InlineData("M48 M49")]
    public void One_code_of_a_group(string block) =>
        Assert.Equal(
            FaultKind.SameGroupTwice,
            Assert.Single(Run(block).Faults, f => f.Kind != FaultKind.CannotFollow).Kind
        );

    [Theory]
    [InlineData("G0 G17 G21 G40 G49 G54 G64 G80 G90 G94 G98")] // G80 beside G0: common practice, no source
    [InlineData("M7 M8 M3 M48 S100")] // 3.6.4: mist and flood together
    public void Codes_of_different_groups_stand_together(string block) => Assert.Empty(Run(block).Faults);

    [Fact]
    public void Order_within_a_block() // table 8, p. 41, derived
    {
        Assert.Equal("T(2,0,0)", Moves("G10 L2 P2 X1\nG90 G55 G0 X1 Y0 Z0"));
        Assert.Equal("T(0,0,1)", Moves("G0\nM30 X0 Y0 Z1\nX9"));
        Assert.Equal(2, Run("T2 M6\nM30").Last.Tool);
        Assert.Equal(CutterCompensation.Left, Run("G41 G1 Y4 F1").Last.Compensation);
    }

    [Fact]
    public void Inverse_time_needs_a_feed_in_every_block() // 3.5.19, p. 37
    {
        Assert.True(Run("G93 G1 X1 F2").Events.Count > 0);
        var given = new List<bool>();
        var sink = new FeedSink(given);
        Interpreter.Run("G93 G1 X1 F2\nX2\nX3 F1"u8.ToArray(), MotionLog.Settings(), new(), ref sink);
        Assert.Equal([true, false, true], given);
    }
}
