using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>
/// The tool's way beside a path in small, with a radius of 1 in D1 and 3 in D2: figures by hand from plane geometry, rules by common practice
/// (no source) where the NIST report has none.
/// </summary>
public class CompensationTests
{
    const string Up = "G1 X10 Y0\nY10\n";

    static ControlSettings Settings(Reads? reads = null) =>
        MotionLog.Settings(Units.Millimetre) with
        {
            DiameterOffsets = new Dictionary<int, long>
            {
                [1] = 2_000_000,
                [2] = 6_000_000,
                [3] = 0,
            },
            Reads = reads ?? new(),
        };

    static MotionLog Run(string program, Reads? reads = null) =>
        MotionLog.Of("G21 G90 G17 G0 X0 Y0 Z0 F9\n" + program, Settings(reads));

    static string Moves(string program, Reads? reads = null) =>
        string.Join(' ', Run(program, reads).Moves.Skip(1)).Replace(",0)", ")", StringComparison.Ordinal);

    [Theory]
    [InlineData(CompensationEntry.Square, "G41", "F(9,0) F(9,10) F(0,10)")]
    [InlineData(CompensationEntry.Square, "G42", "F(11,0) F(11,10) F(0,10)")]
    [InlineData(CompensationEntry.Around, "G41", "F(9,0) F(9,10) F(0,10)")]
    [InlineData(CompensationEntry.Around, "G42", "F(10,-1) A(11,0) F(11,10) A(10,11) F(0,10)")]
    [InlineData(CompensationEntry.Tangent, "G41", "F(9,0.9045) F(9,10) F(0,10)")]
    [InlineData(CompensationEntry.Tangent, "G42", "F(9.9,-0.995) A(11,0) F(11,10) F(0,10)")]
    public void Entry_and_exit(CompensationEntry entry, string code, string expected) =>
        Assert.Equal(expected, Moves($"{code} D1 {Up}G40 X0", new() { CompensationEntry = entry }));

    [Theory]
    [InlineData("X20", "A(10,11) F(20,11)", "F(9,11) F(20,11)")] // a right angle
    [InlineData("X20 Y20", "A(9.2929,10.7071) F(19.2929,20.7071)", "F(9,10.4142) F(19.2929,20.7071)")] // a blunt corner
    [InlineData("X20 Y0", "A(10.7071,10.7071) F(20.7071,0.7071)", "F(9,11) F(10,11.4142) F(20.7071,0.7071)")] // a sharp one
    [InlineData("X10 Y0", "A(11,10) F(11,0)", "F(9,11) F(11,11) F(11,0)")] // straight back
    public void Outside_corners(string next, string arcs, string lines)
    {
        var program = $"G41 D1 {Up}{next}";
        var end = arcs.Contains("A(", StringComparison.Ordinal) ? "F(9,0) F(9,10) " : "";
        Assert.Equal(end + arcs, Moves(program));
        Assert.Equal("F(9,0) " + lines, Moves(program, new() { CompensationCorners = CompensationCorners.Lines }));
    }

    [Fact]
    public void A_rapid_goes_round_a_corner_on_lines() =>
        Assert.Equal("T(9,0) T(9,11) T(20,11)", Moves("G41 D1 G0 X10\nY10\nX20"));

    [Fact]
    public void Two_lines_meet_inside() => Assert.Equal("F(9,0) F(9,9) F(0,9)", Moves($"G41 D1 {Up}X0"));

    [Fact]
    public void A_smooth_joint_stays_smooth() =>
        Assert.Equal("F(9,0) F(9,10) A(-9,10) F(-9,0)", Moves($"G41 D1 {Up}G3 X-10 I-10\nG1 Y0"));

    [Fact]
    public void A_line_and_an_arc_meet_inside()
    {
        // up to (10,10), then left around (5,5): from 45° on the circle of radius 7.0711, beside it 6.0711; x = 9 meets it at y = 5 + √(6.0711² − 4²)
        var log = Run($"G41 D1 {Up}G3 X0 Y10 I-5 J-5");
        Assert.Empty(log.Faults);
        Assert.Equal("F(9,9.567,0) A(0.7071,9.2929,0)", string.Join(' ', log.Moves.Skip(2)));
        Assert.Equal(6.0711, log.Arcs[0].Radius / 1e6, 4);
    }

    [Fact]
    public void Two_arcs_meet_inside()
    {
        // sixths of circles of radius 10 about (5,−8.6603) and (15,−8.6603); beside them 11: they cross at y = √(11² − 5²) − 8.6603
        var program = "G1 X-20\nG41 D1 X0 Y0\nG2 X10 R10\nX20 R10\nG40 G1 X40";
        Assert.Equal("F(-20,0) F(-0.5,0.866) A(10,1.1377) A(20.5,0.866) F(40,0)", Moves(program));
        Assert.Empty(Run(program).Faults);
    }

    [Theory] // half circles of radius 5 about (5,0) and (15,0): from outside their ways of radius 6 cross at y = √(6² − 5²); from inside it is a tip to go round
    [InlineData("G41", "G2", "A(10,3.3166) A(21,0)")]
    [InlineData("G41", "G3", "A(9,0) A(11,0) A(19,0)")]
    [InlineData("G42", "G3", "A(10,-3.3166) A(21,0)")]
    public void A_cusp_is_an_inside_corner_or_a_tip(string side, string code, string expected)
    {
        var program = $"G1 X-20\n{side} D1 X0 Y0\n{code} X10 I5\nX20 I5";
        Assert.EndsWith(expected, Moves(program), StringComparison.Ordinal);
        Assert.Empty(Run(program).Faults);
    }

    [Fact]
    public void A_bore_with_arcs_in_and_out()
    {
        var log = Run("G41 D1 G1 X5 Y-5\nG3 X10 Y0 J5\nG3 I-10\nG3 X5 Y5 I-5\nG40 G1 X0 Y0");
        Assert.Equal("F(5,-4,0) A(9,0,0) A(9,0,0) A(5,4,0) F(0,0,0)", string.Join(' ', log.Moves.Skip(1)));
        Assert.Empty(log.Faults);
        Assert.Equal(Math.Tau, log.Arcs[1].Sweep);
        Assert.Equal((9e6, 9_000_000), (log.Arcs[1].Radius, log.Arcs[1].MaxU));
        Assert.Equal([5, 10, 10, 5, 0], log.Programmed.Select(p => p.Leg.To.X / 1_000_000));
        Assert.All(log.Legs.Skip(1), l => Assert.True(l.Beside));
    }

    [Theory]
    [InlineData(1, true)] // what is programmed is the centre's own radius: it stands
    [InlineData(0.9, false)]
    public void An_arc_may_be_as_small_as_the_tool(double radius, bool fits)
    {
        var r = FormattableString.Invariant($"{radius}");
        var log = Run($"G41 D1 G1 X20 Y0\nX30\nG91 G3 X{r} Y{r} J{r}\nG1 Y9");
        Assert.Equal(fits ? [] : [CompensationCause.ArcSmall], log.Faults.Select(f => f.Cause));
        var strict = Run(
            $"G41 D1 G1 X20 Y0\nX30\nG91 G3 X{r} Y{r} J{r}\nG1 Y9",
            new() { CompensationInsideCorners = false }
        );
        Assert.Equal((radius * 1e6, 1e6), (strict.Faults[0].First, strict.Faults[0].Second));
    }

    [Fact]
    public void An_inside_step_shorter_than_it_takes_is_said_with_both_figures()
    {
        // into a right angle and out of it again after 1.5: each corner takes 1 of it
        var log = Run("G41 D1 G1 X10\nY10\nX8.5\nY0\nG40 X0");
        var fault = Assert.Single(log.Faults);
        Assert.Equal((FaultKind.CompensationEntry, CompensationCause.Corner), (fault.Kind, fault.Cause));
        Assert.Equal((1e6, 0.5e6), (fault.First, fault.Second));
    }

    [Fact]
    public void Z_moves_between_wait_for_the_corner()
    {
        Assert.Equal("F(9,0) F(9,9) F(9,9,-5) F(0,9,-5)", Moves($"G41 D1 {Up}Z-5\nX0"));
        Assert.Equal("F(9,0) F(9,10) F(9,10,-5) A(10,11,-5) F(20,11,-5)", Moves($"G41 D1 {Up}Z-5\nX20"));
        Assert.Equal("F(0,0,-5) F(9,0,-5) F(9,10,-5)", Moves($"G41 D1\nG1 Z-5\n{Up}"));
        Assert.Equal("F(9,0) F(9,10,-5) F(0,10,-5)", Moves("G41 D1 G1 X10\nY10 Z-5\nG40 X0"));
        Assert.Equal("F(9,0) A(0,9,-5) F(0,20,-5)", Moves("G41 D1 G1 X10\nG3 X0 Y10 I-10 Z-5\nG40 G1 Y20"));
    }

    [Fact]
    public void What_waits_is_told_in_order_and_with_its_own_block()
    {
        var log = Run("G41 D1 G1 X10.\nY10.\nM8\nG4 P1000\nS500\nX0\nG40 Y0");
        Assert.Equal(
            ["F(9,0,0)", "F(9,9,0)", "modal Coolant", "dwell", "modal Spindle", "F(0,9,0)"],
            log.Events.SkipWhile(e => e != "F(9,0,0)").Where(e => e[0] != 'f').Take(6)
        );
        Assert.Equal([1, 2, 3, 7, 8], log.Ways.Select(w => w.Line));
        // two or more blocks without X and Y before an inside corner: how far a control looks is its own
        Assert.Equal((CompensationCause.LooksOver, 3), (log.Faults[0].Cause, log.Faults[0].First));
        Assert.Empty(Run("G41 D1 G1 X10\nY10\nM8\nX0\nG40 Y0").Faults);
    }

    [Fact]
    public void Not_more_than_a_thousand_blocks_wait()
    {
        var between = string.Concat(Enumerable.Repeat("M8\nM9\n", 600));
        var log = Run($"G41 D1 {Up}{between}X20\nG40 Y20");
        Assert.Equal(CompensationCause.NoMove, Assert.Single(log.Faults).Cause);
        Assert.Equal("F(9,0,0) F(9,10,0) A(10,11,0) F(20,11,0) F(20,20,0)", string.Join(' ', log.Moves.Skip(1)));
    }

    [Theory]
    [InlineData("G40\nX0", "F(0,10)", "F(0,10)")]
    [InlineData("G40 Y20", "F(10,20)", "F(9,20)")] // an axis that is not named
    [InlineData("G40\nY20", "F(10,20)", "F(9,20)")]
    [InlineData("G40\nG91 Y5", "F(10,15)", "F(9,15)")]
    [InlineData("G40\nZ5\nX0 Y0", "F(9,10,5) F(0,0,5)", "F(9,10,5) F(0,0,5)")]
    [InlineData("G40\nG81 X0 Y0 Z-1 R0", "T(0,0) F(0,0,-1) T(0,0)", "T(0,0) F(0,0,-1) T(0,0)")]
    public void After_G40(string end, string toProgrammed, string fromCentre)
    {
        Assert.Equal("F(9,0) F(9,10) " + toProgrammed, Moves($"G41 D1 {Up}{end}"));
        var report = new Reads { CompensationExit = CompensationExit.FromCentre };
        Assert.Equal("F(9,0) F(9,10) " + fromCentre, Moves($"G41 D1 {Up}{end}", report));
        Assert.Empty(Run($"G41 D1 {Up}{end}").Faults);
    }

    [Theory]
    [InlineData("D2 Y20\nG40 X0", "F(9,10) F(7,10) F(7,20) F(0,20)", CompensationCause.OtherRegister)]
    [InlineData("G42 Y20\nG40 X0", "F(9,10) F(11,10) F(11,20) F(0,20)", CompensationCause.OtherSide)]
    [InlineData("G53 X-5", "F(9,10) F(-5,10)", CompensationCause.OtherMotion)]
    [InlineData("G91 G28 X0", "F(9,10) T(0,10)", CompensationCause.OtherMotion)]
    [InlineData("G81 X0 Y0 Z-1 R0", "F(9,10) T(0,0) F(0,0,-1) T(0,0)", CompensationCause.OtherMotion)]
    [InlineData("G92 X0 Y0", "F(9,10)", CompensationCause.Shift)]
    [InlineData("G40 G3 X0 Y20 I-10", "F(9,10) F(0,20)", CompensationCause.ExitArc)]
    public void What_interrupts_is_said(string next, string expected, string cause)
    {
        Assert.Equal("F(9,0) " + expected, Moves($"G41 D1 {Up}{next}"));
        Assert.Equal(cause, Run($"G41 D1 {Up}{next}").Faults[0].Cause);
    }

    [Theory]
    [InlineData("G41 D1\n")]
    [InlineData("Y10\nD1\nG41\n")]
    [InlineData("G91 G28 Z0\nG90\n")]
    [InlineData("G53 Z-1\n")]
    public void What_does_not_interrupt_is_no_fault(string between) =>
        Assert.DoesNotContain(
            Run($"G41 D1 {Up}{between}X0\nG40 Y0").Faults,
            f => f.Cause != CompensationCause.LooksOver
        );

    [Fact]
    public void After_an_interruption_the_next_move_is_an_entry() =>
        Assert.EndsWith(
            "F(-5,10) F(0,21) F(10,21) F(10,0)",
            Moves($"G41 D1 {Up}G53 X-5\nX0 Y20\nX10\nG40 Y0"),
            StringComparison.Ordinal
        );

    [Fact]
    public void An_entry_on_an_arc_goes_as_programmed_and_is_said()
    {
        var log = Run("G41 D1 G3 X10 Y10 J10\nG1 Y20\nX0\nG40 Y30");
        Assert.Equal(CompensationCause.EntryArc, Assert.Single(log.Faults).Cause);
        Assert.Equal("A(10,10,0) F(10,19,0) F(0,19,0) F(0,30,0)", string.Join(' ', log.Moves.Skip(1)));
    }

    [Theory]
    [InlineData("G41 D1 G1 X0.5\nY10", CompensationEntry.Square, 1)]
    [InlineData("G41 D1 G1 X0.5\nY10", CompensationEntry.Tangent, 1)]
    [InlineData("G41 D1 G1 X1\nY10", CompensationEntry.Square, 0)]
    [InlineData("G41 D1 G1 X1\nY10", CompensationEntry.Tangent, 0)]
    public void An_entry_shorter_than_the_radius(string program, CompensationEntry entry, int faults)
    {
        var log = Run(program, new() { CompensationEntry = entry });
        Assert.Equal(faults, log.Faults.Count(f => f.Cause == CompensationCause.EntryShort));
        if (faults > 0)
            Assert.Equal((0.5e6, 1e6), (log.Faults[0].First, log.Faults[0].Second));
    }

    [Theory]
    [InlineData("D3")] // wear only: zero
    [InlineData("D9")] // nobody gave it
    [InlineData("D0")]
    public void With_nothing_to_go_beside_the_path_is_as_programmed(string d)
    {
        var log = Run($"G41 {d} {Up}G2 X20 R5\nG1 X30\nG40 X0");
        Assert.Equal("T(0,0,0) F(10,0,0) F(10,10,0) A(20,10,0) F(30,10,0) F(0,10,0)", log.MovesText);
        Assert.Empty(log.Programmed);
        Assert.All(log.Legs, l => Assert.False(l.Beside));
        Assert.Equal(d == "D3", log.Last.CutterRadiusKnown);
    }

    [Fact]
    public void A_register_that_the_program_writes_counts_when_D_is_read() =>
        Assert.Equal("F(9,0) F(9,10) F(5,10) F(5,20)", Moves($"G41 D1 {Up}G10 L12 P1 R10\nD1 Y20"));

    [Fact]
    public void A_register_may_hold_the_radius() =>
        Assert.Equal("F(8,0) F(8,10)", Moves($"G41 D1 {Up}", new() { DiameterRegisterIsRadius = true }));

    [Theory]
    [InlineData("G68 X0 Y0 R90", "F(0,9) F(-9,9) F(-9,0) F(0,0)")]
    [InlineData("G51.1 X0", "F(-9,0) F(-9,9) F(0,9) F(0,0)")] // on the other side in the machine, the same one of the part
    [InlineData("G51.1 X0 Y0", "F(-9,0) F(-9,-9) F(0,-9) F(0,0)")]
    [InlineData("G51 X0 Y0 P2.", "F(19,0) F(19,19) F(0,19) F(0,0)")] // the tool is not scaled
    public void Turned_coordinates(string turned, string expected) =>
        Assert.Equal(expected, Moves($"{turned}\nG41 D1 {Up}X0\nG40 Y0"));

    [Fact]
    public void Increments_count_from_the_programmed_place() =>
        Assert.Equal(Moves($"G41 D1 {Up}X20\nY0\nG40 X30"), Moves("G91 G41 D1 G1 X10\nY10\nX10\nY-10\nG40 X10"));

    [Fact]
    public void A_contour_may_be_a_subprogram()
    {
        var log = Run("G41 D1 G1 X10\nM98 P7\nG40 Y0\nM30\nO7\nY10\nX0\nM99");
        Assert.Equal("F(9,0,0) F(9,9,0) F(0,9,0) F(0,0,0)", string.Join(' ', log.Moves.Skip(1)));
        Assert.Equal([1, 2, 7, 8, 4], log.Ways.Select(w => w.Line));
    }

    [Fact]
    public void The_programmed_place_can_be_read_where_the_centre_is_cannot()
    {
        Assert.Empty(Run($"G41 D1 {Up}#1=#5001\nG40 X#1 Y20").Faults);
        Assert.Contains(Run($"G41 D1 {Up}#1=#5021\nX#1").Faults, f => f.Kind == FaultKind.CannotFollow);
        Assert.Contains(Run($"G41 D1 {Up}#1=#5041\nX#1").Faults, f => f.Kind == FaultKind.CannotFollow);
        Assert.Empty(Run($"G41 D1 {Up}G40 X0\n#1=#5041\nX#1").Faults);
    }

    [Fact]
    public void D_beside_a_macro_call_is_an_argument() =>
        Assert.Equal("F(9,0) F(9,10) A(10,11) F(20,11)", Moves($"G41 D1 {Up}G65 P7 D2\nM30\nO7\nX20\nM99"));

    [Fact]
    public void A_tool_change_and_the_end_leave_the_move_square_to_itself()
    {
        var log = Run($"G41 D1 {Up}T2 M6\nX20\nM30");
        Assert.Contains("tool 0 to 2 at (9,10,0)", log.Events);
        Assert.Equal("F(9,0,0) F(9,10,0) A(10,11,0) F(20,11,0)", string.Join(' ', log.Moves.Skip(1)));
        Assert.Equal((20_000_000, 11_000_000), (log.Last.At.X, log.Last.At.Y));
    }

    [Fact]
    public void From_a_place_that_is_not_known_it_cannot_be_followed()
    {
        var log = MotionLog.Of("G21 G90 G41 D1 G1 X10 Y0 F9\nY10\nX0", Settings());
        Assert.Equal(FaultKind.CannotFollow, Assert.Single(log.Faults).Kind);
        // as programmed, and the next move is the entry
        Assert.Equal("F(10,0,?) F(10,9,?) F(0,9,?)", log.MovesText);
    }

    [Fact]
    public void A_register_of_the_work_offset_need_not_be_given()
    {
        var log = MotionLog.Of($"G21 G90 G54.1 P9 G0 X0 Y0 Z0 F9\nG41 D1 {Up}X0\nG40 Y0", Settings());
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.CannotFollow);
        Assert.Equal([0, 9, 9, 0, 0], log.Legs.Select(l => l.To.X / 1_000_000));
    }

    [Fact]
    public void The_plane_must_be_the_one_of_X_and_Y()
    {
        var log = Run("G18 G41 D1 G1 X10\nZ10\nX0\nG17 X10\nY10\nG40 X0");
        Assert.Equal("G41 or G42 outside the XY plane", Assert.Single(log.Faults).Cause);
        Assert.Equal(
            "F(10,0,0) F(10,0,10) F(0,0,10) F(9,0,10) F(9,10,10) F(0,10,10)",
            string.Join(' ', log.Moves.Skip(1))
        );
    }
}
