using System.Text;
using Handwheel.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Proving;

public class ProgramEditTests
{
    const string Program = "%\nO1234 (BÜGEL)\nN10 G0 X1.\nN20 G1 Z-0.25 F20.\nN30 M30\n%\n";

    static string? Apply(string program, int line, string old, string now, out string? refusal)
    {
        var bytes = ProgramEdit.Apply(Encoding.UTF8.GetBytes(program), line, old, now, out refusal);
        return bytes is null ? null : Encoding.UTF8.GetString(bytes);
    }

    [Theory]
    [InlineData("N20 G1 Z-0.25 F20.", "N20 G1 Z-0.3 F20.", "N20 G1 Z-0.3 F20.")]
    [InlineData("g1z-0.25f20.", "G1 Z-0.3 F20.", "N20 G1 Z-0.3 F20.")]
    [InlineData("N20 G1 Z-0.25 F20.", " N25 G1 Z-0.3 (TIEFER, Ü)", "N25 G1 Z-0.3 (TIEFER, Ü)")]
    public void The_block_is_replaced_and_every_other_byte_stays(string old, string now, string line)
    {
        var edited = Apply(Program, 4, old, now, out var refusal);
        Assert.Null(refusal);
        Assert.Equal(Program.Replace("N20 G1 Z-0.25 F20.", line, StringComparison.Ordinal), edited);
        var windows = Program.Replace("\n", "\r\n", StringComparison.Ordinal);
        Assert.Equal(
            windows.Replace("N20 G1 Z-0.25 F20.", line, StringComparison.Ordinal),
            Apply(windows, 4, old, now, out _)
        );
    }

    [Fact]
    public void A_line_is_put_in_or_taken_out()
    {
        Assert.Equal(
            Program.Replace("N20", "G4 P500\nN20", StringComparison.Ordinal),
            Apply(Program, 4, "", "G4 P500", out _)
        );
        Assert.Equal(
            Program.Replace("N20 G1 Z-0.25 F20.\n", "", StringComparison.Ordinal),
            Apply(Program, 4, "G1 Z-0.25 F20.", "", out _)
        );
    }

    [Theory]
    [InlineData(3, "G1 Z-0.25 F20.", "It stands in line 4.")]
    [InlineData(4, "G1 Z-0.2 F20.", "It stands nowhere in it.")]
    [InlineData(9, "G1 Z-0.25 F20.", "The program has 6 lines")]
    [InlineData(2, "%", "more than one line")]
    public void A_line_that_is_not_there_is_refused_without_saying_what_stands_there(int line, string old, string words)
    {
        Assert.Null(Apply(Program, line, old, "G1 Z-0.3", out var refusal));
        Assert.Contains(words, refusal, StringComparison.Ordinal);
        Assert.DoesNotContain("X1.", refusal, StringComparison.Ordinal);
    }
}
