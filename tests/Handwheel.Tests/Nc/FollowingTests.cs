using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>How programs are followed where no published source decides: common practice at machining centres, no source.</summary>
public class FollowingTests
{
    static readonly ControlSettings Mill = MotionLog.Settings() with
    {
        LengthOffsets = new Dictionary<int, long> { [1] = 5 * Inch, [2] = 4 * Inch },
        ToolChangeZ = 2 * Inch,
    };

    const long Inch = 25_400_000;

    static MotionLog Run(string program) => MotionLog.Of(program, Mill);

    static ControlSettings With(Reads reads) => Mill with { Reads = reads };

    [Fact]
    public void A_control_starts_with_nothing_known_and_the_usual_modes()
    {
        var start = MotionLog.Of("M9", Mill).Last;
        Assert.Equal((Plane.XY, Motion.None, FeedMode.PerMinute), (start.Plane, start.Motion, start.FeedMode));
        Assert.Equal((LengthMode.Off, CutterCompensation.Off), (start.LengthMode, start.Compensation));
        Assert.Equal((WorkOffsetName.G54, false, false), (start.WorkOffset, start.WorkOffsetStated, start.UnitsStated));
        Assert.Equal((Place.Nowhere, Place.Nowhere, Place.Nowhere), (start.At.RestX, start.At.RestY, start.At.RestZ));
        Assert.Equal((false, false, 0, 0), (start.ReturnToR, start.Incremental, start.Tool, start.ToolChanges));
    }

    [Theory]
    [InlineData("M6 T2")]
    [InlineData("T2 M6")]
    [InlineData("T2\nM6")]
    public void A_tool_change_loads_the_tool_named_and_leaves_X_and_Y(string change)
    {
        var log = Run("T1 M6\nM3 S100\nG0 X1 Y2 G43 H1 Z0\n" + change);
        Assert.Contains("tool 1 to 2 at (1,2,5)", log.Events);
        Assert.Equal((2, 2, SpindleDirection.Stopped), (log.Last.Tool, log.Last.ToolChanges, log.Last.Spindle));
        Assert.Equal((Inch, 2 * Inch, 2 * Inch), (log.Last.At.X, log.Last.At.Y, log.Last.At.Z));
        Assert.False(log.Last.LengthCommanded);
        Assert.Equal(5 * Inch, log.Last.LengthZ);
    }

    [Fact]
    public void A_tool_change_beside_a_reference_return_comes_after_it()
    {
        var log = Run("G0 Z-3\nG28 Z0 T2 M6");
        var events = log.Events.Where(e => e[0] is 'T' or 't');
        Assert.Equal(["T(?,?,-3)", "T(?,?,0)", "T(?,?,0)", "tool 0 to 2 at (?,?,0)"], events);
    }

    [Fact]
    public void A_tool_change_may_cancel_the_length_offset()
    {
        var log = MotionLog.Of("G43 H1\nT2 M6", With(new() { LengthOffsetCancelledByToolChange = true }));
        Assert.Equal((LengthMode.Off, 0L), (log.Last.LengthMode, log.Last.LengthZ));
    }

    [Fact]
    public void The_length_offset_moves_with_Z_or_at_once()
    {
        const string program = "T1 M6\nG0 X0 Y0\nG43 H1\nZ1";
        Assert.Equal([2 * Inch, 6 * Inch], Run(program).Legs.Select(l => l.To.Z));
        var atOnce = MotionLog.Of(program, With(new() { LengthOffsetMovesAtOnce = true }));
        Assert.Equal([2 * Inch, 7 * Inch, 6 * Inch], atOnce.Legs.Select(l => l.To.Z));
    }

    [Fact]
    public void Length_offsets_add_under_G43_and_subtract_under_G44()
    {
        Assert.Equal(-5 * Inch, Run("G44 H1").Last.LengthZ);
        Assert.Equal(4 * Inch, Run("G43 H1\nH2").Last.LengthZ);
        Assert.Empty(Run("G43 H1 G0 Z0\nH2").Legs.Skip(1));
        Assert.Equal(0, Run("H2").Last.LengthZ);
        Assert.Equal((0L, LengthMode.Off), (Run("G43 H1\nG49").Last.LengthZ, Run("G43 H1\nG49").Last.LengthMode));
    }

    [Fact]
    public void A_register_that_is_not_given_makes_a_place_of_its_own()
    {
        var log = Run("G0 X0 Y0 Z0\nG43 H9 Z1\nZ2\nG54.1 P7 X1\nG54 X2\nG49 Z0");
        var rests = log.Legs.Select(l => (l.To.RestX, l.To.RestY, l.To.RestZ)).ToArray();
        Assert.Equal((0, 0, 0), rests[0]);
        Assert.True(rests[1].RestZ > 0);
        Assert.Equal(rests[1], rests[2]);
        Assert.NotEqual(rests[1].RestZ, rests[3].RestX);
        Assert.Equal((0, 0, 0), rests[5]);
    }

    [Fact]
    public void A_shift_set_from_an_unknown_place_leads_back_to_it()
    {
        var log = Run("G54.1 P7 G0 X1\nG54 G92 X0\nX0\nG54.1 P7 X0\nG54 X0\nG92.1\nG54.1 P7 X1");
        var x = log.Legs.Select(l => (l.To.X, l.To.RestX)).ToArray();
        Assert.True(x[0].RestX > 0);
        Assert.NotEqual(x[0].RestX, x[2].RestX);
        Assert.Equal([x[0], x[0], x[0]], [x[1], x[3], x[4]]);
    }

    [Fact]
    public void A_return_that_includes_Z_may_cancel_the_length_offset()
    {
        var reads = new Reads { ReferenceReturnCancelsLength = true };
        Assert.Equal(0, MotionLog.Of("G43 H1 G0 Z0\nG91 G28 Z0", With(reads)).Last.LengthZ);
        Assert.Equal(5 * Inch, MotionLog.Of("G43 H1 G0 Z0\nG91 G28 X0", With(reads)).Last.LengthZ);
        Assert.Equal(5 * Inch, Run("G43 H1 G0 Z0\nG91 G28 Z0").Last.LengthZ);
    }

    [Fact]
    public void A_return_from_a_place_not_known_ends_at_the_reference()
    {
        var log = Run("G91 G28 Z0\nG28 X0 Y0");
        Assert.Equal(["T(?,?,0)", "T(0,0,0)"], log.Moves);
        Assert.All(log.Legs, l => Assert.Equal(LegKind.ReturnEnd, l.Kind));
    }

    [Fact]
    public void Only_a_Z_commanded_in_work_coordinates_is_lifted_by_a_raise()
    {
        var log = Run("G91 G0 Z1\nG90 Z2\nG91 Z1\nG53 Z0\nX1\nZ-1\nG90 Z0\nG28 Z1\nT1 M6\nG0 X0");
        Assert.Equal(
            [false, true, true, false, false, false, true, true, false, false],
            log.Legs.Select(l => l.Lifted)
        );
        Assert.Equal(log.Legs.Skip(1).Take(8).Select(l => l.FromLifted), log.Legs.Take(8).Select(l => l.Lifted));
    }

    [Fact]
    public void G83_goes_back_to_R_and_G73_only_a_little()
    {
        var reads = new Reads { PeckClearance = Inch / 20, PeckRetract = Inch / 50 };
        var full = MotionLog.Of("G0 X0 Y0 Z1\nG99 G83 Z-.5 R.1 Q.3 F9", With(reads));
        Assert.Equal("T(0,0,1) T(0,0,0.1) F(0,0,-0.2) T(0,0,0.1) T(0,0,-0.15) F(0,0,-0.5) T(0,0,0.1)", full.MovesText);
        var chip = MotionLog.Of("G0 X0 Y0 Z1\nG99 G73 Z-.5 R.1 Q.3 F9", With(reads));
        Assert.Equal("T(0,0,1) T(0,0,0.1) F(0,0,-0.2) T(0,0,-0.18) F(0,0,-0.5) T(0,0,0.1)", chip.MovesText);
    }

    [Theory]
    [InlineData("G81", "F(0,0,-1) T(0,0,1)")]
    [InlineData("G82", "F(0,0,-1) T(0,0,1)")]
    [InlineData("G84", "F(0,0,-1) F(0,0,0.1) T(0,0,1)")]
    [InlineData("G74", "F(0,0,-1) F(0,0,0.1) T(0,0,1)")]
    [InlineData("G85", "F(0,0,-1) F(0,0,0.1) T(0,0,1)")]
    [InlineData("G86", "F(0,0,-1) T(0,0,1)")]
    [InlineData("G88", "F(0,0,-1) T(0,0,1)")]
    [InlineData("G89", "F(0,0,-1) F(0,0,0.1) T(0,0,1)")]
    [InlineData("G76", "F(0,0,-1) T(0,0,1)")]
    [InlineData("G76 I.1", "F(0,0,-1) T(0.1,0,-1) T(0.1,0,1) T(0,0,1)")]
    public void Ways_out_of_a_hole(string cycle, string expected)
    {
        var log = Run($"G0 X0 Y0 Z1\n{cycle} Z-1 R.1 P500 F9");
        Assert.Equal("T(0,0,1) T(0,0,0.1) " + expected, log.MovesText);
        Assert.Equal(cycle is "G84" or "G74" ? 2 : 0, log.Legs.Count(l => l.Tapping));
        Assert.Equal(cycle is "G81" or "G85" ? [] : [0.5], log.Dwells);
    }

    [Fact]
    public void The_last_hole_returns_to_the_level_before_the_cycle()
    {
        var log = Run("G0 X0 Y0 Z2\nG99 G81 X1 Z-1 R.1 F9\nX2\nG98 X3\nG80\nX4");
        Assert.EndsWith("F(3,0,-1) T(3,0,2) T(4,0,2)", log.MovesText, StringComparison.Ordinal);
    }

    [Fact]
    public void Holes_under_G91_keep_the_plane_and_the_bottom()
    {
        var log = Run("G0 X0 Y0 Z1\nG91 G99 G81 X1 Z-.5 R-.9 F9 K2\nY1\nG98 Y1\nX1");
        Assert.Equal([-10_160_000L, -10_160_000L, -10_160_000L, -10_160_000L, -10_160_000L], Bottoms(log));
        Assert.EndsWith("T(2,2,1) T(3,2,1) T(3,2,0.1) F(3,2,-0.4) T(3,2,1)", log.MovesText, StringComparison.Ordinal);
        Assert.Empty(log.Faults);
    }

    static IEnumerable<long> Bottoms(MotionLog log) =>
        log.Legs.Where(l => l.Part == CyclePart.Down).Select(l => l.To.Z);

    [Fact]
    public void A_cycle_drills_only_where_a_block_names_a_place()
    {
        var log = Run("G0 X0 Y0 Z1\nG81 Z-1 R.1 F9 L0\nF12\nM8\nX1\nG99\nX2");
        Assert.Equal([1 * Inch, 2 * Inch], log.Legs.Where(l => l.Part == CyclePart.Down).Select(l => l.To.X));
        Assert.Empty(log.Faults);
    }

    [Fact]
    public void After_G80_the_last_basic_motion_is_in_force()
    {
        Assert.Equal(Motion.Feed, Run("G1 X1 F9\nG81 X1 Z-1 R.1\nG80").Last.Motion);
        Assert.Equal(Motion.Rapid, Run("G1 X1 F9\nG0 G80").Last.Motion);
        Assert.Empty(Run("G0 G80\nG80 G0").Faults);
    }

    [Fact]
    public void Axis_words_without_a_motion_mode_are_a_fault_and_no_move()
    {
        var log = Run("G90 X1 Y1\nG0 X1");
        Assert.Equal(FaultKind.CannotFollow, Assert.Single(log.Faults).Kind);
        Assert.Single(log.Legs);
    }

    [Fact]
    public void Whole_numbers_count_units_or_increments_of_the_programs_own_unit()
    {
        var increments = With(new() { WholeNumbersAreIncrements = true });
        Assert.Equal(12_500 * 2_540L, MotionLog.Of("G0 X12500", increments).Legs[0].To.X);
        Assert.Equal(12_500 * 1_000L, MotionLog.Of("G21 G0 X12500", increments).Legs[0].To.X);
        Assert.Equal(12_500 * Inch, Run("G0 X12500").Legs[0].To.X);
        Assert.Equal(2 * Inch, MotionLog.Of("G0 X2.", increments).Legs[0].To.X);
        Assert.Equal(100.0 * Inch, MotionLog.Of("G0 X2. F100", increments).Last.Feed);
        Assert.Contains("modal WholeNumber", Run("G0 X2").Events);
        Assert.DoesNotContain("modal WholeNumber", Run("G0 X0 Y2.").Events);
    }

    [Fact]
    public void Units_hold_for_the_block_that_names_them()
    {
        var log = Run("X25.4 G21 G0 F254.\nG20 X2.");
        Assert.Equal([Inch, 2 * Inch], log.Legs.Select(l => l.To.X));
        Assert.Equal(10.0 * Inch, log.Last.Feed);
    }

    [Fact]
    public void Dwells_are_seconds_or_thousandths()
    {
        Assert.Equal([0.5, 2], Run("G4 P500\nG4 X2.").Dwells);
        Assert.Equal([3], MotionLog.Of("G4 P3", With(new() { DwellPIsSeconds = true })).Dwells);
    }

    [Fact]
    public void An_arc_that_misses_its_circle_ends_as_programmed_with_the_length_of_its_start_radius()
    {
        var log = Run("G0 X0 Y0 Z0\nG2 X2 Y0 I.9 J0 F9");
        Assert.Equal(FaultKind.ArcRadiiDiffer, Assert.Single(log.Faults).Kind);
        Assert.Equal(2 * Inch, log.Last.At.X);
        Assert.Equal(Math.PI * 0.9 * Inch, log.Arcs[0].Length, 1e-3);
    }

    [Fact]
    public void Arcs_in_the_other_planes_turn_as_seen_from_their_third_axis()
    {
        var zx = Run("G0 X0 Y0 Z0\nG18 G2 X1 Z1 R1 F9").Arcs[0];
        Assert.Equal((1, 0), (Math.Round(zx.CentreU / Inch, 6), Math.Round(zx.CentreV / Inch, 6)));
        var yz = Run("G0 X0 Y0 Z0\nG19 G3 Y1 Z1 K1 F9").Arcs[0];
        Assert.Equal((0, 1, Math.PI / 2), (yz.CentreU / Inch, yz.CentreV / Inch, yz.Sweep));
    }

    [Fact]
    public void An_arc_reaches_as_far_as_its_circle_turns()
    {
        var arc = Run("G0 X1 Y0 Z0\nG3 X0 Y-1 I-1 J0 F9").Arcs[0];
        Assert.Equal((-Inch, Inch, -Inch, Inch), (arc.MinU, arc.MaxU, arc.MinV, arc.MaxV));
        var quarter = Run("G0 X1 Y0 Z0\nG3 X0 Y1 I-1 J0 F9").Arcs[0];
        Assert.Equal((0, Inch, 0, Inch), (quarter.MinU, quarter.MaxU, quarter.MinV, quarter.MaxV));
    }

    [Fact]
    public void Arc_centres_may_be_absolute()
    {
        var arc = MotionLog
            .Of("G10 L2 P1 X1\nG0 X1 Y0\nG2 X-1 I0 J0 F9", With(new() { ArcCentresAbsolute = true }))
            .Arcs[0];
        Assert.Equal((1, 0, 1), (arc.CentreU / Inch, arc.CentreV / Inch, arc.Radius / Inch));
    }

    [Fact]
    public void G10_writes_add_up_under_G91_and_take_effect_at_once()
    {
        var log = Run(
            "G90 G10 L2 P1 Z-1\nG91 G10 L2 P1 Z.5\nG90 G0 X0 Y0 Z0\nG10 L2 P0 Z2\nZ0\nG10 L20 P5 X1\nG54.1 P5 X0"
        );
        Assert.Equal([-Inch / 2, 3 * Inch / 2], log.Legs.Take(2).Select(l => l.To.Z));
        Assert.Equal([false, true, false, false], log.Writes.Select(w => w.Incremental));
        Assert.Equal(["G54", "G54", "common", "G54.1P5"], log.Writes.Select(w => w.WorkOffset.ToString()));
        Assert.Equal((Inch, 0), (log.Last.At.X, log.Last.At.RestX));
    }

    [Theory]
    [InlineData("G10 L2 P99 X1", "L2 P99 with G10")]
    [InlineData("G10 L20 P0 X1", "L20 P0 with G10")]
    [InlineData("G10 L2 X1", "G10 without its P")]
    [InlineData("G54.1 P300", "P300 with G54.1")]
    [InlineData("G54.1", "G54.1 without its P")]
    public void A_register_that_the_control_does_not_have_is_named(string block, string cause) =>
        Assert.Equal(cause, Assert.Single(Run(block).Faults).Cause);

    [Fact]
    public void G10_writes_length_registers_that_count_from_the_next_H()
    {
        var log = Run("G43 H1\nG10 L10 P1 R3.\nG0 Z0\nG43 H1 Z0\nG10 L11 P1 R.01\nG43 H1 Z0");
        Assert.Equal([5 * Inch, 3 * Inch, 3 * Inch + Inch / 100], log.Legs.Select(l => l.To.Z));
        Assert.All(log.Writes, w => Assert.Equal((RegisterKind.Length, 1), (w.Kind, w.Number)));
    }

    [Fact]
    public void Subprograms_are_found_in_the_file_and_beside_it()
    {
        const string main = "O1\nG91 G0 X1\nM98 P20 L2\nM98 P30\nM98 P30020\nM30\nO20\nX2\nM99\n";
        var log = MotionLog.Of(
            main,
            Mill,
            new() { Subprogram = called => called.Number == 30 ? "%\nO30\nX5 M99\n%"u8.ToArray() : null }
        );
        Assert.Equal([1, 2, 2, 5, 2, 2, 2], log.Legs.Select(l => (l.To.X - l.From.X) / Inch));
        Assert.Equal((RunEnd.ProgramEnd, 0), (log.End, log.Last.File));
        Assert.Empty(log.Faults);
    }

    [Fact]
    public void A_call_to_nowhere_cannot_be_followed_and_the_rest_is()
    {
        var log = Run("G91 G0 X1\nM98 P77\nX1\nM30");
        Assert.Equal((FaultKind.CannotFollow, "subprogram 77 is not there"), (log.Faults[0].Kind, log.Faults[0].Cause));
        Assert.Equal(2, log.Legs.Count);
    }

    [Fact]
    public void M99_in_the_main_program_repeats_it()
    {
        Assert.Equal((RunEnd.Repeats, 2L), (Run("G0 X1\nM99").End, Run("G0 X1\nM99").Last.BlocksExecuted));
    }

    [Fact]
    public void Calls_end_ten_deep_and_the_last_one_counts()
    {
        var log = Run("O1\nM98 P1");
        Assert.Equal(FaultKind.NeverEnds, Assert.Single(log.Faults).Kind);
        Assert.Equal((RunEnd.Limit, 11L), (log.End, log.Last.BlocksExecuted));
    }

    [Fact]
    public void Blocks_end_at_the_limit()
    {
        var log = MotionLog.Of("O1\nG91 G0 X1\nX1\nX1\nX1\nX1", Mill, new() { BlocksMost = 3 });
        Assert.Equal((RunEnd.Limit, 3L), (log.End, log.Last.BlocksExecuted));
    }

    [Fact]
    public void Blocks_count_when_they_have_a_word_other_than_N_or_O()
    {
        var log = Run("%\nO5\nN10\n(note)\n\nN20 G0\n/X1\n/2 X2\nM30\n%");
        Assert.Equal((4L, RunEnd.ProgramEnd), (log.Last.BlocksExecuted, log.End));
        var deleting = MotionLog.Of("G0\n/X1\n/2 X2\nX3 / X4\nM30", Mill, new() { BlockDelete = true });
        Assert.Equal((3 * Inch, 3L), (Assert.Single(deleting.Legs).To.X, deleting.Last.BlocksExecuted));
    }

    [Fact]
    public void Harmless_codes_are_harmless_and_others_are_not_followed()
    {
        var mill = Mill with
        {
            Harmless = new HashSet<string> { "G5.1", "M41" },
        };
        Assert.Empty(MotionLog.Of("G5.1 Q1\nM41\nG0 X1", mill).Faults);
        var log = MotionLog.Of("G12.1 X1\nG5.1\nM42\nG0 X1 P5", mill);
        Assert.Equal(
            ["G12.1", "M42", "P"],
            log.Faults.Where(f => f.Kind == FaultKind.CannotFollow).Select(f => f.Cause).Where(c => c[0] != 'a')
        );
        Assert.Single(log.Legs);
    }

    [Fact]
    public void Rotary_words_are_said()
    {
        Assert.Contains("modal Rotary", Run("G0 A90.").Events);
        Assert.Single(Run("G0 X1. B5.").Legs);
    }

    [Fact]
    public void The_end_of_the_text_is_no_end_of_the_program()
    {
        Assert.Equal(RunEnd.TextEnds, Run("G0 X1").End);
        Assert.Equal(RunEnd.TextEnds, Run("%\nG0 X1\n%\nX2\nM30").End);
        Assert.Single(Run("%\nG0 X1\n%\nX2\nM30").Legs);
        Assert.Equal(RunEnd.TextEnds, Run("O1\nG0 X1\nO2\nX2\nM30").End);
    }
}
