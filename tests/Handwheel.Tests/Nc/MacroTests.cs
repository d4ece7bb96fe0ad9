using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>Jumps, loops, calls and the control's own parameters. Common practice, no source.</summary>
public class MacroTests
{
    static MotionLog Run(string program, ControlSettings? settings = null, RunOptions? options = null) =>
        MotionLog.Of(
            program,
            settings ?? MotionLog.Settings(Units.Millimetre),
            options ?? new() { BlocksMost = 5_000 }
        );

    static string Moves(string program)
    {
        var log = Run(program);
        Assert.Empty(log.Faults);
        return log.MovesText;
    }

    [Theory]
    [InlineData("#1=1\nG0\nN10 X#1\n#1=#1+1\nIF [#1 LE 3] GOTO 10\nM30", "T(1,?,?) T(2,?,?) T(3,?,?)")]
    [InlineData("G0 X1\nGOTO 20\nX2\nN20 X3\nM30", "T(1,?,?) T(3,?,?)")]
    [InlineData("#1=20\nG0 X1\nGOTO#1\nX2\nN20 X3\nM30", "T(1,?,?) T(3,?,?)")]
    [InlineData("#1=1\nIF[#1EQ1]THEN#2=5\nIF[#1EQ2]THEN#2=6\nG0X#2\nM30", "T(5,?,?)")]
    [InlineData("#1=0\nG0\nWHILE[#1 LT 3]DO1\nX#1\n#1=#1+1\nEND1\nX9\nM30", "T(0,?,?) T(1,?,?) T(2,?,?) T(9,?,?)")]
    [InlineData("#1=5\nG0\nwhile [#1 lt 3] do 1\nX#1\nN9 end 1\nX9\nM30", "T(9,?,?)")]
    [InlineData(
        "#1=0\nG0\nWHILE[#1LT2]DO1\n#2=0\nWHILE[#2LT2]DO2\nX#1Y#2\n#2=#2+1\nEND2\n#1=#1+1\nEND1\nM30",
        "T(0,0,?) T(0,1,?) T(1,0,?) T(1,1,?)"
    )]
    [InlineData("#1=0\nG0\nDO1\n#1=#1+1\nIF[#1GT2]GOTO5\nX#1\nEND1\nN5 X9\nM30", "T(1,?,?) T(2,?,?) T(9,?,?)")]
    [InlineData("G0\nN1 X1\nGOTO 1\nN1 X2\nM30", "T(1,?,?) T(2,?,?)")] // the next block of that number counts
    [InlineData("#1=1\n#1=2 #2=#1\nG0 X#2", "T(1,?,?)")]
    [InlineData("#1=1\n#1=2 G0 X#1", "T(1,?,?)")] // settings take effect after the block (NISTIR 6556, 3.3.3)
    [InlineData("#1=1\n#1=2 #1=3\nG0 X#1", "T(3,?,?)")] // the last of repeats wins (3.3.6)
    [InlineData("#1=3\nIF[#1GT2]THEN G0 X1\nIF[#1GT5]THEN X2\nY3", "T(1,?,?) T(1,3,?)")]
    [InlineData(
        "#1=0\nG0\nDO1\nDO2\nDO3\n#1=#1+1\nX#1\nIF[#1GE2]GOTO7\nEND3\nEND2\nEND1\nN7 Y1\nM30",
        "T(1,?,?) T(2,?,?) T(2,1,?)"
    )]
    public void Jumps_and_loops(string program, string expected) => Assert.Equal(expected, Moves(program));

    [Theory]
    [InlineData("O1\nG0 X1\nM98 P2 L2\nX9\nM30\nO2\nX2\nM99", "T(1,?,?) T(2,?,?) T(2,?,?) T(9,?,?)")]
    [InlineData("O1\nG0 X1\nM98 P30002\nM30\nO2\nX2\nM99", "T(1,?,?) T(2,?,?) T(2,?,?) T(2,?,?)")]
    [InlineData("O1\nG0 X1\nM98 P2\nX8\nN50 X9\nM30\nO2\nX2\nM99 P50\nN50 X7", "T(1,?,?) T(2,?,?) T(9,?,?)")]
    [InlineData("O1\nG0 X1\nM97 P100 L2\nM30\nN100 X2\nM99", "T(1,?,?) T(2,?,?) T(2,?,?)")]
    [InlineData("O1\nG0 X1\nM98 Q100\nM30\nN100 X2\nM99", "T(1,?,?) T(2,?,?)")]
    [InlineData("O1\nG0 X1\nM98 P2 Q5\nM30\nO2\nX2\nN5 X3\nM99", "T(1,?,?) T(3,?,?)")]
    [InlineData("O1\nG0 X1\nM98 <Pocket 1>\nM30\nO<pocket 1>\nX3\nM99", "T(1,?,?) T(3,?,?)")]
    [InlineData("O1\nG0 X1\nM99 P5\nX2\nN5 X3\nM30", "T(1,?,?) T(3,?,?)")]
    [InlineData("O1\nG0 X1\nM98 (Pocket 1)\nM30\nO<pocket 1>\nX3\nM99", "T(1,?,?) T(3,?,?)")]
    [InlineData("O1\nG0 X1\nM98 P2 (NOT A NAME)\nM30\nO2\nX3\nM99", "T(1,?,?) T(3,?,?)")]
    [InlineData("O1\nG0 X1\nM198 P2 L2\nM30\nO2\nX3\nM99", "T(1,?,?) T(3,?,?) T(3,?,?)")]
    [InlineData("O1\nG0 X1\nG65 <slot> X4.\nM30\nO<slot>\nX#24\nM99", "T(1,?,?) T(4,?,?)")]
    public void Calls(string program, string expected) => Assert.Equal(expected, Moves(program));

    [Fact]
    public void A_way_back_without_parameters_repeats_for_ever()
    {
        var log = Run("O1\nN5 G0 X1\nM99 P5");
        Assert.Equal((RunEnd.Repeats, "T(1,?,?)"), (log.End, log.MovesText));
        Assert.Equal(RunEnd.Limit, Run("O1\n#1=1\nN5 G0 X1\nM99 P5").End);
    }

    [Theory]
    [InlineData("G65 P9 X1. Y2.", "G0 X#24 Y#25", "T(1,2,?)")]
    [InlineData("G65 P9 A1 B2 C3 I4 J5 K6", "G0 X[#1+#2] Y[#3+#4] Z[#5+#6]", "T(3,7,11)")]
    [InlineData("G65 P9 I1 J2 I3 J4 I5", "G0 X#4 Y#7 Z#10", "T(1,3,5)")]
    [InlineData("G65 P9 D7 E8 F9 H11 M13 Q17", "G0 X[#7+#8] Y[#9+#11] Z[#13+#17]", "T(15,20,30)")]
    [InlineData("G65 P9 R18 S19 T20 U21 V22 W23", "G0 X[#18+#19] Y[#20+#21] Z[#22+#23]", "T(37,41,45)")]
    [InlineData("G65 P9 L2 A1", "G0 X#1\n#1=5", "T(1,?,?) T(1,?,?)")]
    [InlineData("#1=3\nG65 P9 A#1\nG0 Y#1", "#1=#1+1\nG0 X#1", "T(4,?,?) T(4,3,?)")] // locals belong to the call
    [InlineData("G65 P9 A1", "IF [#2 EQ #0] GOTO 5\nG0 X9\nN5 G0 X#1", "T(1,?,?)")]
    [InlineData("G65 P9 A1", "G0 X1 Y#2", "T(1,?,?)")]
    [InlineData("#100=2\nG65 P9", "#100=#100+1\nG0 X#100", "T(3,?,?)")]
    [InlineData("G65 P9 A1", "M98 P8", "T(6,?,?)")] // M98 keeps the caller's locals
    public void Macro_calls(string main, string macro, string expected) =>
        Assert.Equal(expected, Moves($"O1\n{main}\nM30\nO9\n{macro}\nM99\nO8\nG0 X[5+#1]\nM99"));

    [Fact]
    public void Modal_macro_calls_follow_moves() =>
        Assert.Equal(
            "T(1,2,?) T(1,2,-3) T(1,2,5) T(4,2,5) T(4,2,-3) T(4,2,5) T(9,2,5)",
            Moves("O1\nG66 P9 Z-3. R5.\nG0 X1. Y2.\nX4.\nG67\nX9.\nM30\nO9\nG0 Z#26\nZ#18\nM99")
        );

    [Fact]
    public void Arguments_are_no_words()
    {
        var log = Run("O1\nF100. S500\nG65 P9 F20 S30 T4 D5 H6\nM30\nO9\nM99");
        Assert.Empty(log.Faults);
        Assert.Equal((100_000_000, 500, 0), (log.Last.Feed, log.Last.SpindleSpeed, log.Last.D));
    }

    [Theory]
    [InlineData("GOTO 99", "N99 is not there")]
    [InlineData("END1", "END1 without its DO")]
    [InlineData("WHILE[1 EQ 2]DO1", "DO1 without its END")]
    [InlineData("IF [1 EQ 1] X1", "IF without THEN or GOTO")]
    [InlineData("IF [1 EQ 2] THEN #1=1 ELSE #1=2", "ELSE")]
    [InlineData("IF [1 EQ 1] THEN #1=1 (x) ELSE #1=2", "ELSE")]
    [InlineData("M98 (slot.nc)", "subprogram <slot.nc> is not there")]
    [InlineData("M198 P77", "subprogram 77 is not there")]
    [InlineData("WHILE [1 EQ 1]", "WHILE without DO")]
    [InlineData("G65 P77", "subprogram 77 is not there")]
    [InlineData("G65 A1", "G65 without P")]
    [InlineData("M97 P77", "N77 is not there")]
    [InlineData("M98 <slot>", "subprogram <slot> is not there")]
    [InlineData("#3000=1 (NO LENGTH)", "the program's own alarm (#3000)")]
    [InlineData("SETVN101[DEPTH]", "SETVN")]
    public void What_cannot_be_followed(string block, string cause) =>
        Assert.Equal(cause, Assert.Single(Run("O1\n" + block + "\nM30").Faults).Cause);

    [Fact]
    public void Loops_end_at_the_limit()
    {
        Assert.Equal(RunEnd.Limit, Run("N1 GOTO 1").End);
        Assert.Equal(RunEnd.Limit, Run("WHILE[1 EQ 1]DO1\nEND1").End);
        Assert.Equal(RunEnd.Limit, Run("O1\nG65 P1").End);
    }

    /// <summary>Where nothing that decides the way changes any more, no limit of blocks has to be waited for.</summary>
    [Theory]
    [InlineData("N1 GOTO 1")]
    [InlineData("#1=1\nN1 G91 G0 X1.\nIF[#1EQ1]GOTO1")]
    [InlineData("WHILE[1 EQ 1]DO1\nG0 X1\nX2\nEND1")]
    [InlineData("DO1\nM98 P5\nEND1\nM30\nO5\nG0 X1\nM99")]
    [InlineData("#1=1\nN5 G0 X1\nM99 P5")]
    public void Loops_that_nothing_can_end_are_told_early(string program)
    {
        var log = Run(program, options: new());
        Assert.Equal(
            (FaultKind.NeverEnds, "a loop in which nothing changes that could end it"),
            (log.Faults[0].Kind, log.Faults[0].Cause)
        );
        Assert.True(log.Last.BlocksExecuted < 10_000);
    }

    [Theory]
    [InlineData("#1=0\nN1 #1=#1+1\nIF[#1LT4000]GOTO1\nM30")]
    [InlineData("G0 X0\nN1 G91 X1.\nIF[#5021LT4000]GOTO1\nM30")] // the position ends it
    [InlineData("M98 P5 L3000\nM30\nO5\n#1=0\nN1 #1=#1+1\nIF[#1LT2]GOTO1\nM99")]
    public void Long_loops_that_end_are_followed_to_their_end(string program) =>
        Assert.Equal(RunEnd.ProgramEnd, Run(program, Given, new()).End);

    [Fact]
    public void Hundreds_of_thousands_of_parameters_are_kept()
    {
        var log = Run("#1=20001\nN1 #[#1]=#1\n#1=#1+1\nIF[#1LT300000]GOTO1\nG0 X[#299999/1000]", options: new());
        Assert.Empty(log.Faults);
        Assert.Equal("T(299.999,?,?)", log.MovesText);
    }

    /// <summary>What is the same with the work offsets raised is no matter; what is another value there is told, with its block.</summary>
    [Theory]
    [InlineData("#1=#5223\nG91 G1 Z#1 F9", 7)]
    [InlineData("#1=#5023/2\nG91 G1 Z#1 F9", 7)]
    [InlineData("IF[#5023GT-100]GOTO9\nN9", 6)]
    [InlineData("WHILE[#5223GT0]DO1\nEND1", 6)]
    [InlineData("#[500+#5223]=1", 6)]
    [InlineData("G65 P8 Z#5223", 9)]
    [InlineData("G53 G0 Z0\n#1=#5003\nG91 G1 Z#1", 8)] // lower by the raise where no offset lifted the axis
    [InlineData("#1=SIN[#5023]\nX#1", 7)]
    [InlineData("#11003=#5023", 6)]
    [InlineData("#100=#5003\nZ#100", 0)]
    [InlineData("#100=#5023-#5223\nX#100", 0)] // both are lifted
    [InlineData("IF[#5023GT#5223]GOTO9\nN9", 0)]
    [InlineData("#100=#5021+#5221+#5222\nX[#100*2]", 0)] // X and Y are not raised
    [InlineData("#100=#5203\nX#100", 0)] // nor is the common offset
    [InlineData("#100=#5223", 0)] // reading alone moves nothing
    [InlineData("G65 P8 X1 Y#5223", 0)] // an argument that is not used
    public void What_depends_on_the_raise_is_told(string blocks, int line)
    {
        var log = Run($"O1\nG90 G54\nG43 H3\nG0 X0 Y0\nZ10.\n{blocks}\nM30\nO8\nG91 G1 Z#26 F9\nM99", Given);
        Assert.Empty(log.Faults);
        var told = log.Modals.Where(m => (m.Changes & Changes.RestsOnRaise) != Changes.None).Select(m => m.Line);
        Assert.Equal(line == 0 ? [] : [line], told);
    }

    [Fact]
    public void A_register_that_somebody_gives_may_be_a_raised_one()
    {
        var options = new RunOptions
        {
            Parameters = new Dictionary<int, double> { [2701] = -300, [501] = 2 },
        };
        var log = Run("G0 X#501\nX#2701", Given, options);
        Assert.Equal(
            [2],
            log.Modals.Where(m => (m.Changes & Changes.RestsOnRaise) != Changes.None).Select(m => m.Line)
        );
    }

    static readonly ControlSettings Given = MotionLog.Settings(Units.Millimetre) with
    {
        WorkOffsets = new Dictionary<WorkOffsetName, OffsetValue>
        {
            [WorkOffsetName.G54] = new(-100_000_000, -50_000_000, -300_000_000),
            [new(2)] = new(-1_000_000, null, -3_000_000),
            [WorkOffsetName.Extended(2)] = new(-7_000_000, 0, 0),
        },
        LengthOffsets = new Dictionary<int, long> { [3] = 120_500_000 },
        LengthWears = new Dictionary<int, long> { [3] = 500_000 },
    };

    [Theory]
    [InlineData("G0 X#5221", "-100")]
    [InlineData("G0 X#5243", "-3")]
    [InlineData("G0 X#7021", "-7")]
    [InlineData("G0 X#14021", "-7")]
    [InlineData("G0 X#5201", "0")]
    [InlineData("G0 X#11003", "120")]
    [InlineData("G0 X#2203", "120")]
    [InlineData("G0 X12.5 \nX[#5001+1]", "13.5")]
    [InlineData("G0 X12.5\nX[#5021+101]", "13.5")]
    [InlineData("G1 F100 \nG0 X#4109", "100")]
    [InlineData("G91\nG90 G0 X#4003", "91")]
    [InlineData("G55\nG54 G0 X#4012", "55")]
    [InlineData("G0\nX#4001", "0")]
    [InlineData("G41 D7\nG0 G40 X[#4107+#4007]", "48")]
    public void Parameters_that_the_control_keeps(string program, string expected)
    {
        var log = Run(program, Given);
        Assert.Empty(log.Faults);
        var x = (log.Last.At.X + 100_000_000) / 1e6;
        Assert.Equal(expected, x.ToString("0.####", System.Globalization.CultureInfo.InvariantCulture));
    }

    [Theory]
    [InlineData("#5021")] // the place at the start
    [InlineData("#5242")] // Y of G55 is not given
    [InlineData("#2003")] // what it holds differs from control to control
    [InlineData("#3001")]
    [InlineData("#2701")] // a diameter on some controls, a work offset on others
    public void Parameters_that_nobody_can_know(string parameter) =>
        Assert.Equal(parameter, Assert.Single(Run("G0 Y" + parameter, Given).Faults).Cause);

    [Theory]
    [InlineData("#5223=-200.", RegisterKind.WorkOffset, 1, Axes.Z)]
    [InlineData("#5241=1.", RegisterKind.WorkOffset, 2, Axes.X)]
    [InlineData("#7022=1.", RegisterKind.WorkOffset, 102, Axes.Y)]
    [InlineData("#5203=1.", RegisterKind.CommonOffset, 0, Axes.Z)]
    [InlineData("#11003=1.", RegisterKind.Length, 3, Axes.None)]
    [InlineData("#2003=1.", RegisterKind.Length, 3, Axes.None)]
    [InlineData("#13004=1.", RegisterKind.Diameter, 4, Axes.None)]
    [InlineData("#3003=1", RegisterKind.Other, 3003, Axes.None)]
    [InlineData("#2701=1.", RegisterKind.Other, 2701, Axes.None)]
    public void Writing_a_register(string block, RegisterKind kind, int number, Axes axes)
    {
        var write = Assert.Single(Run(block, Given).Writes);
        Assert.Equal(
            (kind, number, axes),
            (write.Kind, kind == RegisterKind.WorkOffset ? write.WorkOffset.Number : write.Number, write.Axes)
        );
    }

    [Fact]
    public void A_written_work_offset_counts_at_once() =>
        Assert.Equal(-200_000_000 + 5_000_000, Run("#5223=-200.\nG0 Z5.", Given).Last.At.Z);

    [Fact]
    public void Plain_parameters_are_no_registers() => Assert.Empty(Run("#1=1\n#101=2\n#501=3\n#<a>=1").Writes);

    [Fact]
    public void A_stop_by_parameter_is_a_stop() => Assert.Contains("modal Stop", Run("#3006=1").Events);
}
