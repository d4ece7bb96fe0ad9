using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>
/// Expressions and parameters of T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274NGC Interpreter - Version 3", NISTIR 6556, 17 August
/// 2000, sections 3.3.2 and 3.3.3 and the printed results of appendix C.2; what goes beyond it is common practice, no source.
/// </summary>
public class ExpressionTests
{
    static readonly ControlSettings Nist = MotionLog.Settings(Units.Millimetre) with
    {
        Reads = new() { FixIsTowardZero = false, LogicIsBitwise = false },
    };

    static MotionLog Run(string program, ControlSettings? settings = null, RunOptions? options = null) =>
        MotionLog.Of(
            program,
            settings ?? MotionLog.Settings(Units.Millimetre),
            options ?? new() { BlocksMost = 5_000 }
        );

    static string X(string expression, ControlSettings? settings = null)
    {
        var log = Run("G0 X" + expression, settings);
        Assert.Empty(log.Faults);
        return ((double)log.Last.At.X / 1_000_000).ToString("0.####", CultureInfo.InvariantCulture);
    }

    [Theory]
    [InlineData("[1+2]", "3")] // C.2, printed
    [InlineData("[1-2]", "-1")]
    [InlineData("[1--3]", "4")]
    [InlineData("[2/5]", "0.4")]
    [InlineData("[3.0*5]", "15")]
    [InlineData("[0 OR 0]", "0")]
    [InlineData("[0 OR 1]", "1")]
    [InlineData("[2 or 2]", "1")]
    [InlineData("[0 AND 0]", "0")]
    [InlineData("[0 AND 1]", "0")]
    [InlineData("[2 and 2]", "1")]
    [InlineData("[0 XOR 0]", "0")]
    [InlineData("[0 XOR 1]", "1")]
    [InlineData("[2 xor 2]", "0")]
    [InlineData("[15 MOD 4.0]", "3")]
    [InlineData("[1+2*3-4/5]", "6.2")]
    [InlineData("sin[30]", "0.5")]
    [InlineData("cos[0]", "1")]
    [InlineData("tan[60]", "1.7321")]
    [InlineData("sqrt[3]", "1.7321")]
    [InlineData("atan[1.7321]/[1.0]", "60.0007")] // printed 60: the report's figure has four decimals
    [InlineData("asin[1]", "90")]
    [InlineData("acos[0.707107]", "45")]
    [InlineData("abs[-1.23]", "1.23")]
    [InlineData("round[-0.499]", "0")]
    [InlineData("round[-0.5001]", "-1")]
    [InlineData("round[2.444]", "2")]
    [InlineData("round[9.975]", "10")]
    [InlineData("fix[-0.499]", "-1")]
    [InlineData("fix[-0.5001]", "-1")]
    [InlineData("fix[2.444]", "2")]
    [InlineData("fix[9.975]", "9")]
    [InlineData("fup[-0.499]", "0")]
    [InlineData("fup[-0.5001]", "0")]
    [InlineData("fup[2.444]", "3")]
    [InlineData("fup[9.975]", "10")]
    [InlineData("exp[2.3026]", "10.0001")] // printed 10
    [InlineData("ln[10.0]", "2.3026")]
    [InlineData("[2**3.0]", "8")]
    [InlineData("sqrt[3**2+4**2]", "5")]
    [InlineData("[2.0 / 3 * 1.5 - 5.5 / 11.0]", "0.5")] // 3.3.2.3, printed
    [InlineData("fix[-2.8]", "-3")] // 3.3.2.4, printed
    [InlineData("fup[-2.8]", "-2")]
    public void Printed_results(string expression, string expected) => Assert.Equal(expected, X(expression, Nist));

    [Fact]
    public void The_long_expression_of_the_sample_program() // C.2 n0460; its value derived
    {
        var log = Run("G0 X[2 + asin[1/2.1+-0.345] / [atan[fix[4.4]*2.1*sqrt[16.8]]/[-18]]**2]", Nist);
        Assert.Empty(log.Faults);
        Assert.Equal(2.000545078, log.Last.At.X / 1e6, 6);
    }

    [Theory]
    // Common practice, no source: FIX toward 0, logic bit by bit, short names, two values with a comma.
    [InlineData("FIX[-2.8]", "-2")]
    [InlineData("FUP[-2.2]", "-3")]
    [InlineData("[6 AND 3]", "2")]
    [InlineData("[2 OR 2]", "2")]
    [InlineData("[6 XOR 3]", "5")]
    [InlineData("ATAN[1,-1]", "135")]
    [InlineData("POW[2,5]", "32")]
    [InlineData("SQR[16]", "4")]
    [InlineData("BIN[#100]", "25")] // 37 is 0x25
    [InlineData("-[1+2]", "-3")]
    [InlineData("-SIN[30]", "-0.5")]
    [InlineData("[--3]", "3")]
    public void Results_of_common_practice(string expression, string expected)
    {
        var log = Run("#100=37\nG0 X" + expression);
        Assert.Empty(log.Faults);
        Assert.Equal($"T({expected},?,?)", log.MovesText);
    }

    [Theory]
    [InlineData("[1 LT 2 AND 2 LT 3]", "1")]
    [InlineData("[1 + 1 EQ 2]", "1")]
    [InlineData("[0.1+0.1+0.1 EQ 0.3]", "1")]
    [InlineData("[2 NE 2]", "0")]
    [InlineData("[2 GE 2]", "1")]
    [InlineData("[2 GT 2]", "0")]
    [InlineData("[2 LE 2]", "1")]
    public void Comparisons(string expression, string expected) => Assert.Equal(expected, X(expression));

    [Fact]
    public void Table_10_session_with_its_expressions() // p. 63
    {
        var settings = Nist with
        {
            LengthOffsets = new Dictionary<int, long> { [2] = 1_000_000 },
            ToolChangeZ = 500_000,
        };
        var log = Run(
            "g0 g53 x0 y0 z0\ng1 x3 y1 f20.0\ng2 x[6-[4*3/2]] r 7.01 z0.5\nt2\nm6 g43 h2\ng1 x asin[0.5]\nm2",
            settings
        );
        Assert.Equal("T(0,0,0) F(3,1,0) A(0,1,0.5) F(30,1,-0.5)", log.MovesText);
        Assert.Equal("XASIM", Run("g1 x asim[0.5]").Faults[0].Cause); // printed: an error
    }

    [Theory]
    [InlineData("#3=7\n#3=5.0 G0 x#3\nx#3 #3=1.1", "T(7,?,?) T(5,?,?)")] // 3.3.3, printed: settings take effect after the block
    [InlineData("#1=2\n##1=0.375\nG0 X#2", "T(0.375,?,?)")] // 3.3.2.2, printed
    [InlineData("#1=5\nG0 X[#1+2]", "T(7,?,?)")] // 3.3.2.2: the number sign binds tightest
    [InlineData("#<depth>=3\n#<_top of part>=1\nG0 X#<Depth> Y#<_topofpart>", "T(3,1,?)")]
    [InlineData("#100=4\nG0 X#100 Y-#100", "T(4,-4,?)")]
    [InlineData("#[99+1]=4\nG0 X#[50*2]", "T(4,?,?)")]
    [InlineData("#1=#0\nG0 X1 Y#1", "T(1,?,?)")] // vacant: the word counts as not written
    [InlineData("#1=#0\n#2=#1+1\nG0 X#2", "T(1,?,?)")]
    [InlineData("#1=0\nG#1 X2", "T(2,?,?)")]
    [InlineData("#1=0\nG0X#1#1=3\nX#1", "T(0,?,?) T(3,?,?)")]
    public void Parameters(string program, string expected)
    {
        var log = Run(program);
        Assert.Empty(log.Faults);
        Assert.Equal(expected, log.MovesText);
    }

    [Fact]
    public void A_parameter_that_nobody_can_know_is_said_once()
    {
        var log = Run("G0 X#501\nY[#501+#502]\nX#501");
        Assert.Equal(["#501", "#502"], log.Faults.Select(f => f.Cause));
        Assert.All(log.Faults, f => Assert.Equal(FaultKind.CannotFollow, f.Kind));
        var given = new RunOptions
        {
            Parameters = new Dictionary<int, double> { [501] = 1, [502] = 0.5 },
        };
        Assert.Equal("T(1,?,?) T(1,1.5,?)", Run("G0 X#501\nY[#501+#502]", options: given).MovesText);
    }

    [Theory]
    [InlineData("X[1/0]", FaultKind.CannotFollow, "a division by zero")]
    [InlineData("X[1 MOD 0]", FaultKind.CannotFollow, "a division by zero")]
    [InlineData("XSQRT[-1]", FaultKind.CannotFollow, "SQRT of a value that has none")]
    [InlineData("XLN[0]", FaultKind.CannotFollow, "LN of a value that has none")]
    [InlineData("XASIN[2]", FaultKind.CannotFollow, "ASIN of a value that has none")]
    [InlineData("XTAN[90]", FaultKind.CannotFollow, "TAN of a value that has none")]
    [InlineData("X[1+2", FaultKind.CannotRead, "brackets without end")]
    [InlineData("X[1+]", FaultKind.CannotRead, "]")]
    [InlineData("X#", FaultKind.CannotRead, "#")]
    [InlineData("#1 5", FaultKind.CannotRead, "#")]
    [InlineData("#0=5", FaultKind.CannotFollow, "#0 cannot be written")]
    [InlineData("X#[1.5]", FaultKind.CannotRead, "#")]
    [InlineData("X#<a", FaultKind.CannotRead, "#<")]
    public void What_has_no_value(string block, FaultKind kind, string cause)
    {
        var fault = Assert.Single(Run("#1=1\nG0 " + block).Faults);
        Assert.Equal((kind, cause), (fault.Kind, fault.Cause));
    }

    [Theory]
    [InlineData('[')]
    [InlineData('#')]
    [InlineData('-')]
    public void Nesting_has_a_limit(char mark) => Assert.NotNull(Run("G0 X" + new string(mark, 100_000)).End);
}
