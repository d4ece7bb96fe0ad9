using System.Globalization;
using System.Text;
using System.Text.Json;
using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Straight feed moves told many at a time end in the same figures, places and findings as moves told one by one.</summary>
public class FeedRunTests
{
    const string Machine = """
        "rapid": { "x": 1000, "y": 1000, "z": 800 }, "acceleration": { "x": 100, "y": 100, "z": 80 }, "cornerTolerance": 0.002,
        "maxFeed": 300, "rapidPath": "straight"
        """;

    const string Table = """
        "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -0.6 }, "max": { "x": 6, "y": 4, "z": 0 } },
        "holding": [
          { "name": "clamp", "shape": "box", "workOffset": "G54", "min": { "x": 1, "y": 2.2, "z": -1 }, "max": { "x": 2, "y": 3, "z": 0.75 } },
          { "name": "stud", "shape": "cylinder", "workOffset": "G54", "centre": { "x": 4, "y": 1 }, "diameter": 0.5, "bottom": -1, "top": 0.2 }
        ]
        """;

    /// <summary>A length in one of the spellings that programs have.</summary>
    static readonly Gen<string> Length = Gen.Select(Gen.Double[-0.6, 6.5], Gen.Int[0, 9], Spell);

    static readonly Gen<string> Move = Gen.Frequency(
        (20, Gen.Select(Length, Length, Length, (x, y, z) => $"X{x}Y{y}Z{z}")),
        (6, Gen.Select(Length, Length, (x, y) => $"X{x} Y{y}")),
        (4, Length.Select(z => "Z" + z)),
        (4, Length.Select(x => "X" + x)),
        (1, Gen.Const("G0 Z1.")),
        (1, Gen.Const("G1 Z.1 F40.")),
        (1, Gen.Const("F80.")),
        (1, Gen.OneOf(Gen.Const("G91"), Gen.Const("G90"), Gen.Const("M1"), Gen.Const("G9 X1."), Gen.Const("N9 X.5"))),
        (1, Length.Select(x => $"G2 X{x} Y1. R9."))
    );

    static readonly Gen<string> Program = Gen.Select(
        Move.Array[1, 700],
        Gen.OneOf(Gen.Const("\n"), Gen.Const("\r\n")),
        (moves, end) =>
            string.Join(
                end,
                (string[])["G20 G90 T1 M6", "G54 G0 X0. Y0. S900 M3", "G43 H1 Z1.", "G1 Z.2 F30.", .. moves, "M30", ""]
            )
    );

    static string Spell(double value, int spelling)
    {
        var text = value.ToString(
            spelling switch
            {
                0 => "0.",
                1 => "+0.000;-0.000",
                2 => "0.00000",
                3 => "0",
                _ => "0.####",
            },
            CultureInfo.InvariantCulture
        );
        text = text.Contains('.', StringComparison.Ordinal) || spelling == 3 ? text : text + ".";
        return spelling == 1
            ? text
            : text.Replace("0.", spelling == 0 || text.Length < 4 ? "0." : ".", StringComparison.Ordinal);
    }

    [Fact]
    public void Runs_end_in_what_single_moves_end_in() =>
        Program.Sample(program => Assert.Equal(Figures(program, runs: false), Figures(program, runs: true)), iter: 300);

    [Fact]
    public void Most_moves_of_a_surface_are_told_in_runs()
    {
        var moves = string.Concat(
            Enumerable
                .Range(0, 1000)
                .Select(i => string.Create(CultureInfo.InvariantCulture, $"X{i * 0.0004:0.####}Z-.1\n"))
        );
        var taken = 0;
        var sink = new CheckSink(Run(out _));
        var options = new RunOptions { Feeds = (in state, run) => Take(run, ref taken) };
        Interpreter.Run(
            Bytes("G20 G90 T1 M6\nG54 G0 X0. Y0.\nG43 H1 Z1.\nG1 Z.2 F30.\nX.1\n" + moves),
            Settings,
            options,
            ref sink
        );
        Assert.InRange(taken, 900, 1000);
    }

    static int Take(FeedRun run, ref int taken)
    {
        taken += run.Left;
        return run.Left;
    }

    static ControlSettings Settings => SettingsOf.Control(Setup);

    static Handwheel.Jobs.Setups.Setup Setup { get; } =
        Setups.From(
            "inch",
            """[{ "tool": 1, "kind": "ball end mill", "diameter": 0.25, "lengthOffset": 1, "length": 5, "stickout": 1.5 }]""",
            Machine,
            Table
        );

    static byte[] Bytes(string program) => Encoding.UTF8.GetBytes(program);

    static CheckRun Run(out Facts facts, byte[]? program = null)
    {
        facts = new Facts(Setup, new ProgramTexts("runs.nc", program ?? []), new CheckOptions { Material = false });
        return new CheckRun(facts);
    }

    static string Figures(string text, bool runs)
    {
        var program = Bytes(text);
        var run = Run(out var facts, program);
        var sink = new CheckSink(run);
        Interpreter.Run(program, Settings, new RunOptions { Feeds = runs ? run.Feeds : null }, ref sink);
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
                Stops = run.Stops.Select(s => s.At.ToString() + s.Kind),
                Nearest = run.Rules.Holding.Nearest.Select(n => n.Pass.At.ToString() + n.Pass.Distance),
                Findings = facts.Book.InOrder(),
                facts.NotChecked.Lines,
            }
        );
    }
}
