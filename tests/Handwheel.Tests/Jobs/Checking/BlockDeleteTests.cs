using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Blocks with a slash: the program is followed both ways.</summary>
public sealed class BlockDeleteTests
{
    static CheckResult Run(string lines, CheckOptions? options = null) =>
        Setups.Run($"G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z1.\n{lines}\nG0 Z1.\nM30", Setups.Inch(), options);

    [Fact]
    public void What_differs_with_the_switch_on_is_said()
    {
        var finding = Run("/G1 Z-0.1 F10.\n/Z-0.2").Findings.Single(f => f.Id == "block-delete-matters");
        Assert.Equal((5, Level.Note), (finding.Line, finding.Level));
        Assert.Contains("the lowest tip of T1 is 1, not -0.2", finding.Message, StringComparison.Ordinal);
        Assert.EndsWith("And 1 more like it, line 6.", finding.Message, StringComparison.Ordinal);
    }

    /// <summary>The slash takes away the feed that the next block lives on.</summary>
    [Fact]
    public void A_hazard_that_only_the_switch_makes_is_named()
    {
        var result = Run("/F10.\nG1 Z-0.1");
        Assert.DoesNotContain(result.Findings, f => f.Level == Level.Stop);
        var finding = result.Findings.Single(f => f.Id == "block-delete-matters");
        Assert.Contains("STOP no-feed at line 6", finding.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/M8\nG1 Z-0.1 F10.")]
    [InlineData("/(NOTE)\nG1 Z-0.1 F10.")]
    public void A_slash_that_changes_nothing_is_not_mentioned(string lines) =>
        Assert.DoesNotContain(Run(lines).Findings, f => f.Id == "block-delete-matters");

    [Fact]
    public void With_the_switch_on_only_that_way_is_followed() =>
        Assert.DoesNotContain(
            Run("/G1 Z-0.1 F10.", new CheckOptions { BlockDelete = true }).Findings,
            f => f.Id == "block-delete-matters"
        );
}
