using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>What a macro program means for the check. Common practice, no source.</summary>
public class MacroCheckTests
{
    const string Setup = """
        {"format": "handwheel-setup/1", "units": "inch",
         "machine": {"travel": {"x": [-40, 0], "y": [-20, 0], "z": [-25, 0]}},
         "workOffsets": {"G54": {"x": -20, "y": -10, "z": -18}},
         "stock": {"workOffset": "G54", "min": {"x": -3, "y": -3, "z": -1}, "max": {"x": 3, "y": 3, "z": 0}},
         "tools": [{"tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5, "diameterValue": 0.5}]}
        """;

    static CheckResult Run(string blocks, CheckOptions? options = null) =>
        Check.Run(
            Encoding.ASCII.GetBytes("O1\nG20 G90\nT1 M6\nG54 G0 X0. Y0.\nG43 H1 Z1.\n" + blocks + "\nG0 Z1.\nM30\n"),
            "p.nc",
            SetupFile.Read(Encoding.UTF8.GetBytes(Setup), "s.json"),
            options
        );

    [Fact]
    public void A_parameter_that_only_the_control_knows_is_asked_for()
    {
        var result = Run("G1 Z-#501 F10.");
        Assert.False(result.Program.FollowedToEnd);
        Assert.Equal((501, 6, "G1 Z-#501 F10."), Asked(Assert.Single(result.Program.AsksFor)));
        Assert.StartsWith(
            "#501 has no value",
            Assert.Single(result.Findings, f => f.Id == "cannot-follow").Message,
            StringComparison.Ordinal
        );
        var given = Run("G1 Z-#501 F10.", new() { Parameters = new Dictionary<int, double> { [501] = 0.25 } });
        Assert.True(given.Program.FollowedToEnd);
        Assert.DoesNotContain(given.Findings, f => f.Id == "cannot-follow");
        Assert.Equal(new AssumedParameter(501, 0.25m), Assert.Single(given.Program.Assumed));
        Assert.Empty(given.Program.AsksFor);
    }

    static (int, int, string) Asked(AskedParameter asked) => (asked.Parameter, asked.Line, asked.Block);

    [Theory]
    [InlineData("G1 X#5043 F10.")] // a position
    [InlineData("G1 X#3001 F10.")] // a timer
    [InlineData("G1 X#<width> F10.")] // the program's own
    public void What_does_not_stay_as_it_is_is_not_asked_for(string block)
    {
        var result = Run("G43 H1 Z1.\n" + block);
        Assert.Empty(result.Program.AsksFor);
        Assert.Contains(result.Findings, f => f.Id == "cannot-follow");
    }

    [Theory]
    [InlineData("#100=#5023\nG91 G1 Z[#100/100] F10.\nG90", 7)]
    [InlineData("IF[#5223GT-30]GOTO9\nG1 X1. F10.\nN9", 6)]
    [InlineData("#100=#5003\nG1 Z[#100-1.] F10.", 0)] // programmed Z is the same with the offset raised
    public void A_way_that_depends_on_the_raise_is_told(string blocks, int line)
    {
        var result = Run(blocks);
        Assert.Equal(line == 0, result.AirCut.Possible);
        var told = result.Findings.Where(f => f.Id == "not-raised").Select(f => (f.Line, f.Level));
        Assert.Equal(line == 0 ? [] : [(line, Level.Check)], told);
        if (line > 0)
            Assert.Contains($"line {line} is worked out from", result.AirCut.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_register_that_may_be_raised_on_some_control_is_no_air_cut() =>
        Assert.False(Run("#2701=1.").AirCut.Possible);

    [Fact]
    public void A_parameter_that_is_a_raised_register_undoes_the_air_cut()
    {
        Assert.True(Run("#101=1").AirCut.Possible);
        var result = Run("#5223=#5223+1.");
        Assert.False(result.AirCut.Possible);
        Assert.Contains(result.Findings, f => f.Id == "program-writes-offsets");
    }

    [Fact]
    public void The_path_beside_the_programmed_one_is_said_not_to_be_judged()
    {
        Assert.Contains(
            Run("G1 G41 D1 X1. F10.\nG40 X0.").NotChecked,
            l => l.Contains("G41", StringComparison.Ordinal)
        );
        Assert.DoesNotContain(Run("G1 X1. F10.").NotChecked, l => l.Contains("G41", StringComparison.Ordinal));
    }
}
