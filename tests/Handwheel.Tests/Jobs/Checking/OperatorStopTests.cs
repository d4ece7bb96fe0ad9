using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Where the program waits for a person, and the comment that says what for.</summary>
public sealed class OperatorStopTests
{
    static IReadOnlyList<OperatorStop> Stops(string middle) =>
        Setups
            .Run(
                $"""
                O1 (STOPS)
                G20 G90 G17 G40 G49 G80
                T1 M6
                G54 G0 X0 Y0 S1000 M3
                G43 H1 Z1.
                {middle}
                M30
                """,
                Setups.Inch()
            )
            .OperatorStops;

    [Theory]
    [InlineData("M0 (TURN THE PART)", "M0", "TURN THE PART", "block")]
    [InlineData("N10 M00(TURN) (THE PART)", "M0", "TURN THE PART", "block")]
    [InlineData("M1 ; look at the bore", "M1", "look at the bore", "block")]
    [InlineData("(TURN)\n(THE PART)\nM0", "M0", "TURN THE PART", "before")]
    [InlineData("M01\nN20 (DRILL)\nG0 X1.", "M1", "DRILL", "after")]
    [InlineData("G0 X1.\nM1\nG0 X2. (AWAY)", "M1", "", null)]
    [InlineData("m0", "M0", "", null)]
    public void Each_has_its_kind_line_tool_and_the_comment_beside_it(
        string text,
        string kind,
        string instruction,
        string? from
    )
    {
        var stop = Assert.Single(Stops(text));
        Assert.Equal((kind, instruction, from), (stop.Kind, stop.Instruction, stop.InstructionFrom));
        var line =
            6
            + Array.FindIndex(
                text.Split('\n'),
                l => l.Contains('M', StringComparison.OrdinalIgnoreCase) && !l.StartsWith('(')
            );
        Assert.Equal((1, 1, line, 1), (stop.Number, stop.Tool, stop.Line, stop.Times));
    }

    [Fact]
    public void The_comment_in_the_block_goes_before_the_ones_around_it()
    {
        var stop = Assert.Single(Stops("(BEFORE)\nM0 (OWN)\n(AFTER)"));
        Assert.Equal("OWN", stop.Instruction);
    }

    [Fact]
    public void A_stop_that_comes_again_is_one_place()
    {
        var stops = Stops("M98 P2 L3\nM30\nO2\nM1 (LOOK)\nM99");
        var stop = Assert.Single(stops);
        Assert.Equal((3, "LOOK", "M1"), (stop.Times, stop.Instruction, stop.Kind));
    }

    [Fact]
    public void Lines_that_end_in_two_signs_are_read_like_the_others()
    {
        var stop = Assert.Single(Stops("(TURN IT)\nM0").ToList());
        var program = "O1\r\nT1 M6\r\nG54 G0 X0 Y0\r\n(TURN IT)\r\nM0\r\nM30\r\n";
        var other = Assert.Single(Setups.Run(program, Setups.Inch()).OperatorStops);
        Assert.Equal((stop.Instruction, stop.InstructionFrom), (other.Instruction, other.InstructionFrom));
        Assert.Equal(5, other.Line);
    }

    [Fact]
    public void Coolant_is_told_of_the_tool_that_has_it()
    {
        var setup = Setups.From(
            "inch",
            """[{ "tool": 1, "diameter": 0.5, "lengthOffset": 1, "length": 5 }, { "tool": 2, "diameter": 0.25, "lengthOffset": 2, "length": 6 }]"""
        );
        var result = Setups.Run(
            "O1\nT1 M6\nG54 G0 X0 Y0 S900 M3\nG43 H1 Z1. M8\nG1 Z0.5 F10.\nM9\nT2 M6\nG0 X1. Y0\nG43 H2 Z1.\nM30\n",
            setup
        );
        Assert.Equal(["flood"], result.Tools[0].Coolant);
        Assert.Empty(result.Tools[1].Coolant);
    }

    [Fact]
    public void Blocks_with_a_slash_are_counted_once_each_and_the_switch_is_said()
    {
        const string program = "O1\nT1 M6\nG54 G0 X0 Y0\nG43 H1 Z1.\nM98 P2 L2\nM30\nO2\n/ G0 X1.\n/ G0 X2.\nM99\n";
        Assert.Equal(new(false, 2), Setups.Run(program, Setups.Inch()).BlockDelete);
        var on = Setups.Run(program, Setups.Inch(), new CheckOptions { BlockDelete = true }).BlockDelete;
        Assert.Equal(new(true, 0), on);
    }
}
