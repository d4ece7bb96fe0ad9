using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>
/// Worked cases of T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274NGC Interpreter - Version 3", NISTIR 6556, 17 August 2000.
/// Page and section are named beside each.
/// </summary>
public class NistReportTests
{
    // Places here are what the report calls the current position: programmed coordinates.
    static string Moves(string program, Units units = Units.Millimetre, int? h2 = null)
    {
        var settings = MotionLog.Settings(units);
        if (h2 is { } millimetres)
            settings = settings with { LengthOffsets = new Dictionary<int, long> { [2] = millimetres * 1_000_000L } };
        return MotionLog.Of(program, settings).MovesText;
    }

    [Fact]
    public void First_printed_canned_cycle() // p. 32
    {
        var moves = Moves("G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8 F9");
        Assert.Equal("T(1,2,3) T(4,5,3) T(4,5,2.8) F(4,5,1.5) T(4,5,3)", moves);
    }

    [Fact]
    public void Second_printed_canned_cycle() // p. 32
    {
        var moves = Moves("G0 X1 Y2 Z3\nG91 G81 G98 X4 Y5 Z-0.6 R1.8 L3 F9");
        Assert.Equal(
            "T(1,2,3) T(1,2,4.8) T(5,7,4.8) F(5,7,4.2) T(5,7,4.8) "
                + "T(9,12,4.8) F(9,12,4.2) T(9,12,4.8) T(13,17,4.8) F(13,17,4.2) T(13,17,4.8)",
            moves
        );
    }
}
