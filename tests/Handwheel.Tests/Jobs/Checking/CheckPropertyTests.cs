using System.Globalization;
using System.Text;
using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>What must hold for every program: the raise, the unit, and how a path is cut into blocks.</summary>
public sealed class CheckPropertyTests
{
    readonly record struct Step(int Kind, int X, int Y, int Z, int Feed);

    static readonly Gen<Step> AnyStep =
        from kind in Gen.Int[0, 4]
        from x in Gen.Int[-2000, 2000]
        from y in Gen.Int[-2000, 2000]
        from z in Gen.Int[-2500, 2000]
        from feed in Gen.Int[1, 200]
        select new Step(kind, x, y, z, feed);

    static readonly Gen<Step[]> AnySteps = AnyStep.Array[1, 30];

    /// <summary>Steps in thousandths of an inch, written in <paramref name="unit"/> (1 for inch, 25.4 for millimetres).</summary>
    static string Write(Step[] steps, decimal unit)
    {
        string N(int thousandths) => (thousandths * unit / 1000).ToString("0.0####", CultureInfo.InvariantCulture);
        var text = new StringBuilder(unit == 1 ? "G20 G90\n" : "G21 G90\n");
        text.Append(CultureInfo.InvariantCulture, $"T1 M6\nG54 G0 X{N(0)} Y{N(0)} S900 M3\nG43 H1 Z{N(1000)}\n");
        foreach (var s in steps)
        {
            text.Append(
                s.Kind switch
                {
                    0 => $"G0 X{N(s.X)} Y{N(s.Y)}",
                    1 => $"G1 X{N(s.X)} Y{N(s.Y)} Z{N(s.Z)} F{N(s.Feed * 100)}",
                    2 => $"G1 Z{N(s.Z)} F{N(s.Feed * 100)}",
                    3 => $"G2 I{N(s.X / 2 + 1001)} J{N(s.Y / 4)} F{N(s.Feed * 100)}",
                    _ => $"G99 G81 X{N(s.X)} Y{N(s.Y)} Z{N(s.Z)} R{N(2001)} F{N(s.Feed * 100)}\nG80",
                }
            );
            text.Append('\n');
        }
        return text.Append("M30\n").ToString();
    }

    /// <summary>Stock stands in another work offset, so that raising G54 leaves it where it is.</summary>
    static Setup Shop(Units units, decimal raise = 0)
    {
        var s = units == Units.Inch ? 1m : 25.4m;
        string N(decimal inch) => (inch * s).ToString("0.0#####", CultureInfo.InvariantCulture);
        return Handwheel.Tests.Jobs.Checking.Setups.From(
            units == Units.Inch ? "inch" : "mm",
            $$"""[{ "tool": 1, "diameter": {{N(0.5m)}}, "lengthOffset": 1, "length": {{N(5)}} }]""",
            $$""" "rapid": { "x": {{N(1000)}}, "y": {{N(1000)}}, "z": {{N(800)}} }, "acceleration": { "x": {{N(100)}}, "y": {{N(100)}}, "z": {{N(80)}} }, "cornerTolerance": {{N(0.002m)}} """,
            $$"""
            "stock": { "workOffset": "G59", "min": { "x": {{N(-1)}}, "y": {{N(-1)}}, "z": {{N(
                -1
            )}} }, "max": { "x": {{N(1)}}, "y": {{N(1)}}, "z": {{N(0.05m)}} } },
            "airCut": { "clearance": {{N(1)}}, "raiseStep": {{N(1)}} }
            """,
            $$"""{ "G54": { "x": {{N(-20)}}, "y": {{N(-10)}}, "z": {{N(-18 + raise)}} }, "G59": { "x": {{N(-20)}}, "y": {{N(-10)}}, "z": {{N(-18)}} } }"""
        );
    }

    static CheckResult Run(Step[] steps, Units units, decimal raise = 0) =>
        Handwheel.Tests.Jobs.Checking.Setups.Run(Write(steps, units == Units.Inch ? 1 : 25.4m), Shop(units, raise));

    [Fact]
    public void Raised_by_what_was_suggested_everything_clears_and_stays_inside() =>
        AnySteps.Sample(
            steps =>
            {
                var flat = Run(steps, Units.Inch);
                Assert.True(flat.AirCut.Possible);
                var raise = flat.AirCut.SuggestedRaise!.Value;
                var raised = Run(steps, Units.Inch, raise);
                Assert.Equal(0m, raised.AirCut.MinimumRaise);
                Assert.Equal(flat.AirCut.MaximumRaise - raise, raised.AirCut.MaximumRaise);
                Assert.True(raised.AirCut.MaximumRaise >= 0);
                // no smaller multiple of the step would do
                Assert.True(raise == 0 || raise - 1 < flat.AirCut.MinimumRaise);
                foreach (var (before, after) in flat.Stops.Zip(raised.Stops))
                {
                    Assert.Equal(before.MachineToRaised, after.MachineTo);
                    Assert.Equal(before.DistanceToGoRaised, after.DistanceToGo);
                }
            },
            iter: 200
        );

    [Fact]
    public void The_unit_makes_no_difference() =>
        AnySteps.Sample(
            steps =>
            {
                var inch = Run(steps, Units.Inch);
                var mm = Run(steps, Units.Millimetre);
                Assert.Equal(inch.AirCut.MinimumRaise * 25.4m, mm.AirCut.MinimumRaise);
                Assert.Equal(inch.AirCut.MaximumRaise * 25.4m, mm.AirCut.MaximumRaise);
                Assert.Equal(inch.Tools[0].LowestTip * 25.4m, mm.Tools[0].LowestTip);
                Assert.Equal(inch.Stops.Select(s => (s.Kind, s.Line)), mm.Stops.Select(s => (s.Kind, s.Line)));
                Close(inch.Tools[0].CutDistance * 25.4m, mm.Tools[0].CutDistance);
                Close(inch.RunTime.Programmed, mm.RunTime.Programmed);
                Assert.Equal(inch.Findings.Select(f => (f.Id, f.Line)), mm.Findings.Select(f => (f.Id, f.Line)));
            },
            iter: 200
        );

    /// <summary>Straight moves cut in four at points that are exact: the same lengths, window, stops and times.</summary>
    [Fact]
    public void Cutting_a_straight_move_in_parts_changes_nothing() =>
        Gen.Select(Gen.Int[-50, 50], Gen.Int[-50, 50], Gen.Int[-60, 20], Gen.Int[1, 90])
            .Sample(
                (x, y, z, feed) =>
                {
                    var whole = Parts(x, y, z, feed, 1);
                    var parts = Parts(x, y, z, feed, 4);
                    Close(whole.Tools[0].CutDistance, parts.Tools[0].CutDistance);
                    Close(whole.RunTime.Programmed, parts.RunTime.Programmed);
                    Assert.Equal(whole.AirCut.MinimumRaise, parts.AirCut.MinimumRaise);
                    Assert.Equal(whole.Findings.Select(f => f.Id), parts.Findings.Select(f => f.Id));
                },
                iter: 200
            );

    static CheckResult Parts(int x, int y, int z, int feed, int parts)
    {
        var text = new StringBuilder("G20 G90\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z0.25\n");
        for (var i = 1; i <= parts; i++)
        {
            decimal At(int hundredths) => hundredths * i / (100m * parts);
            text.Append(CultureInfo.InvariantCulture, $"G1 X{At(x):F4} Y{At(y):F4} Z{0.25m + At(z):F4} F{feed}.\n");
        }
        return Handwheel.Tests.Jobs.Checking.Setups.Run(text.Append("G0 Z1.\nM30").ToString(), Shop(Units.Inch));
    }

    static void Close(decimal? a, decimal? b) =>
        Assert.Equal((double)a!.Value, (double)b!.Value, 2e-5 * Math.Max(1, (double)a.Value));
}
