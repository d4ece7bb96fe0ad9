using System.Text;
using CsCheck;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>
/// Every spelling that programs come in, item by item: read right, or said to be what it is. Common practice, no source, but for the
/// rules of NISTIR 6556, 3.3, where named.
/// </summary>
public class SpellingTests
{
    const string Plain = "N10 G0 X1.5 Y-2\nG1 Z-0.25 F100\nM30";

    static byte[] Bytes(string program, Encoding? encoding = null) => (encoding ?? Encoding.UTF8).GetBytes(program);

    static void Same(byte[] program) => Same(MotionLog.Of(program));

    static void Same(MotionLog log)
    {
        Assert.Empty(log.Faults);
        Assert.Equal(MotionLog.Of(Plain).MovesText, log.MovesText);
        Assert.Equal(RunEnd.ProgramEnd, log.End);
    }

    public static TheoryData<string, string> Spellings() =>
        new()
        {
            { "lower case", Plain.ToLowerInvariant() },
            { "no spaces", Plain.Replace(" ", "", StringComparison.Ordinal) },
            { "spaces inside words (3.3.1)", "N 1 0 G 0 X 1 . 5 Y - 2\nG0 1 Z -0 .2 5 F 1 0 0\nM 3 0" },
            { "tabs", Plain.Replace(" ", "\t", StringComparison.Ordinal) },
            { "CR LF", Plain.Replace("\n", "\r\n", StringComparison.Ordinal) },
            { "CR", Plain.Replace("\n", "\r", StringComparison.Ordinal) },
            { "line ends mixed", "N10 G0 X1.5 Y-2\r\n\rG1 Z-0.25 F100\nM30\r" },
            { "byte order mark", "\uFEFF" + Plain },
            { "leader and trailer of zeros", "\0\0\0\0%\n" + Plain + "\n%\0\0\0\0" },
            { "zeros behind every line end", "%\r\n\0\0" + Plain.Replace("\n", "\r\n\0\0", StringComparison.Ordinal) },
            { "switches of a reader and a punch", "\u0012%\n" + Plain + "\n%\u0014" },
            { "percent on the first line", "%" + Plain },
            { "percent on the last line", "%\n" + Plain + "%" },
            { "percent and number on one line", "%O5000(PLATE)\n" + Plain },
            { "number and comment touch", "O5000(PLATE)\n" + Plain },
            { "colon number", ":1234\n" + Plain },
            { "plus signs", "N10 G0 X+1.5 Y-2\nG1 Z-0.25 F+100\nM30" },
            { "leading zeros", "N0010 G00 X0001.500 Y-02\nG01 Z-.25 F0100\nM30" },
            { "points without digits behind", "N10 G0 X1.5 Y-2.\nG1 Z-.25 F100.\nM30" },
            { "comments with brackets inside", "(A (B) C) N10 G0 X1.5 (((D))) Y-2\nG1 Z-0.25 (E ( F) F100\nM30" },
            { "comments behind semicolons", "; A (B\nN10 G0 X1.5 Y-2 ; C )\nG1 Z-0.25 F100;\nM30;" },
            { "comments in UTF-8", "(größe ⌀5 日本)\n" + Plain + "(ende “x”)" },
            { "Cyrillic letters in a comment", "(ОСТОРОЖНО Х)\n" + Plain },
            { "checksums", "N10 G0 X1.5 Y-2*71\nG1 Z-0.25 F100 * 12\nM30*99" },
            { "text behind the end", Plain + "\nX99 remember to call Tom?!" },
            { "text behind the percent sign", "%\n" + Plain + "\n%\nX99 remember to call Tom?!" },
            { "empty lines", "\n\n  \n" + Plain.Replace("\n", "\n\n \t\n", StringComparison.Ordinal) },
            { "block numbers twice and out of order", "N10 G0 X1.5 Y-2\nN10 G1 Z-0.25 F100\nN5 M30" },
        };

    [Theory]
    [MemberData(nameof(Spellings))]
    public void Is_read_as_the_plain_spelling(string what, string program)
    {
        Assert.NotEqual("", what);
        Same(Bytes(program));
        Same(MotionLog.Of(Bytes(program), options: new() { GeneralPathOnly = true }));
    }

    [Fact]
    public void Comments_in_Latin_1_are_comments() =>
        Same(Bytes("(größe Prüfmaß)\n" + Plain + "(über)", Encoding.Latin1));

    /// <summary>Without a point: whole units, or least increments of 0.0001 in and 0.001 mm; 0 is 0 either way, and what has a point never changes.</summary>
    [Theory]
    [InlineData("X1 Y2500", Units.Inch, false, "T(1,2500,?)")]
    [InlineData("X1 Y2500", Units.Inch, true, "T(0.0001,0.25,?)")]
    [InlineData("X1 Y2500", Units.Millimetre, true, "T(0.001,2.5,?)")]
    [InlineData("X1. Y2500.", Units.Inch, true, "T(1,2500,?)")]
    [InlineData("X0 Y.5", Units.Inch, true, "T(0,0.5,?)")]
    public void Missing_points(string words, Units units, bool increments, string expected)
    {
        var settings = MotionLog.Settings(units) with { Reads = new() { WholeNumbersAreIncrements = increments } };
        Assert.Equal(expected, MotionLog.Of("G0 " + words, settings).MovesText);
    }

    [Theory]
    [InlineData('1')]
    [InlineData('2')]
    [InlineData('9')]
    public void Numbered_slashes_are_slashes(char number)
    {
        var program = $"G0 X1\n/{number} X2\nN30 /{number} X3\n/ {number} X4\nX5";
        Assert.Equal("T(1,?,?) T(2,?,?) T(3,?,?) T(4,?,?) T(5,?,?)", MotionLog.Of(program).MovesText);
        Assert.Equal("T(1,?,?) T(5,?,?)", MotionLog.Of(program, options: new() { BlockDelete = true }).MovesText);
    }

    /// <summary>Code points by the Unicode charts; the column counts characters, whatever stands before.</summary>
    [Theory]
    [InlineData("(größe) G0 X\uFF11", "U+FF11, which looks like 1", 13)]
    [InlineData("G0 X\u0661", "U+0661, which looks like 1", 5)]
    [InlineData("G0 X\u06F15", "U+06F1, which looks like 1", 5)]
    [InlineData("\u041E100", "U+041E, which looks like O", 1)]
    [InlineData("G0 \u0425 1", "U+0425, which looks like X", 4)]
    [InlineData("G0 \uFF381", "U+FF38, which looks like X", 4)]
    [InlineData("G0 X\u22121", "U+2212, which looks like a minus sign", 5)]
    [InlineData("G0 X\u20131", "U+2013, which looks like a minus sign", 5)]
    [InlineData("G0\u00A0X1", "U+00A0, which looks like a space", 3)]
    [InlineData("G0 X1\u200B", "U+200B, which cannot be seen", 6)]
    [InlineData("G0 X1\u202E", "U+202E, which cannot be seen", 6)]
    [InlineData("G0 X1\u2066Y2", "U+2066, which cannot be seen", 6)]
    [InlineData("G0 \uFEFFX1", "U+FEFF, which cannot be seen", 4)]
    [InlineData("G0 X1 é", "U+00E9", 7)]
    public void What_only_looks_right_is_said_to_be_what_it_is(string program, string cause, int column)
    {
        var fault = MotionLog.Of(program).Faults[0];
        Assert.Equal((FaultKind.CannotRead, cause, column), (fault.Kind, fault.Cause, fault.Column));
    }

    [Theory]
    [InlineData("G0 X--3", "X")]
    [InlineData("G0 X+-.5 Y1", "X")]
    public void Two_signs_before_a_plain_number_are_a_slip(string program, string cause) =>
        Assert.Equal((FaultKind.CannotRead, cause), Of(Assert.Single(MotionLog.Of(program).Faults)));

    static (FaultKind, string) Of(Fault fault) => (fault.Kind, fault.Cause);

    [Theory]
    [InlineData("G0 X1\nO100 sub\nX2\nO100 endsub", "SUB")]
    [InlineData("G0 X1\no10 if [1 eq 1]\nX2", "IF without THEN or GOTO")]
    public void Words_behind_a_program_number_are_not_passed_over(string program, string cause) =>
        Assert.Contains(MotionLog.Of(program).Faults, f => f.Kind == FaultKind.CannotFollow && f.Cause == cause);

    [Fact]
    public void Any_text_is_its_lines_and_every_block_is_one_of_them() =>
        Gen.Int[0, Parts.Length - 1]
            .Array[0, 80]
            .Sample(
                picks =>
                {
                    var program = Bytes(string.Concat(picks.Select(i => Parts[i])));
                    var listing = new ProgramListing(program);
                    var lines = Enumerable.Range(1, listing.LineCount).Select(l => listing.Bytes(l).ToArray()).ToList();
                    Assert.Equal(program, lines.SelectMany(l => l));
                    var spans = new List<string>();
                    var sink = new SpanSink(program, spans);
                    Interpreter.Run(program, MotionLog.Settings(), new() { BlocksMost = 500 }, ref sink);
                    foreach (var span in spans)
                    {
                        var space = span.IndexOf(' ', StringComparison.Ordinal);
                        var line = int.Parse(span[..space], System.Globalization.CultureInfo.InvariantCulture);
                        Assert.Equal(Encoding.UTF8.GetString(lines[line - 1]).TrimEnd('\r', '\n'), span[(space + 1)..]);
                    }
                },
                iter: 5_000
            );

    static readonly string[] Parts =
    [
        "\n",
        "\n",
        "\r\n",
        "\r",
        "G0 X1",
        "Y2.5",
        " ",
        "N5",
        "/2",
        "G91",
        "(a(b)c)",
        "(",
        ")",
        ";x",
        "%",
        "O7",
        "#1=#1+1",
        "IF[#1LT3]GOTO5",
        "M98P7",
        "M99",
        "M30",
        "é",
        "\u202E",
        "\0",
        "*71",
        "G1 Z-1 F9",
    ];
}
