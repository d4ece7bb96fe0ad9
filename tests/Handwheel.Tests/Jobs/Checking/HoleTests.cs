using System.Globalization;
using System.Text;
using System.Text.Json;
using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Holes of one shape taken at once end in the same figures, places and findings as holes told leg by leg.</summary>
public class HoleTests
{
    const string Machine = """
        "rapid": { "x": 1000, "y": 1000, "z": 800 }, "acceleration": { "x": 100, "y": 100, "z": 80 }, "cornerTolerance": 0.002,
        "maxFeed": 300, "toolChangeSeconds": 4, "reads": { "peckRetract": 0.02, "peckClearance": 0.05 }
        """;

    const string Tools = """
        [
          { "tool": 1, "kind": "drill", "diameter": 0.25, "lengthOffset": 1, "length": 5, "stickout": 1.5, "fluteLength": 0.7 },
          { "tool": 2, "kind": "tap", "diameter": 0.25, "pitch": 0.05, "lengthOffset": 2, "length": 5.5, "stickout": 2 },
          { "tool": 3, "kind": "boring bar", "diameter": 0.5, "lengthOffset": 3, "length": 4.5, "stickout": 2,
            "holder": [{ "diameter": 1.5, "length": 2 }] },
          { "tool": 4, "kind": "drill", "lengthOffset": 4, "length": 4 },
          { "tool": 5, "kind": "drill", "diameter": 0.5, "lengthOffset": 5 }
        ]
        """;

    const string Table = """
        "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -0.8 }, "max": { "x": 6, "y": 4, "z": 0 } },
        "holding": [
          { "name": "clamp", "shape": "box", "workOffset": "G54", "min": { "x": 1, "y": 2.2, "z": -1 }, "max": { "x": 2, "y": 3, "z": 0.75 } },
          { "name": "stud", "shape": "cylinder", "workOffset": "G54", "centre": { "x": 4, "y": 1 }, "diameter": 0.5, "bottom": -1, "top": 0.2 }
        ]
        """;

    static readonly Gen<string> Number = Gen.Double[-0.6, 6.5]
        .Select(v => v.ToString("0.##", CultureInfo.InvariantCulture))
        .Select(v => v.Contains('.', StringComparison.Ordinal) ? v : v + ".");

    static readonly Gen<string> Place = Gen.Frequency(
        (8, Number.Select(x => "X" + x)),
        (4, Gen.Select(Number, Number, (x, y) => $"X{x} Y{y}")),
        (2, Number.Select(y => "Y" + y)),
        (1, Gen.Const("X30.")),
        (1, Gen.Int[1, 4].Select(n => $"G91 X.1 L{n}\nG90")),
        (1, Gen.Int[1, 3].Select(n => $"X2. L{n}"))
    );

    static readonly Gen<string> Cycle = Gen.Select(
        OneOf(
            "G81",
            "G82 P300",
            "G83 Q.25",
            "G83 Q.2",
            "G73 Q.15",
            "G84",
            "G74",
            "G85",
            "G89 P200",
            "G86",
            "G76 I.02",
            "G83"
        ),
        OneOf("Z-.5", "Z-.75", "Z-.3", "Z-.9", "Z.2"),
        OneOf("R.1", "R.2", "R1.", "R1.5"),
        OneOf("", "", "F9.", "F150.", "F45.0", "F45."),
        OneOf("G98", "G99", ""),
        Place,
        (code, z, r, f, back, place) => $"{back} {code} {z} {r} {f} {place}".Trim()
    );

    static readonly Gen<string> Block = Gen.Frequency(
        (20, Place),
        (5, Cycle),
        (2, Gen.Const("G80")),
        (1, OneOf("G0 Z1.", "G0 Z.05", "R.3 X1.", "Z-.6 X2.", "G98", "G99", "M1", "S1000", "S3000", "M8")),
        (1, OneOf("G95", "G94 F20.", "F0", "G9 X1.", "G61", "G64", "G55", "G54", "G52 X.1", "G53 G0 Z0.")),
        (1, Gen.Int[1, 5].Select(t => $"G80\nT{t} M6\nG54 G0 X0. Y0. S3000 M3\nG43 H{t} Z1. M8"))
    );

    static readonly Gen<string> Program = Block
        .Array[1, 120]
        .Select(blocks =>
            string.Join(
                '\n',
                (string[])
                    [
                        "G20 G90 T1 M6",
                        "G54 G0 X0. Y0. S3000 M3",
                        "G43 H1 Z1.",
                        "G99 G83 Z-.5 R.1 Q.2 F9. X.5",
                        .. blocks,
                        "M30",
                        "",
                    ]
            )
        );

    static Gen<string> OneOf(params string[] texts) => Gen.Int[0, texts.Length - 1].Select(i => texts[i]);

    [Fact]
    public void Holes_taken_at_once_end_in_what_their_legs_end_in() =>
        Program.Sample(
            program => Assert.Equal(Figures(program, atOnce: false, out _), Figures(program, atOnce: true, out _)),
            iter: 600
        );

    /// <summary>Away from the holding: what comes nearer than anything before is measured leg by leg.</summary>
    static readonly string Places = string.Concat(
        Enumerable.Range(0, 50).Select(i => string.Create(CultureInfo.InvariantCulture, $"X{i * -0.1:0.0}\n"))
    );

    [Theory]
    [InlineData(1, "G83 Z-.5 R.1 Q.2 F9.")]
    [InlineData(1, "G81 Z-.4 R.1 F9.")]
    [InlineData(1, "G82 Z-.4 R.1 P100 F9.")]
    [InlineData(2, "G84 Z-.5 R.1 F150.")]
    public void Holes_of_a_pattern_are_taken_at_once(int tool, string cycle)
    {
        var program =
            $"G20 G90 T{tool} M6\nG54 G0 X0. Y0. S3000 M3\nG43 H{tool} Z1. M8\nG99 {cycle} X.5\n{Places}G80\nM30\n";
        Assert.Equal(Figures(program, atOnce: false, out _), Figures(program, atOnce: true, out var taken));
        Assert.InRange(taken, 45, 50);
    }

    static string Figures(string text, bool atOnce, out int taken)
    {
        var program = Encoding.UTF8.GetBytes(text);
        var setup = Setups.From("inch", Tools, Machine, Table);
        var facts = new Facts(setup, new ProgramTexts("holes.nc", program), new CheckOptions { Material = false });
        var run = new CheckRun(facts);
        var sink = new CheckSink(run);
        var count = 0;
        var options = new RunOptions
        {
            Holes = atOnce
                ? (in state, in hole, across, in over) => Count(run.Hole(state, hole, across, over), ref count)
                : null,
            HoleTold = run.HoleTold,
        };
        Interpreter.Run(program, SettingsOf.Control(setup), options, ref sink);
        taken = count;
        run.Rules.BeforeRaise(run.Totals);
        return JsonSerializer.Serialize(
            new
            {
                Tools = run.Totals.ToolUses(facts.Figures, run.Clock.TimeKnown),
                Offsets = run.Totals.WorkOffsetUses(facts.Figures),
                facts.Window.LowestTip,
                Lowest = facts.Window.LowestAt.ToString(),
                facts.Window.HighestMachineZ,
                Highest = facts.Window.HighestAt.ToString(),
                run.BlocksExecuted,
                run.Clock.Programmed,
                run.Clock.CutPicometres,
                run.Clock.RapidPicometres,
                Times = run.Totals.Tools.Select(t => t.Picoseconds),
                Stops = run.Stops.Select(s => s.At.ToString() + s.Kind),
                Nearest = run.Rules.Holding.Nearest.Select(n => n.Pass.At.ToString() + n.Pass.Distance),
                Findings = facts.Book.InOrder(),
                facts.NotChecked.Lines,
            }
        );
    }

    static bool Count(bool taken, ref int count)
    {
        count += taken ? 1 : 0;
        return taken;
    }
}
