using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Tests.Tidy;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>
/// Programs with bytes and words changed at random, through the whole check: always a result within bounds, or one sentence. A longer run:
/// HANDWHEEL_FUZZ_SECONDS=600, with a seed of its own each time (HANDWHEEL_FUZZ_SEED to repeat one). An input that fails is kept in the
/// folder for temporary files, and belongs into the test that is named for it.
/// </summary>
public sealed class FuzzTests
{
    const int UsualInputs = 2_000;
    const int UsualSeed = 20_260_101;
    const int BlocksMost = 20_000;
    const int BytesMost = 40_000;

    /// <summary>In the long run only: so long may one small input take on a machine that does other things too.</summary>
    static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    static readonly Setup Setup = Handwheel.Tests.Jobs.Checking.Setups.From(
        "inch",
        """
        [{ "tool": 1, "kind": "end mill", "diameter": 0.5, "fluteLength": 1, "stickout": 2, "flutes": 4, "lengthOffset": 1, "length": 5, "diameterOffset": 1, "diameterValue": 0.5, "holder": [{ "diameter": 1.75, "length": 2.5 }] },
         { "tool": 2, "kind": "tap", "diameter": 0.25, "pitch": 0.05, "lengthOffset": 2, "length": 6 },
         { "tool": 3, "kind": "drill", "diameter": 0.25, "lengthOffset": 3 }]
        """,
        """ "reference": { "x": 0, "y": 0, "z": 0 }, "rapid": { "x": 1000, "y": 1000, "z": 800 }, "acceleration": { "x": 100, "y": 100, "z": 80 }, "cornerTolerance": 0.002, "maxFeed": 100, "maxSpindle": 5000, "airCutRates": [{ "cut": 150, "rapid": 150 }] """,
        """
        "stock": { "workOffset": "G54", "material": "aluminium 6061-T6", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 4, "y": 4, "z": 0 } },
        "holding": [{ "name": "jaw", "shape": "box", "workOffset": "G54", "min": { "x": 1, "y": -1, "z": -1 }, "max": { "x": 4, "y": 1, "z": 0.5 } },
                    { "name": "stud", "shape": "cylinder", "workOffset": "G55", "centre": { "x": 0, "y": 0 }, "diameter": 1, "bottom": 0, "top": 1 }],
        "rules": { "approachClearance": 0.1 }
        """,
        """{ "G54": { "x": -20, "y": -10, "z": -18 }, "G55": { "x": -10 } }"""
    );

    /// <summary>Everything the language has, so that a change is likely to mean something.</summary>
    static readonly string[] Words =
    [
        .. "G0 G1 G2 G3 G4 G9 G10 G15 G16 G17 G18 G19 G20 G21 G28 G30 G40 G41 G42 G43 G44 G49 G50 G51 G52 G53 G54 G55 G54.1 G61 G64 G65 G66 G67 G68 G69 G73 G74 G76 G80 G81 G82 G83 G84 G85 G86 G87 G88 G89 G90 G91 G92 G93 G94 G95 G98 G99 G51.1 G50.1 G92.1 G12.1".Split(
            ' '
        ),
        .. "M0 M1 M2 M3 M4 M5 M6 M8 M9 M19 M30 M97 M98 M99 M198 M777".Split(' '),
        .. "X1 Y-2.5 Z-.1 Z1. I.5 J-1 K2 R.2 R-1. Q.1 P1 P9 P30009 L2 L0 F10. F0 S100 T1 T2 T9 H1 H9 D1 A90. B1 C2 U1 V1 W1 E5 N1 N10 O9 O1".Split(
            ' '
        ),
        .. "#1=#1+1 #[#1]=2 #500 X#1 X[#1*2] SIN[30] [[1] ATAN[1]/[2] #<a>=1 IF[#1LT5]GOTO1 IF[1EQ1]THEN#2=1 WHILE[#1LT9]DO1 DO2 END1 END2 GOTO10 ELSE #5223=#5023 #3000=1 #3006=1 MOD ** / /2".Split(
            ' '
        ),
        "(",
        ")",
        "(a(b)c)",
        ";",
        "%",
        "\n",
        "\r",
        "\r\n",
        "\t",
        "\0",
        "*71",
        ".",
        "-",
        "+",
        ",",
        "=",
        "<part>",
        "é",
        "\u202E",
        "\uFF11",
        "\uFEFF",
        "99999999999999999999",
        ".000000000000000000001",
    ];

    [Fact]
    public void Any_change_of_any_program_gives_a_result_within_bounds_or_a_sentence()
    {
        var seconds = Number("HANDWHEEL_FUZZ_SECONDS");
        var seed = Number("HANDWHEEL_FUZZ_SEED") ?? (seconds is null ? UsualSeed : Environment.TickCount);
        var corpus = Corpus();
        var clock = Stopwatch.StartNew();
        var inputs = 0;
        while (seconds is { } most ? clock.Elapsed.TotalSeconds < most : inputs < UsualInputs)
        {
            var input = Changed(corpus, new Random(seed + inputs));
            try
            {
                Judge(input, seconds is null ? default : new CancellationTokenSource(Patience).Token);
            }
            catch (Exception fault)
            {
                var kept = Path.Combine(Path.GetTempPath(), $"handwheel-fuzz-{seed + inputs}.nc");
                File.WriteAllBytes(kept, input);
                Assert.Fail($"seed {seed + inputs}, kept as {kept}: {fault}");
            }
            inputs++;
        }
        TestContext.Current.SendDiagnosticMessage($"{inputs} inputs from seed {seed} in {clock.Elapsed}");
        Assert.True(inputs > 0);
    }

    static int? Number(string variable) =>
        int.TryParse(
            Environment.GetEnvironmentVariable(variable),
            NumberStyles.None,
            CultureInfo.InvariantCulture,
            out var number
        )
            ? number
            : null;

    static List<byte[]> Corpus() =>
        [
            .. Repository.Files("tests/Handwheel.Web.Tests/Commands/OddPrograms", "*.nc").Select(Bytes),
            .. Repository.Files("src/Handwheel.Web/Features/Demo/Files", "*.nc").Select(Bytes),
        ];

    static byte[] Bytes(string file)
    {
        var bytes = File.ReadAllBytes(Path.Combine(Repository.Root, file));
        return bytes.Length <= BytesMost ? bytes : bytes[..BytesMost];
    }

    static byte[] Changed(List<byte[]> corpus, Random random)
    {
        var program = new List<byte>(corpus[random.Next(corpus.Count)]);
        for (var changes = random.Next(1, 12); changes > 0; changes--)
        {
            var at = random.Next(program.Count + 1);
            var length = Math.Min(program.Count - at, random.Next(1, 60));
            switch (random.Next(7))
            {
                case 0 when at < program.Count:
                    program[at] = (byte)random.Next(256);
                    break;
                case 1:
                    program.RemoveRange(at, length);
                    break;
                case 2:
                    program.InsertRange(at, program.GetRange(at, length));
                    break;
                case 3:
                    var other = corpus[random.Next(corpus.Count)];
                    program.InsertRange(at, other.Skip(random.Next(other.Length + 1)).Take(200));
                    break;
                case 4:
                    var word = Encoding.UTF8.GetBytes(Words[random.Next(Words.Length)]);
                    program.InsertRange(at, Enumerable.Repeat(word, random.Next(1, 300)).SelectMany(b => b));
                    break;
                default:
                    program.InsertRange(at, Encoding.UTF8.GetBytes(Words[random.Next(Words.Length)]));
                    break;
            }
        }
        return program.Count <= BytesMost ? [.. program] : [.. program.Take(BytesMost)];
    }

    static void Judge(byte[] program, CancellationToken stop)
    {
        CheckResult result;
        try
        {
            result = Check.Run(program, "fuzz.nc", Setup, new CheckOptions { BlocksMost = BlocksMost, Stop = stop });
        }
        catch (InputFault fault)
        {
            Assert.StartsWith("fuzz.nc", fault.Message, StringComparison.Ordinal);
            Assert.True(fault.Message.Length < 500);
            return;
        }
        Bounds.Hold(result, program.Length);
        var listing = new Handwheel.Nc.ProgramListing(program);
        for (var line = 1; line <= listing.LineCount; line++)
            Assert.DoesNotContain('\u202E', string.Concat(listing.Pieces(line).Select(p => p.Text)));
    }
}
