using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Everyday programs must stay quiet: a false alarm trains people to ignore the next one.</summary>
public sealed class QuietProgramsTests
{
    static readonly Setup Setup = Handwheel.Tests.Jobs.Checking.Setups.From(
        "inch",
        """
        [{ "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5, "lengthWear": 0, "diameterOffset": 1, "diameterValue": 0.5 },
         { "tool": 2, "kind": "drill", "diameter": 0.25, "lengthOffset": 2, "length": 6.5 },
         { "tool": 3, "kind": "tap", "diameter": 0.3125, "pitch": 0.04167, "lengthOffset": 3, "length": 5.5 }]
        """,
        """ "reference": { "x": 0, "y": 0, "z": 0 }, "maxSpindle": 10000, "maxFeed": 500, "rapid": { "x": 1000, "y": 1000, "z": 800 }, "harmless": ["M41"] """,
        """
        "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -0.5 }, "max": { "x": 1, "y": 1, "z": 0 } },
        "holding": [{ "name": "jaw", "shape": "box", "workOffset": "G54", "min": { "x": -2, "y": 1, "z": -1 }, "max": { "x": 2, "y": 2, "z": -0.2 } }],
        "rules": { "approachClearance": 0.1 }
        """
    );

    const string Everyday = """
        %
        O100 (EVERYDAY)
        G0 G17 G20 G40 G49 G80 G90
        G91 G28 Z0.
        G90
        T1 M6 (1/2 END MILL)
        M41
        G0 G90 G54 X-1.5 Y0. S3000 M3 T2
        G43 H1 Z1. M8
        Z0.1
        G1 Z-0.1 F20.
        G1 G41 D1 X-1.25 F12.
        X1.25
        G40 X1.5
        G0 Z1. M9
        G91 G28 Z0
        M5
        M6 (1/4 DRILL)
        G0 G90 G54 X0.5 Y0.5 S2000 M3 T3
        G43 H2 Z1.
        G98 G83 Z-0.6 R0.1 Q0.2 F8.
        X-0.5
        G80
        G91 G28 Z0
        M6 (TAP)
        G90 G54 G0 X0.5 Y0.5 S500 M3
        G43 H3 Z1.
        G84 Z-0.4 R0.2 F20.833
        X-0.5
        G80
        G0 Z1.
        G91 G28 Z0
        G28 X0 Y0
        M30
        %
        """;

    [Fact]
    public void Nothing_but_notes()
    {
        var result = Handwheel.Tests.Jobs.Checking.Setups.Run(Everyday, Setup);
        Assert.DoesNotContain(result.Findings, f => f.Level > Level.Note);
        Assert.Equal(["below-stock"], result.Findings.Select(f => f.Id));
        Assert.True(result.AirCut.Possible);
        Assert.True(result.Program.FollowedToEnd);
        Assert.Equal([1, 2, 3], result.Tools.Select(t => t.Tool));
        Assert.All(result.Tools, t => Assert.Equal(1, t.Uses));
    }

    /// <summary>Feed per minute = speed × pitch: 10-32 at 1200 is 37.5 in/min, 1/4-20 at 1000 is 50, 6-32 at 400 is 12.5 (elementary arithmetic on ASME B1.1 pitches from memory).</summary>
    [Theory]
    [InlineData("0.03125", "1200", "37.5", true)]
    [InlineData("0.05", "1000", "50.", true)]
    [InlineData("0.03125", "400", "12.5", true)]
    [InlineData("0.03571", "500", "17.857", true)]
    [InlineData("0.05", "1000", "49.", false)]
    [InlineData("0.03125", "1200", "38.5", false)]
    [InlineData("0.05", "1000", "20.", false)]
    public void Tapping_feed(string pitch, string speed, string feed, bool fits)
    {
        var setup = Handwheel.Tests.Jobs.Checking.Setups.From(
            "inch",
            $$"""[{ "tool": 1, "kind": "tap", "pitch": {{pitch}}, "diameter": 0.25, "lengthOffset": 1, "length": 5 }]"""
        );
        var result = Handwheel.Tests.Jobs.Checking.Setups.Run(
            $"G20 G90\nT1 M6\nG54 G0 X0. Y0. S{speed} M3\nG43 H1 Z1.\nG84 Z-0.4 R0.2 F{feed}\nG80\nM30",
            setup
        );
        Assert.Equal(fits, result.Findings.All(f => f.Id != "tap-feed"));
    }

    /// <summary>M8 × 1.25 under G95 in an inch program: 0.049213 in/rev.</summary>
    [Theory]
    [InlineData("0.0492", true)]
    [InlineData("0.049213", true)]
    [InlineData("0.0500", false)]
    public void Tapping_feed_per_revolution(string feed, bool fits)
    {
        var setup = Handwheel.Tests.Jobs.Checking.Setups.From(
            "mm",
            """[{ "tool": 1, "kind": "tap", "pitch": 1.25, "diameter": 8, "lengthOffset": 1, "length": 127 }]"""
        );
        var result = Handwheel.Tests.Jobs.Checking.Setups.Run(
            $"G20 G90\nT1 M6\nG54 G0 X0. Y0. S400 M3\nG43 H1 Z1.\nG95 G84 Z-0.4 R0.2 F{feed}\nG80 G94\nM30",
            setup
        );
        Assert.Equal(fits, result.Findings.All(f => f.Id != "tap-feed"));
    }
}
