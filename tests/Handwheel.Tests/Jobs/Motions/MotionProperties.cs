using System.Globalization;
using CsCheck;
using static Handwheel.Tests.Jobs.Motions.Programs;

namespace Handwheel.Tests.Jobs.Motions;

/// <summary>What must hold for every program: a spelling changes nothing, and a change is seen at its own tool.</summary>
public class MotionProperties
{
    static readonly Gen<string> AnyMove =
        from kind in Gen.Int[0, 4]
        from x in Gen.Int[-2000, 2000]
        from y in Gen.Int[-2000, 2000]
        from z in Gen.Int[-900, 900]
        select kind switch
        {
            0 => $"G0 X{N(x)} Y{N(y)}",
            1 => $"G1 X{N(x)} Y{N(y)} Z{N(z)} F{N(1000 + Math.Abs(x))}",
            2 => $"G1 Z{N(z)} F{N(1000 + Math.Abs(y))}",
            3 => $"G2 I{N(Math.Abs(x) + 10)} J{N(y)} F{N(5000)}",
            _ => $"G99 G81 X{N(x)} Y{N(y)} Z{N(-1000 - Math.Abs(z))} R{N(950)} F{N(5000)}\nG80",
        };

    static readonly Gen<string[][]> AnyTools = AnyMove.Array[1, 12].Array[2, 5];

    static string N(int thousandths) => (thousandths / 1000m).ToString("0.0##", CultureInfo.InvariantCulture);

    static string Write(string[][] tools) => Whole([.. tools.Select((moves, i) => Tool(i + 1, moves))]);

    [Fact]
    public void A_spelling_changes_nothing() =>
        AnyTools
            .Select(Gen.Int[0, 1_000_000].Array[200])
            .Sample(
                (tools, dice) =>
                {
                    var program = Write(tools);
                    var spelled = string.Join(
                        '\n',
                        program.Split('\n').Select((l, i) => Spell(l, dice[i % dice.Length]))
                    );
                    Assert.Empty(Changed(program, spelled));
                },
                iter: 150
            );

    /// <summary>The same block in another spelling.</summary>
    static string Spell(string block, int die)
    {
        if (block.Length == 0 || block[0] is '%' or 'O')
            return block;
        return (die % 6) switch
        {
            0 => block.ToLowerInvariant(),
            1 => $"N{(die / 6 % 9000).ToString(CultureInfo.InvariantCulture)} {block}",
            2 => block.Replace(" ", "", StringComparison.Ordinal),
            3 => $"{block} (SAID {(die % 97).ToString(CultureInfo.InvariantCulture)})",
            4 => block
                .Replace("G0 ", "G00 ", StringComparison.Ordinal)
                .Replace("G1 ", "G01 ", StringComparison.Ordinal),
            _ => "(ABOVE)\n" + block,
        };
    }

    [Fact]
    public void One_move_that_changes_is_seen_at_its_tool_and_at_no_other() =>
        AnyTools
            .Select(Gen.Int[0, 1_000_000], Gen.Int[1, 50])
            .Sample(
                (tools, which, by) =>
                {
                    var changed = tools.Select(t => (string[])t.Clone()).ToArray();
                    var tool = which % tools.Length;
                    // A move of its own at the end: whatever the moves before it are, it goes somewhere.
                    tools[tool] = [.. tools[tool], $"G1 X{N(3000)} Y0. Z{N(800)} F10."];
                    changed[tool] = [.. changed[tool], $"G1 X{N(3000 + by)} Y0. Z{N(800)} F10."];
                    Assert.Equal([tool + 1], Changed(Write(tools), Write(changed)));
                },
                iter: 150
            );
}
