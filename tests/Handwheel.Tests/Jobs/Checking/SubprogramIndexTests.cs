using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Which file a call means. Common practice, no source.</summary>
public class SubprogramIndexTests
{
    static SubprogramIndex Index()
    {
        var index = new SubprogramIndex();
        index.Add("a/first.nc", "%\nO0030 (POCKET)\nM99\n  O31\nM99"u8);
        index.Add("a/O0040.nc", "G0 X1\nM99"u8);
        index.Add("a/50.txt", ":0051\nM99"u8);
        index.Add("b/Slot.NC", "O<Inner Slot>\nM99"u8);
        index.Add("b/twice-1.nc", "O60\n"u8);
        index.Add("b/twice-2.nc", "\uFEFF%O60(AGAIN)\n"u8);
        return index;
    }

    [Theory]
    [InlineData(30, "a/first.nc")]
    [InlineData(31, "a/first.nc")]
    [InlineData(40, "a/O0040.nc")]
    [InlineData(50, "a/50.txt")]
    [InlineData(51, "a/50.txt")]
    [InlineData(60, "b/twice-1.nc b/twice-2.nc")]
    [InlineData(99, "")]
    public void By_number(int number, string files) =>
        Assert.Equal(files, string.Join(' ', Index().Find(new CalledProgram(number, null, 0, 1))));

    [Theory]
    [InlineData("slot.nc", "b/Slot.NC")]
    [InlineData("slot", "b/Slot.NC")]
    [InlineData("slot.txt", "b/Slot.NC")]
    [InlineData("/user/path 1/SLOT.NC", "b/Slot.NC")]
    [InlineData("inner slot", "b/Slot.NC")]
    [InlineData("o0040.nc", "a/O0040.nc")]
    [InlineData("nothing", "")]
    public void By_name(string name, string files) =>
        Assert.Equal(files, string.Join(' ', Index().Find(new CalledProgram(0, name, 0, 1))));

    [Fact]
    public void The_check_says_which_call_led_to_which_file()
    {
        var files = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["slot.nc"] = "G0 X1.\nM98 P31\nM99",
            ["thirty-one.nc"] = "O31\nX2.\nM99",
        };
        var index = new SubprogramIndex();
        foreach (var (name, text) in files)
            index.Add(name, Encoding.ASCII.GetBytes(text));
        var setup = Setups.From("inch", """[{ "tool": 1, "lengthOffset": 1, "length": 5 }]""");
        var result = Setups.Run(
            "G20 G90\nT1 M6\nG54\nM98 (SLOT.NC)\nM98 (SLOT.NC)\nM30",
            setup,
            new CheckOptions
            {
                Subprogram = called =>
                    index.Find(called) is [var file] ? new(file, Encoding.ASCII.GetBytes(files[file])) : null,
            }
        );
        Assert.Equal(
            [("slot.nc", "slot.nc", 4, null), ("O31", "thirty-one.nc", 2, "slot.nc")],
            result.Program.Subprograms.Select(s => (s.Called, s.File, s.Line, s.From))
        );
        Assert.Contains(result.Stops, s => s is { Kind: "position", File: "slot.nc", Line: 1 });
    }
}
