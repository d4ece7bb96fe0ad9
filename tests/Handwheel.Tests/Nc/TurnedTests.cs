using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>Polar words, rotation, scaling and mirror. Common practice, no source; figures by plane geometry.</summary>
public class TurnedTests
{
    static MotionLog Run(string program) =>
        MotionLog.Of(program, MotionLog.Settings(Units.Millimetre), new() { BlocksMost = 500 });

    static string Moves(string program)
    {
        var log = Run(program);
        Assert.Empty(log.Faults);
        return log.MovesText;
    }

    [Theory]
    [InlineData("G68 X0 Y0 R90.\nG1 X10 Y0 F1", "F(0,10,5)")]
    [InlineData("G68 X0 Y0 R30.\nG1 X10 F1", "F(8.6603,5,5)")] // Y stays 0 in the programmed coordinates
    [InlineData("G68 X0 Y0 R90.\nG91 G1 X10 F1\nY1\nZ1", "F(0,10,5) F(-1,10,5) F(-1,10,6)")]
    [InlineData("G68 X10 Y0 R180.\nG1 X11 Y1 F1", "F(9,-1,5)")]
    [InlineData("G68 X0 Y0 R90.\nG1 X10 Y0 F1\nG69\nX0 Y0", "F(0,10,5) F(0,0,5)")]
    [InlineData("G18 G68 Z0 X0 R90.\nG1 Z10 X0 F1", "F(10,0,0)")]
    [InlineData("G51 X0 Y0 Z0 P2.\nG1 X10 Y5 Z5 F1", "F(20,10,10)")]
    [InlineData("G51 X10 Y0 P500\nG1 X20 Y0 F1\nG50 X1", "F(15,0,5) F(1,0,5)")]
    [InlineData("G51.1 X0\nG1 X10 Y5 F1\nG50.1\nX10", "F(-10,5,5) F(10,5,5)")]
    [InlineData("G16\nG1 X10 Y90. F1\nY180.\nX5", "F(0,10,5) F(-10,0,5) F(-5,0,5)")]
    [InlineData("G16\nG1 X10 Y30. F1\nG91 Y60.\nG15 G90 X1", "F(8.6603,5,5) F(0,10,5) F(1,10,5)")]
    [InlineData("G68 X0 Y0 R90.\nG81 X10 Y0 Z-1 R2 F1", "T(0,10,5) T(0,10,2) F(0,10,-1) T(0,10,5)")]
    public void Where_the_axes_go(string program, string expected) =>
        Assert.Equal(
            "T(0,0,5) " + expected,
            Moves("G0 X0 Y0 Z5\n" + program).Replace("-0,", "0,", StringComparison.Ordinal)
        );

    [Fact]
    public void An_arc_turns_with_its_centre()
    {
        var log = Run("G0 X0 Y0\nG68 X0 Y0 R90.\nG1 X10 F1\nG3 X0 Y10 I-10 J0");
        Assert.Empty(log.Faults);
        var arc = Assert.Single(log.Arcs);
        Assert.Equal((0, 0), (Math.Round(arc.CentreU), Math.Round(arc.CentreV)));
        Assert.Equal(Math.PI / 2, arc.Sweep, 6);
        Assert.Equal((-10_000_000, 0), (log.Last.At.X, log.Last.At.Y));
    }

    [Fact]
    public void A_mirrored_arc_turns_the_other_way()
    {
        var log = Run("G0 X0 Y0\nG51.1 X0\nG1 X10 F1\nG3 X0 Y10 I-10 J0");
        Assert.Empty(log.Faults);
        Assert.Equal(-Math.PI / 2, Assert.Single(log.Arcs).Sweep, 6);
        Assert.Equal((0, 10_000_000), (log.Last.At.X, log.Last.At.Y));
    }

    [Fact]
    public void Turning_is_told_and_a_safe_start_is_not()
    {
        Assert.DoesNotContain(Run("G15 G50 G69 G17").Events, e => e.StartsWith("shift", StringComparison.Ordinal));
        var told = Run("G0 X0 Y0\nG68 R10.\nX1\nG69")
            .Events.Where(e => e.StartsWith("shift", StringComparison.Ordinal));
        Assert.Equal(["shift Turned X, Y False 0 0 0", "shift Turned None False 0 0 0"], told);
    }

    [Theory]
    [InlineData("G68 R10.", "a centre at a place that is not known")]
    [InlineData("G68 X0 Y0", "G68 without R alone")]
    [InlineData("G68 X0 Y0 R10.\nG0 X1", "a turned move from a place that is not known")]
    [InlineData("G0 X0 Y0\nG51 X0 Y0 I2. J3.\nG2 X2 R9.", "an arc under unequal scales")]
    [InlineData("G68 X0 Y0 R10.\nG92 X0", "a shift under rotation, scaling or mirror")]
    [InlineData("G68 X0 Y0 R10.\nG28 X1", "a reference return through a turned place")]
    [InlineData("G51 X0 Y0 P0", "a scale of 0 or above 1000")]
    public void What_cannot_be_followed(string program, string cause) =>
        Assert.Contains(Run(program).Faults, f => f.Cause == cause);
}
