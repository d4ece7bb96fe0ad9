using System.Text;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Setups;

/// <summary>G10 L2 and L20, L10 to L13 by common practice; no published source for the tool registers' L numbers.</summary>
public sealed class SavedRegistersTests
{
    static readonly Machine Mill = SetupSamples.Read(SetupSamples.Full).Machine;

    [Fact]
    public void Work_offsets_lengths_diameters_and_wear_are_read_with_their_lines()
    {
        var saved = Read(
            """
            %
            (SAVED REGISTERS)
            G90 G20
            G10 L2 P0 X0. Y0. Z-.5
            G10 L2 P2 X-22.5 Y-9.25 Z-18.125
            G10 L20 P3 X1.0001
            G10 L10 P1 R5.0625
            G10 L11 P1 R-.002
            G10 L12 P4 R.5
            G10 L13 P4 R.001
            M30
            %
            """
        );
        Assert.Empty(saved.NotRead);
        Assert.Equal(
            [
                "common x 0 4",
                "common y 0 4",
                "common z -0.5 4",
                "G55 x -22.5 5",
                "G55 y -9.25 5",
                "G55 z -18.125 5",
                "G54.1P3 x 1.0001 6",
                "H1 length 5.0625 7",
                "H1 wear -0.002 8",
                "D4 diameter 0.5 9",
                "D4 wear 0.001 10",
            ],
            saved.Values.Select(Words)
        );
    }

    [Fact]
    public void The_last_line_of_a_register_counts() =>
        Assert.Equal(["G54 z -2 2"], Read("G10 L2 P1 Z-1.\nG10 L2 P1 Z-2.\n").Values.Select(Words));

    [Fact]
    public void A_line_that_is_not_read_to_its_end_gives_no_value_and_takes_the_one_before_it_away()
    {
        var saved = Read("G10 L2 P1 Z-30.125\nG10 L2 P1 Z-30.1a\nG10 L2 P2 Z1.");
        Assert.Equal(2, Assert.Single(saved.NotRead).Line);
        Assert.Equal("G55 z 1 3", Words(Assert.Single(saved.Values)));
    }

    [Fact]
    public void A_length_without_a_point_is_read_as_the_control_reads_it()
    {
        var increments = Mill with { Reads = Mill.Reads with { WholeNumbersAreIncrements = true } };
        Assert.Equal(
            ["G54 z -0.125 1"],
            SavedRegisters.Read("G10 L2 P1 Z-1250"u8.ToArray(), "saved.nc", Units.Inch, increments).Values.Select(Words)
        );
    }

    [Theory]
    [InlineData("G91 G10 L2 P1 Z-1.\nG90 G10 L2 P2 Z1.", 1, "adds to a register")]
    [InlineData("G10 L2 P9 Z-1.\nG10 L2 P2 Z1.", 1, "P that names a register")]
    [InlineData("G10 L10 P1\nG10 L2 P2 Z1.", 1, "R with the value")]
    [InlineData("#5221=4.\nG10 L2 P2 Z1.", 1, "parameter number")]
    public void What_sets_no_known_value_is_said_with_its_line(string file, int line, string why)
    {
        var saved = Read(file);
        var one = Assert.Single(saved.NotRead);
        Assert.Equal(line, one.Line);
        Assert.Contains(why, one.Why, StringComparison.Ordinal);
        Assert.Equal("G55 z 1 2", Words(Assert.Single(saved.Values)));
    }

    [Theory]
    [InlineData("G21\nG10 L2 P1 Z-1.", "saved.nc, line 1", "no value is converted")]
    [InlineData("G10 L2 P1 Z-1.\nG0 X1.", "saved.nc, line 2", "this is a program")]
    [InlineData("T1 M6\nG10 L2 P1 Z-1.", "saved.nc, line 1", "this is a program")]
    [InlineData("%\n(NOTHING)\nM30", "saved.nc", "no register")]
    [InlineData("", "saved.nc", "no register")]
    public void Another_unit_a_program_and_nothing_are_refused(string file, string where, string why)
    {
        var fault = Assert.Throws<InputFault>(() => Read(file));
        Assert.Contains(where, fault.Message, StringComparison.Ordinal);
        Assert.Contains(why, fault.Message, StringComparison.Ordinal);
    }

    static SavedRegisters Read(string file) =>
        SavedRegisters.Read(Encoding.ASCII.GetBytes(file), "saved.nc", Units.Inch, Mill);

    static string Words(SavedRegister one) =>
        FormattableString.Invariant($"{one.Name} {one.Axis} {one.Value.In(Units.Inch):0.######} {one.Line}");
}
