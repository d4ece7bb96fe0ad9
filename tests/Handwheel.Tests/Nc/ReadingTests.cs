using System.Text;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>Spellings that real programs have (common practice; the rules of NISTIR 6556, 3.3, where named).</summary>
public class ReadingTests
{
    static MotionLog Run(string program) => MotionLog.Of(program);

    [Theory]
    [InlineData("g0x +0. 12 34y 7")] // 3.3.1: the report's own example
    [InlineData("G0 X0.1234 Y7")]
    [InlineData("G00X.1234Y7.")]
    [InlineData("\tn10\tg0\tx.1234\ty+7")]
    [InlineData("G0 X.1234 (across) Y7 (and up)")]
    [InlineData("G0 X.1234 (brackets (inside) a comment) Y7")]
    [InlineData("G0 X.1234 (one ( too many) Y7")]
    [InlineData("G0 X.1234 Y7 ; to the end (of the line")]
    [InlineData("G0 X.1234 Y7*71")]
    [InlineData("%O5000(PART 7)\nG0 X.1234 Y7\n%")]
    [InlineData(":1000\nG0 X.1234 Y7")]
    [InlineData("\uFEFFG0 X.1234 Y7")]
    [InlineData("\0\0\0%\nG0 X.1234 Y7")]
    [InlineData("G0\u0000 X.1234 Y7\u001A")]
    [InlineData("(größe ⌀ 5)\nG0 X.1234 Y7")]
    [InlineData("O<part>\nG0 X.1234 Y7")]
    [InlineData("N5. G0 X000.123400 Y007")]
    public void Spellings_of_one_move(string program)
    {
        var log = Run(program);
        Assert.Equal("T(0.1234,7,?)", log.MovesText);
        Assert.Empty(log.Faults);
    }

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    public void Each_line_end_counts_once(string end)
    {
        var log = Run(string.Join(end, "G0 X1", "", "Y2", "(note)", "Z3 G12.1", "M30"));
        Assert.Equal(
            "fault CannotFollow G12.1 line 5 column 4",
            log.Events.Single(e => e.StartsWith("fault", StringComparison.Ordinal))
        );
        Assert.Equal((6, RunEnd.ProgramEnd), (log.Last.Line, log.End));
    }

    [Theory]
    [InlineData("G0 X1 Y", "Y", 7)]
    [InlineData("G0 X-", "X", 4)]
    [InlineData("G0 X1 ?", "?", 7)]
    [InlineData("G0 X1 \u200BY2", "U+200B, which cannot be seen", 7)]
    [InlineData("G0 X1 \u202EY2", "U+202E, which cannot be seen", 7)]
    [InlineData("G0 X\uFF11", "U+FF11, which looks like 1", 5)]
    [InlineData("G0 (open X1", "comment without end", 4)]
    [InlineData("G1.25 X1", "G", 1)]
    [InlineData("T1.5 M6", "T", 1)]
    [InlineData("G0 X99999999999999999", "a number too long", 21)]
    [InlineData("G0 X999999999999", "X", 4)]
    public void What_makes_no_sense_is_said_with_its_column(string program, string cause, int column)
    {
        var fault = Run(program).Faults[0];
        Assert.Equal((FaultKind.CannotRead, cause, column), (fault.Kind, fault.Cause, fault.Column));
        Assert.NotNull(fault.Expected);
    }

    [Fact]
    public void A_byte_that_is_no_text_is_said() =>
        Assert.Equal("byte FF", MotionLog.Of([.. "G0 X1 "u8, 0xFF]).Faults[0].Cause);

    [Fact]
    public void The_words_around_a_fault_are_still_read()
    {
        Assert.Equal("T(1,2,?)", Run("G0 X1 ? Y2").MovesText);
    }

    [Fact]
    public void An_address_twice_is_a_fault_and_the_last_counts() // 3.3.6
    {
        var log = Run("G0 X1 Y1 X2");
        Assert.Equal(
            (FaultKind.SameGroupTwice, "X twice", 10),
            (log.Faults[0].Kind, log.Faults[0].Cause, log.Faults[0].Column)
        );
        Assert.Equal("T(2,1,?)", log.MovesText);
    }

    [Theory]
    [InlineData("X1.000001", 25_400_025)]
    [InlineData("X-1.00001", -25_400_254)]
    [InlineData("X.0000001", 3)]
    [InlineData("X-.0000001", -3)]
    public void More_decimals_than_are_exact_round_to_the_nearest(string word, long nanometres) =>
        Assert.Equal(nanometres, Run("G0 " + word).Legs[0].To.X);

    [Fact]
    public void Blocks_know_where_they_stand()
    {
        var program = "(first)\r\nN5 G0 X1\r\n\r\n  G1 X2 F9  \n/G12.1\nX3";
        var spans = new List<string>();
        var sink = new SpanSink(Encoding.UTF8.GetBytes(program), spans);
        Interpreter.Run(Encoding.UTF8.GetBytes(program), MotionLog.Settings(), new(), ref sink);
        Assert.Equal(["2 N5 G0 X1", "4   G1 X2 F9  ", "5 /G12.1", "6 X3"], spans);
    }
}
