using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>The line from which each tool can be started again, and what is not safe to assume there.</summary>
public sealed class RestartTests
{
    static readonly Setup Two = Setups.From(
        "inch",
        """[{ "tool": 1, "diameter": 0.5, "lengthOffset": 1, "length": 5 }, { "tool": 2, "diameter": 0.25, "lengthOffset": 2, "length": 6 }]""",
        offsets: """{ "G54": { "x": -20, "y": -10, "z": -18 }, "G55": { "x": -10, "y": -10, "z": -18 } }"""
    );

    static string Program(string second) =>
        $"""
            O1
            G20 G90 G17 G40 G49 G80
            T1 M6
            G55 G0 X0 Y0 S1000 M3
            G43 H1 Z1.
            G1 Z0.5 F10.
            {second}
            M30
            """;

    [Fact]
    public void Each_tool_change_is_a_place_with_what_is_modal_there()
    {
        var places = Setups.Run(Program("T2 M6\nG55 G0 X1. Y0 S900 M3\nG43 H2 Z1.\nG1 Z0.5 F8."), Two).Restarts;
        Assert.Equal([(1, 3, true), (2, 7, false)], places.Select(p => (p.Tool, p.Line, p.FromTheTop)));
        Assert.Equal("T2 M6", places[1].Block);
        // the length offset of the tool before is in force, so no G49
        Assert.Equal(["G20", "G17", "G90", "G94", "G98", "G40", "G80"], places[1].InForce);
        Assert.Empty(places[1].NotStated);
        Assert.Empty(places[1].Cautions);
    }

    [Fact]
    public void What_the_tool_relies_on_and_nothing_states_is_named()
    {
        var place = Setups.Run(Program("T2 M6\nG0 X1. Y0 M3\nG43 H2 Z1.\nG1 Z0.5"), Two).Restarts[1];
        Assert.Equal(["the work offset (G54 …)", "F", "S"], place.NotStated);
        Assert.Contains("G55", place.InForce);
    }

    /// <summary>The list and the finding that warns of the same come from one place.</summary>
    [Fact]
    public void Says_the_same_as_the_finding()
    {
        var result = Setups.Run(Program("T2 M6\nG91 G0 X1. Y0 M3 S900\nG90 G55\nG43 H2 Z1.\nG1 Z0.5 F9."), Two);
        Assert.Equal(
            result.Restarts[1].NotStated.Count,
            result.Findings.Count(f => f.Id == "no-safe-restart" && f.Tool == 2)
        );
    }

    [Theory]
    [InlineData("G52 X1.\nT2 M6", "shift (G52, G92)")]
    [InlineData("G68 X0 Y0 R10.\nT2 M6", "rotation, scaling or mirror")]
    [InlineData("G10 L2 P2 Z-18.\nT2 M6", "written registers")]
    [InlineData("#501=1\nT2 M6", "parameters (#)")]
    [InlineData("M98 P7\nM30\nO7\nT2 M6\nM99", "subprogram O7")]
    [InlineData("M98 P7 L2\nM30\nO7\nT2 M6\nT1 M6\nM99", "executed 2 times")]
    public void What_else_a_start_there_has_not_is_said(string second, string caution)
    {
        var place = Setups.Run(Program(second), Two).Restarts.First(r => r.Tool == 2);
        Assert.Contains(place.Cautions, c => c.Contains(caution, StringComparison.Ordinal));
    }

    [Fact]
    public void Turning_that_was_taken_back_is_no_caution()
    {
        var place = Setups.Run(Program("G68 X0 Y0 R10.\nG69\nT2 M6"), Two).Restarts[1];
        Assert.Empty(place.Cautions);
    }

    [Fact]
    public void A_program_without_a_tool_change_has_no_place() =>
        Assert.Empty(Setups.Run("O1\nG54 G0 X0 Y0\nG43 H1 Z1.\nM30\n", Setups.Inch()).Restarts);
}
