using System.Globalization;
using System.Text;
using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>How long each tool takes in the air cut, at each pair of rates.</summary>
public sealed class AirCutTimesTests
{
    static Setup Shop(string workOffsets = """{ "G54": { "x": -20, "y": -10, "z": -18 } }""") =>
        Setups.From(
            "inch",
            """
            [{ "tool": 1, "diameter": 0.5, "lengthOffset": 1, "length": 5 }, { "tool": 2, "diameter": 0.25, "lengthOffset": 2, "length": 4 },
             { "tool": 3, "diameter": 0.25, "lengthOffset": 3, "length": 4 }]
            """,
            """ "airCutRates": [{ "cut": 150, "rapid": 150 }, { "cut": 75, "rapid": 300 }, { "cut": 7, "rapid": 13 }] """,
            """ "airCut": { "rapidOverride": 0.5 } """,
            workOffsets
        );

    /// <summary>T1 cuts 3 in and comes down 12 in by rapid (from machine Z 0 to −18 + 5 + 1 = −12); T2 cuts 1 in after 13 in.</summary>
    [Fact]
    public void Worked_out_by_hand()
    {
        var check = Setups.Run(
            "G20 G90 G54\nT1 M6\nG0 G43 H1 Z1.\nG1 X0. Y0. F10.\nX3.\nT2 M6\nG0 G43 H2 Z1.\nG1 X2. F5.\nM30\n",
            Shop()
        );
        var (first, second) = (check.RunTime.AirCut[0], check.RunTime.AirCut[1]);
        // rapids at half of 150, then at half of 300 in/min
        Assert.Equal([new(1, 1.2m + 9.6m), new(2, 0.4m + 10.4m)], first.Tools);
        Assert.Equal([new(1, 2.4m + 4.8m), new(2, 0.8m + 5.2m)], second.Tools);
        Assert.Equal(21.6m, first.Seconds);
        Assert.Equal(13.2m, second.Seconds);
    }

    [Fact]
    public void The_tools_add_up_to_the_whole_to_the_last_decimal() =>
        Gen.Select(Gen.Int[1, 3], Gen.Int[-9999, 9999], Gen.Int[-9999, 9999], Gen.Int[-20000, 9999], Gen.Bool)
            .Array[1, 40]
            .Sample(
                steps =>
                {
                    var check = Setups.Run(Write(steps), Shop());
                    Assert.Equal(3, check.RunTime.AirCut.Count);
                    foreach (var air in check.RunTime.AirCut)
                    {
                        Assert.Equal(check.Tools.Select(t => t.Tool), air.Tools.Select(t => t.Tool));
                        Assert.All(air.Tools, t => Assert.True(t.Seconds >= 0));
                        Assert.Equal(air.Seconds, air.Tools.Sum(t => t.Seconds!.Value));
                    }
                },
                iter: 300
            );

    static string Write((int Tool, int X, int Y, int Z, bool Rapid)[] steps)
    {
        var text = new StringBuilder("G20 G90 G54\nG0 X0. Y0.\n");
        var tool = 0;
        foreach (var step in steps)
        {
            if (step.Tool != tool)
                text.Append(CultureInfo.InvariantCulture, $"T{step.Tool} M6\nG0 G43 H{step.Tool} Z1.\n");
            tool = step.Tool;
            var (x, y, z) = (step.X / 10000m, step.Y / 10000m, step.Z / 10000m);
            text.Append(CultureInfo.InvariantCulture, $"{(step.Rapid ? "G0" : "G1 F20.")} X{x:F4} Y{y:F4} Z{z:F4}\n");
        }
        return text.Append("M30\n").ToString();
    }

    [Fact]
    public void A_length_that_is_not_known_leaves_its_tool_and_the_whole_open()
    {
        var check = Setups.Run(
            "G20 G90 G54\nT1 M6\nG0 G43 H1 Z1.\nG1 X0. Y0. F10.\nX3.\nT2 M6\nG0 G43 H2 Z1.\nG1 X2. F5.\nG55 X0.\nM30\n",
            Shop()
        );
        var air = check.RunTime.AirCut[0];
        Assert.Null(air.Seconds);
        Assert.Equal([new(1, 10.8m), new(2, null)], air.Tools);
    }
}
