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
        Assert.StartsWith(
            "#501 has no value",
            Assert.Single(result.Findings, f => f.Id == "cannot-follow").Message,
            StringComparison.Ordinal
        );
        var given = Run("G1 Z-#501 F10.", new() { Parameters = new Dictionary<int, double> { [501] = 0.25 } });
        Assert.True(given.Program.FollowedToEnd);
        Assert.DoesNotContain(given.Findings, f => f.Id == "cannot-follow");
    }

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
