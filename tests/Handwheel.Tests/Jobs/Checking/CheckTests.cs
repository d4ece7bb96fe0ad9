using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Whole programs whose every figure was worked out by hand from the definitions of the document.</summary>
public sealed class CheckTests
{
    const string Machine =
        """ "reference": { "x": 0, "y": 0, "z": 0 }, "rapid": { "x": 1000, "y": 1000, "z": 800 }, "toolChangeSeconds": 5, "airCutRates": [{ "cut": 150, "rapid": 150 }] """;
    const string Stock =
        """ "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 1, "y": 1, "z": 0 } }, "airCut": { "rapidOverride": 0.5 } """;
    const string OneTool = """[{ "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5 }]""";
    const string TwoTools =
        """[{ "tool": 1, "diameter": 0.5, "lengthOffset": 1, "length": 5 }, { "tool": 2, "diameter": 0.25, "lengthOffset": 2, "length": 6.5 }]""";

    static readonly Setup Simple = Setups.From("inch", OneTool, Machine, Stock);
    static readonly Setup Two = Setups.From("inch", TwoTools, Machine, Stock);

    const string HalfCircle = """
        %
        O1 (HALF A CIRCLE)
        G20 G90 G17 G40 G49 G80
        T1 M6
        G54 G0 X0.5 Y0. S3000 M3
        G43 H1 Z0.25
        G1 Z-0.25 F10.
        G3 X-0.5 Y0. I-0.5 J0. F20.
        G0 Z1.
        G91 G28 Z0
        M30
        %
        """;

    [Fact]
    public void Program_and_tool_figures()
    {
        var result = Setups.Run(HalfCircle, Simple);
        Assert.Equal(
            (12, 9L, "inch", true),
            (result.Program.Lines, result.Program.BlocksExecuted, result.Program.Units, result.Program.FollowedToEnd)
        );
        var tool = Assert.Single(result.Tools);
        Assert.Equal((1, 1), (tool.Tool, tool.Uses));
        Assert.Equal([1], tool.LengthOffsets);
        Assert.Equal(["G54"], tool.WorkOffsets);
        // the turning point of the arc is Y0.5; the G28 leg of no length is no move
        Assert.Equal([-0.5m, 0.5m], tool.Bounds.X!);
        Assert.Equal([0m, 0.5m], tool.Bounds.Y!);
        Assert.Equal([-0.25m, 1m], tool.Bounds.Z!);
        Assert.Equal((-0.25m, -12m), (tool.LowestTip, tool.HighestMachineZ));
        // 0.5 down and half a circle of 0.5; rapids 12.75 down, 1.25 up, 12 to the reference position
        Assert.Equal((2.070796m, 26m), (tool.CutDistance, tool.RapidDistance));
        Assert.Equal((-0.25m, "G54"), (result.WorkOffsets[0].Lowest, result.WorkOffsets[0].Name));
        Assert.Empty(result.Findings);
    }

    [Fact]
    public void Window_and_times()
    {
        var result = Setups.Run(HalfCircle, Simple);
        var air = result.AirCut;
        Assert.Equal(
            (true, 1.25m, 12m, 2m, null),
            (air.Possible, air.MinimumRaise, air.MaximumRaise, air.SuggestedRaise, air.Why)
        );
        Assert.Equal(new RaisedRegister("G54", "z", -18m, -16m), Assert.Single(air.Registers));
        // 5 s change, 26 in at 800 in/min, 0.5 in at 10 and 1.570796 in at 20 in/min
        Assert.Equal(5 + 1.95m + 3 + 4.712389m, result.RunTime.Programmed);
        Assert.Equal(result.RunTime.Programmed, result.Tools[0].Seconds);
        Assert.Equal(0.828319m + 20.8m, Assert.Single(result.RunTime.AirCut).Seconds);
    }

    [Fact]
    public void Stops_with_every_reading()
    {
        var stops = Setups.Run(HalfCircle, Simple).Stops;
        Assert.Equal(["position 5", "approach 6", "entry 7"], stops.Select(s => $"{s.Kind} {s.Line}"));
        var position = stops[0];
        Assert.Null(position.LengthOffset);
        Assert.Equal(new AxisValues(null, null, null), position.From);
        Assert.Equal(new AxisValues(0.5m, 0m, null), position.To);
        Assert.Equal(new AxisValues(-19.5m, -10m, 0m), position.MachineTo);
        Assert.Equal(position.MachineTo, position.MachineToRaised);
        Assert.Null(position.TipAbovePartZeroRaised);
        var approach = stops[1];
        Assert.Equal(("G43 H1 Z0.25", 1), (approach.Block, approach.LengthOffset));
        Assert.Equal(13m, approach.From.Z);
        Assert.Equal(new AxisValues(0m, 0m, -12.75m), approach.DistanceToGo);
        Assert.Equal(new AxisValues(0m, 0m, -10.75m), approach.DistanceToGoRaised);
        Assert.Equal((-12.75m, -10.75m), (approach.MachineTo.Z, approach.MachineToRaised.Z));
        Assert.Equal((0.25m, 2.25m), (approach.TipAbovePartZero, approach.TipAbovePartZeroRaised));
        Assert.Equal((2.25m, "stock", "2.0000 + 0.2500"), (approach.AirBelowRaised, approach.Below, approach.Gauge));
        var entry = stops[2];
        Assert.Equal((-0.5m, -0.5m), (entry.DistanceToGo.Z, entry.DistanceToGoRaised.Z));
        Assert.Equal((1.75m, "1.0000 + 0.7500"), (entry.AirBelowRaised, entry.Gauge));
    }

    /// <summary>Common practice, no source: with a raise of 3.0000 and an approach to Z0.25 over stock topped at part zero the tip stands 3.2500 above it.</summary>
    [Fact]
    public void A_three_inch_block_slips_under_with_a_quarter_to_spare()
    {
        var setup = Setups.From(
            "inch",
            OneTool,
            Machine,
            Stock.Replace("\"rapidOverride\": 0.5", "\"clearance\": 2", StringComparison.Ordinal)
        );
        var result = Setups.Run(
            "G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z0.25\nG1 Z-1. F5.\nG0 Z1.\nM30",
            setup
        );
        Assert.Equal(3m, result.AirCut.SuggestedRaise);
        Assert.Equal((3.25m, "3.0000 + 0.2500"), (result.Stops[1].AirBelowRaised, result.Stops[1].Gauge));
    }

    /// <summary>T2 comes down under H1, which is 1.5 shorter: the tip is that much too low, and the window goes by the tip.</summary>
    [Fact]
    public void A_forgotten_length_offset_is_judged_by_the_tip()
    {
        var result = Setups.Run(
            "G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z1.\nT2 M6\nG0 X0.5 Y0.\nZ0.75\nM30",
            Two
        );
        var tool = result.Tools[1];
        Assert.Equal((0.75m, -12.25m), (tool.LowestTip, tool.HighestMachineZ));
        Assert.Empty(tool.LengthOffsets);
        // tip −18 + 0.75 + 5 − 6.5 = −18.75: 1 above the top at −18 needs 1.75
        Assert.Equal((1.75m, 2m), (result.AirCut.MinimumRaise, result.AirCut.SuggestedRaise));
        var approach = result.Stops.Single(s => s is { Tool: 2, Kind: "approach" });
        Assert.Equal(
            (null, null, null, -12.25m),
            (approach.LengthOffset, approach.To.Z, approach.TipAbovePartZero, approach.MachineTo.Z)
        );
        var finding = result.Findings.Single(f => f.Id == "moves-without-length-offset");
        Assert.Equal((7, 2, Level.Stop), (finding.Line, finding.Tool, finding.Level));
        Assert.Contains("1.5000 in below", finding.Message, StringComparison.Ordinal);
    }

    /// <summary>Lengths as touch-off distances with Z0 in the work offset: the same formula, the same figures.</summary>
    [Fact]
    public void Touch_off_distances_as_lengths()
    {
        var offsets = """{ "G54": { "x": -20, "y": -10, "z": 0 } }""";
        var touched = OneTool.Replace("\"length\": 5", "\"length\": -13", StringComparison.Ordinal);
        var result = Setups.Run(HalfCircle, Setups.From("inch", touched, Machine, Stock, offsets));
        Assert.Equal(
            (1.25m, 12m, 2m),
            (result.AirCut.MinimumRaise, result.AirCut.MaximumRaise, result.AirCut.SuggestedRaise)
        );
        Assert.Equal((-12.75m, 13m), (result.Stops[1].DistanceToGo.Z, result.Stops[1].From.Z));
    }

    [Fact]
    public void An_unknown_length_makes_null_what_rests_on_it_and_nothing_else()
    {
        var result = Setups.Run(
            HalfCircle,
            Setups.From("inch", OneTool.Replace(", \"length\": 5", "", StringComparison.Ordinal), Machine, Stock)
        );
        Assert.Equal(
            (false, null, null, null),
            (
                result.AirCut.Possible,
                result.AirCut.MinimumRaise,
                result.AirCut.MaximumRaise,
                result.AirCut.SuggestedRaise
            )
        );
        Assert.Contains("line 6", result.AirCut.Why, StringComparison.Ordinal);
        var tool = result.Tools[0];
        Assert.Equal([-0.25m, 1m], tool.Bounds.Z!);
        Assert.Equal(
            (null, 2.070796m, null, null),
            (tool.HighestMachineZ, tool.CutDistance, tool.RapidDistance, tool.Seconds)
        );
        Assert.Null(result.RunTime.Programmed);
        Assert.Equal(
            (0.25m, null, null),
            (result.Stops[1].To.Z, result.Stops[1].From.Z, result.Stops[1].TipAbovePartZero)
        );
        Assert.Contains(result.Findings, f => f.Id == "length-offset-unknown");
    }

    [Fact]
    public void A_second_work_offset_asks_for_position_and_approach_again()
    {
        var offsets = """{ "G54": { "x": -20, "y": -10, "z": -18 }, "G55": { "x": -10, "y": -10, "z": -17.5 } }""";
        var result = Setups.Run(
            "G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z1.\nG1 Z-0.25 F5.\nG0 Z1.\nG55 X0. Y0.\nZ0.5\nG1 Z-0.25\nG0 Z1.\nM30",
            Setups.From("inch", OneTool, Machine, Stock, offsets)
        );
        Assert.Equal(
            ["position G54 3", "approach G54 4", "entry G54 5", "position G55 7", "approach G55 8"],
            result.Stops.Select(s => $"{s.Kind} {s.WorkOffset} {s.Line}")
        );
        // the lowest tip is G54's −18.25; the highest machine Z is G55's −17.5 + 5 + 1
        Assert.Equal((1.25m, 11.5m), (result.AirCut.MinimumRaise, result.AirCut.MaximumRaise));
        Assert.Equal(["G54 -16", "G55 -15.5"], result.AirCut.Registers.Select(r => $"{r.WorkOffset} {r.Raised}"));
        // Z1 of G54 read in G55 stands half an inch lower
        Assert.Equal((0.5m, 10m, 0m), (result.Stops[3].To.Z, -result.Stops[3].From.X, result.Stops[3].DistanceToGo.Z));
    }

    /// <summary>One block that is position, approach and entry: one stop, an approach, to the bottom of the first hole.</summary>
    [Fact]
    public void A_drilling_block_is_one_stop_to_the_bottom_of_its_first_hole()
    {
        var result = Setups.Run(
            "G20 G90\nT1 M6\nG54 S900 M3\nG43 H1\nG99 G81 X0.5 Y0. Z-0.3 R0.1 F5.\nX-0.5\nG80\nG0 Z1.\nM30",
            Simple
        );
        var stop = Assert.Single(result.Stops);
        Assert.Equal(("approach", 5), (stop.Kind, stop.Line));
        Assert.Equal(new AxisValues(0.5m, 0m, -0.3m), stop.To);
        Assert.Equal(13m, stop.From.Z);
        Assert.Equal([-0.3m, 1m], result.Tools[0].Bounds.Z!);
        Assert.Equal(0.8m, result.Tools[0].CutDistance);
    }

    [Theory]
    [InlineData("G10 L2 P1 Z-18.", "line 5")]
    [InlineData("G91 G28 Z0\nG91 G0 Z-1.\nG90", "line 6")]
    [InlineData("G53 G0 Z0.\nG92 Z13.", "line 6")]
    [InlineData("G0 A90.", "line 5")]
    [InlineData("M777", "line 5")]
    public void What_undoes_the_raise_leaves_the_limits_and_names_the_line(string lines, string why)
    {
        var result = Setups.Run(
            $"G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z1.\n{lines}\nG1 Z-0.25 F5.\nG0 Z1.\nM30",
            Simple
        );
        var air = result.AirCut;
        Assert.Equal((false, null), (air.Possible, air.SuggestedRaise));
        Assert.Contains(why, air.Why, StringComparison.Ordinal);
        Assert.NotNull(air.MinimumRaise);
        Assert.NotNull(air.MaximumRaise);
        Assert.Null(Assert.Single(air.Registers).Raised);
        Assert.All(result.Stops, s => Assert.Equal((null, null), (s.MachineToRaised.X, s.Below)));
    }

    [Fact]
    public void Nothing_described_gives_no_raise()
    {
        var air = Setups.Run(HalfCircle, Setups.Inch()).AirCut;
        Assert.Equal((false, null, 12m, null), (air.Possible, air.MinimumRaise, air.MaximumRaise, air.SuggestedRaise));
        Assert.Contains("no stock and no holding", air.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void An_inch_program_on_a_metric_setup_comes_out_in_millimetres()
    {
        var setup = Setups.From("mm", """[{ "tool": 1, "diameter": 12.7, "lengthOffset": 1, "length": 127 }]""");
        var result = Setups.Run(HalfCircle, setup);
        Assert.Equal("inch", result.Program.Units);
        Assert.Equal([-12.7m, 12.7m], result.Tools[0].Bounds.X!);
        Assert.Equal((52.598227m, -304.8m), (result.Tools[0].CutDistance, result.Tools[0].HighestMachineZ));
    }

    /// <summary>A rapid of 100 mm at 250 mm/s and 2500 mm/s² from rest to rest: 0.5 s (elementary kinematics).</summary>
    [Fact]
    public void Rapids_go_from_rest_to_rest()
    {
        var setup = Setups.From(
            "mm",
            """[{ "tool": 1, "lengthOffset": 1, "length": 127 }]""",
            """ "rapid": { "x": 15000, "y": 15000, "z": 15000 }, "acceleration": { "x": 2500, "y": 2500, "z": 2500 } """
        );
        var result = Setups.Run("G21 G90\nT1 M6\nG53 G0 Z-100.\nM30", setup);
        Assert.Equal((0.5m, 100m), (result.RunTime.Programmed, result.Tools[0].RapidDistance));
    }

    [Fact]
    public void The_main_program_may_end_in_M99()
    {
        var result = Setups.Run("G20 G90\nT1 M6\nG54 G0 X0. Y0.\nM99", Simple);
        Assert.True(result.Program.FollowedToEnd);
        Assert.Equal(Level.Check, result.Findings.Single(f => f.Id == "never-ends").Level);
    }

    [Fact]
    public void Calls_too_deep_end_the_run()
    {
        var result = Setups.Run("O1\nG20 G90\nM98 P1", Simple);
        Assert.False(result.Program.FollowedToEnd);
        Assert.Equal(Level.Stop, result.Findings.Single(f => f.Id == "never-ends").Level);
    }

    [Theory]
    [InlineData("")]
    [InlineData("%\n%\n")]
    [InlineData("MZ\0\u0001\u0002binary")]
    public void What_is_no_program_is_refused(string text)
    {
        var fault = Assert.Throws<InputFault>(() => Setups.Run(text, Simple));
        Assert.StartsWith("test.nc", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_program_above_the_limit_is_refused() =>
        Assert.Throws<InputFault>(() => Setups.Run(HalfCircle, Simple, new CheckOptions { BytesMost = 10 }));
}
