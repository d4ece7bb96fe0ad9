using System.Text;
using CsCheck;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>What holds for every program.</summary>
public class PropertyTests
{
    static readonly Gen<string> Number = Gen.Select(Gen.Int[-99999, 99999], Gen.Int[0, 6], Gen.Bool).Select(Spell);

    static readonly Gen<string> Word = Gen.OneOf(
        Gen.Select(Gen.Char["XYZIJKRF"], Number, (letter, number) => letter + number),
        OneOf("G0", "G1", "G2", "G3", "G00", "G03", "G90", "G91", "G17", "G18", "G19", "G20", "G21"),
        OneOf("G43 H1", "G43 H9", "G49", "G54", "G55", "G54.1 P3", "G28", "G53", "G92", "G52", "G80", "G98", "G99"),
        OneOf("G81 Z-1. R.1", "G83 Z-1. R.1 Q.3", "G84 Z-1. R.1", "T1 M6", "T2", "M3", "S500", "M5", "G93", "G94"),
        OneOf("G41 D1", "G42 D2", "G41", "G40", "G41 D1 G1 X5.", "G1 X2. Y3.", "G40 X0.", "D2", "G3 I2."),
        OneOf("G10 L2 P1", "G4 P100", "M98 P9", "M99", "(note)", "G61", "G64", "G9", "A5.", "M8", "M0")
    );

    /// <summary>Blocks of the macro language, and of turned coordinates.</summary>
    static readonly Gen<string> Statement = Gen.OneOf(
        OneOf("#1=1", "#1=#1+1", "#100=#1*2.5", "##1=3", "#<a>=#<a>+1", "#5223=-1.", "#[#1+1]=SIN[30]", "#2=#0"),
        OneOf("IF[#1LT5]GOTO1", "IF[#1EQ#0]THEN#1=1", "WHILE[#1LT9]DO1", "END1", "DO2", "END2", "GOTO5", "N1", "N5"),
        OneOf("G65P9A1.B2", "G66P9X1", "G67", "M98P9L3", "M97P5", "M99P1", "O9", "M98<a>", "O<a>", "M99", "#3006=1"),
        OneOf("G1X#1Y[#1+2]F9", "X-#1", "XATAN[#1]/[2]", "G#1", "X[1/#3]", "X[[1+2]*[3-#1]]", "X#501", "T#1M6"),
        OneOf(
            "G68X0Y0R30.",
            "G69",
            "G51X0Y0P2.",
            "G50",
            "G51.1X0",
            "G50.1",
            "G16",
            "G15",
            "G2X1Y1R2.",
            "G3I1.",
            "G68R5",
            "G41D1G1X9.",
            "G42D2",
            "G40"
        )
    );

    static readonly Gen<string> MacroProgram = Gen.OneOf(Statement, Statement, Word)
        .Array[1, 25]
        .Select(blocks => string.Join('\n', blocks));

    static readonly Gen<string> Block = Gen.Select(
        OneOf("", "", "", "N10 ", "/", "N5"),
        Word.Array[0, 5],
        (start, words) => start + string.Join(' ', words)
    );

    static readonly Gen<string> Program = Block.Array[1, 30].Select(blocks => string.Join('\n', blocks));

    static Gen<string> OneOf(params string[] texts) => Gen.Int[0, texts.Length - 1].Select(i => texts[i]);

    static string Spell((int Mantissa, int Decimals, bool Point) number)
    {
        var digits = Math.Abs(number.Mantissa).ToString("D7", System.Globalization.CultureInfo.InvariantCulture);
        var split = digits.Length - number.Decimals;
        var whole = digits[..split].TrimStart('0');
        var sign = number.Mantissa < 0 ? "-" : "";
        if (number.Decimals == 0)
            return sign + (whole.Length > 0 ? whole : "0") + (number.Point ? "." : "");
        return sign + whole + "." + digits[split..];
    }

    static MotionLog Run(string program, bool general = false) => Run(Encoding.UTF8.GetBytes(program), general);

    static MotionLog Run(byte[] program, bool general = false) =>
        MotionLog.Of(program, Settings, new() { GeneralPathOnly = general, BlocksMost = 500 });

    static readonly ControlSettings Settings = MotionLog.Settings() with
    {
        DiameterOffsets = new Dictionary<int, long> { [1] = 12_700_000, [2] = -2_540_000 },
    };

    [Fact]
    public void The_plain_way_and_the_general_way_do_the_same() =>
        Program.Sample(
            program =>
            {
                var padded = program + "\n" + new string(' ', 64);
                Assert.Equal(Run(padded, general: true).Events, Run(padded).Events);
                Assert.Equal(Run(padded, general: true).Last.At, Run(padded).Last.At);
            },
            iter: 5_000
        );

    /// <summary>The end of a text is read from a copy: blocks stand on both sides of where it begins, and calls lead from one to the other.</summary>
    [Fact]
    public void A_long_program_is_followed_the_same_in_both_ways() =>
        Gen.Select(Gen.Int[0, 140], Program, Gen.Int[0, 110], OneOf("", "(no end) "), OneOf("\n", "\r\n"))
            .Sample(
                (before, program, behind, start, end) =>
                {
                    var lines = string.Join(
                        '\n',
                        (string[])
                            [
                                .. Enumerable.Repeat("G1 X1.5 Y-2.", before),
                                "M98 P9",
                                program,
                                "G80\nM98 P9\nG90 M98 P8 (twice)",
                                .. Enumerable.Repeat("X2.5Y1.", behind),
                                "M30\nO8 (long)\nM98 P9\nG99 G83 X1. Z-1. R.1 Q.4\nX2.\nG80\nM99",
                                start + "O9 (short)\nG91 G1 X.1 F9.\nX.2 Y-.1\nG90 M99",
                            ]
                    );
                    var text = Encoding.UTF8.GetBytes(lines.Replace("\n", end, StringComparison.Ordinal));
                    var general = MotionLog.Of(text, Settings, new() { GeneralPathOnly = true, BlocksMost = 1_000 });
                    var plain = MotionLog.Of(text, Settings, new() { BlocksMost = 1_000 });
                    Assert.Equal(general.Events, plain.Events);
                    Assert.Equal(general.Last.At, plain.Last.At);
                },
                iter: 3_000
            );

    [Fact]
    public void Any_bytes_are_followed_to_an_end() =>
        Gen.Byte.Array[0, 200].Sample(bytes => Assert.NotNull(Run(bytes).End), iter: 10_000);

    [Fact]
    public void Any_change_of_a_program_is_followed_to_an_end() =>
        Gen.Select(Program, Gen.Select(Gen.Int[0, 10_000], Gen.Byte).Array[1, 8])
            .Sample(
                (program, changes) =>
                {
                    var bytes = Encoding.UTF8.GetBytes(program);
                    foreach (var (at, value) in changes)
                        if (bytes.Length > 0)
                            bytes[at % bytes.Length] = value;
                    var plain = Run(bytes);
                    Assert.NotNull(plain.End);
                    Assert.Equal(Run(bytes, general: true).Events, plain.Events);
                },
                iter: 10_000
            );

    [Fact]
    public void Any_change_of_a_macro_program_is_followed_to_an_end() =>
        Gen.Select(MacroProgram, Gen.Select(Gen.Int[0, 10_000], Gen.Byte).Array[0, 4])
            .Sample(
                (program, changes) =>
                {
                    var bytes = Encoding.UTF8.GetBytes(program);
                    foreach (var (at, value) in changes)
                        bytes[at % bytes.Length] = value;
                    var plain = Run(bytes);
                    Assert.NotNull(plain.End);
                    Assert.Equal(Run(bytes, general: true).Events, plain.Events);
                },
                iter: 10_000
            );

    [Fact]
    public void The_axes_never_jump() =>
        Gen.OneOf(Program, MacroProgram)
            .Sample(
                program =>
                {
                    Place? at = null;
                    foreach (var leg in Run(program).Legs)
                    {
                        if (at is { } before)
                            Assert.Equal(
                                (before.X, before.Y, before.RestX, before.RestY),
                                (leg.From.X, leg.From.Y, leg.From.RestX, leg.From.RestY)
                            );
                        at = leg.To;
                    }
                },
                iter: 5_000
            );

    [Fact]
    public void Line_ends_make_no_difference() =>
        Program.Sample(
            program =>
            {
                var expected = Run(program).Events;
                Assert.Equal(expected, Run(program.Replace("\n", "\r\n", StringComparison.Ordinal)).Events);
                Assert.Equal(expected, Run(program.Replace("\n", "\r", StringComparison.Ordinal)).Events);
            },
            iter: 1_000
        );

    [Fact]
    public void Spaces_and_case_make_no_difference() =>
        Program.Sample(
            program =>
            {
                static IEnumerable<string> WithoutColumns(MotionLog log) =>
                    log.Events.Select(e => e.Split(" column")[0]);
                var expected = WithoutColumns(Run(program)).ToArray();
                Assert.Equal(expected, WithoutColumns(Run(program.Replace(" ", "", StringComparison.Ordinal))));
                var lower = program.Replace("(note)", "", StringComparison.Ordinal).ToLowerInvariant();
                Assert.Equal(expected, WithoutColumns(Run(lower.Replace(" ", " \t ", StringComparison.Ordinal))));
            },
            iter: 1_000
        );

    [Fact]
    public void Absolute_and_incremental_programs_of_one_path_do_the_same() =>
        Gen.Select(Gen.Int[-9999, 9999], Gen.Int[-9999, 9999], Gen.Int[-9999, 9999], Gen.Bool)
            .Array[1, 20]
            .Sample(
                steps =>
                {
                    var absolute = new StringBuilder("G90 G0 X0 Y0 Z0 F9.\n");
                    var incremental = new StringBuilder("G90 G0 X0 Y0 Z0 F9.\nG91\n");
                    var (x, y, z) = (0, 0, 0);
                    foreach (var (dx, dy, dz, rapid) in steps)
                    {
                        (x, y, z) = (x + dx, y + dy, z + dz);
                        var code = rapid ? "G0" : "G1";
                        absolute.Append(code).Append(Words(x, y, z));
                        incremental.Append(code).Append(Words(dx, dy, dz));
                    }
                    Assert.Equal(Run(absolute.ToString()).Moves, Run(incremental.ToString()).Moves);
                },
                iter: 500
            );

    static string Words(int x, int y, int z) =>
        FormattableString.Invariant($"X{x / 1e4:F4}Y{y / 1e4:F4}Z{z / 1e4:F4}\n");
}
