using System.Globalization;
using Handwheel.Jobs.Motions;
using static Handwheel.Tests.Jobs.Motions.Programs;

namespace Handwheel.Tests.Jobs.Motions;

public class MotionComparisonTests
{
    static readonly string T1 = Tool(1, "G1 Z-0.25 F20.", "X3.");
    static readonly string T2 = Tool(2, "G99 G81 X1. Y1. Z-0.5 R0.1 F10.", "X2.", "G80");
    static readonly string T4 = Tool(4, "G1 Z-0.25 F12.", "X2. F20.", "Y2.");
    static readonly string Three = Whole(T1, T2, T4);

    static ToolCompared One(string after, int tool) => Compare(Three, after).Single(t => t.Tool == tool);

    static string With(string old, string now) => Whole(T1, T2, T4.Replace(old, now, StringComparison.Ordinal));

    [Fact]
    public void A_tool_that_goes_deeper_is_told_with_the_line_and_the_numbers()
    {
        var after = Whole("(REV B)\n" + T1, T2, T4.Replace("Z-0.25", "Z-0.3", StringComparison.Ordinal));
        var compared = Compare(Three, after);
        Assert.Equal([ToolChange.Same, ToolChange.Same, ToolChange.Moves], compared.Select(t => t.Change));
        Assert.Equal(
            "T4 goes 0.0500 in deeper from line 28 (was line 27): Z -0.3000, before -0.2500 (0.0500 in lower). "
                + "Lowest -0.3000, before -0.2500.",
            compared[2].Words
        );
        Assert.StartsWith(
            "T1, T2: the same as before. T4 goes",
            MotionComparison.Summary(compared),
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("X2. F20.", "X2.1 F20.", "X 2.1000, before 2.0000 (0.1000 in). Lowest -0.2500 as before.")]
    [InlineData("X2. F20.", "G0 X2.", "rapid for feed")]
    [InlineData("H4", "H2", "G43 H2, before G43 H4")]
    [InlineData("G43 H4", "G44 H4", "G44 H4, before G43 H4")]
    [InlineData("G54", "G55", "X 0.5000 in G55, before 0.5000 in G54")]
    [InlineData("Y2.", "Y2.\nY2.5\nX0.", "2 moves more, first feed to Y 2.5000")]
    [InlineData("X2. F20.\n", "", "from where line 28 was: one move less, first feed to X 2.0000")]
    [InlineData("S2000 M3", "S2000", "the spindle stands still, before it turned")]
    [InlineData("X2. F20.", "/X2. F20.", "may be left out by block delete")]
    [InlineData("G0 Z0.1", "M0\nG0 Z0.1", "one move more, first a program stop")]
    [InlineData("G0 Z0.1", "G52 X0.1\nG0 Z0.1", "a register or shift that is set")]
    [InlineData("Z-0.25", "Z-0.2", "T4 stays 0.0500 in higher from line")]
    [InlineData("G1 Z-0.25 F12.", "G41 D1 G1 Z-0.25 F12.", "compensation left, D1, before off")]
    public void A_tool_that_moves_differently_is_told_how(string old, string now, string words)
    {
        var told = One(With(old, now), 4);
        Assert.Equal(ToolChange.Moves, told.Change);
        Assert.Contains(words, told.Words, StringComparison.Ordinal);
        Assert.Equal([4], Changed(Three, With(old, now)));
    }

    [Theory]
    [InlineData("X2. F20.", "X2. F15.", "from line 28: feed 15 in/min, before 20 in/min")]
    [InlineData("S2000", "S2500", "speed 2500 rev/min, before 2000")]
    [InlineData("M3", "M4", "spindle counterclockwise, before clockwise")]
    [InlineData("M8", "M7", "coolant mist, before flood")]
    [InlineData("G0 Z0.1", "G61 G0 Z0.1", "exact stop on")]
    public void A_tool_that_cuts_differently_goes_the_same_way(string old, string now, string words)
    {
        var told = One(With(old, now), 4);
        Assert.Equal(ToolChange.Cuts, told.Change);
        Assert.Contains(words, told.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("T4 M6", "(ROUGH THE POCKET)\nT4 M6")]
    [InlineData("T4 M6", "N400 T04 M06")]
    [InlineData("Z-0.25", "Z-.2500")]
    [InlineData("X2. F20.", "x2.0 f20")]
    [InlineData("G1 Z-0.25 F12.", "G01 F12. Z-0.25 (PLUNGE)")]
    [InlineData("X2. F20.", "X2. Y0.5 F20.")]
    [InlineData("X2. F20.", "G91 X1.5 F20.\nG90")]
    [InlineData("Y2.", "M8 Y2.")]
    [InlineData("X2. F20.", "G21 X50.8 F508.\nG20 F20.")]
    public void A_spelling_is_no_change(string old, string now) => Assert.Empty(Changed(Three, With(old, now)));

    [Fact]
    public void What_precedes_a_tool_counts_only_by_what_it_leads_to()
    {
        var relies = T2.Replace("G90 ", "", StringComparison.Ordinal);
        var stated = Whole(T1, relies, T4);
        Assert.Empty(Changed(Three, stated));
        var stillAbsolute = Whole(T1 + "G91\nG90\n", relies, T4);
        Assert.Empty(Changed(stated, stillAbsolute));
        var incremental = Whole(T1 + "G91\n", relies, T4);
        Assert.Equal([2], Changed(stated, incremental));
    }

    [Fact]
    public void An_offset_that_the_program_writes_is_a_change_of_every_tool_that_uses_it()
    {
        static string Writes(string z) => $"G10 L2 P1 X-20. Y-10. Z{z}\n";
        var first = Whole(T1, Writes("-18.") + T2, T4);
        Assert.Equal([1, 2, 4], Changed(first, Whole(T1, Writes("-18.05") + T2, T4)));
        Assert.Equal(
            [2, 4],
            Changed(Whole(Writes("-18.") + T2, T4), Whole(Writes("-18.05") + T2, T4)).Where(t => t > 0)
        );
        static string Length(string r) => $"G10 L10 P4 R{r}\n";
        Assert.Contains(4, Changed(Whole(T1, Length("6.") + T4), Whole(T1, Length("6.1") + T4)));
    }

    [Fact]
    public void Where_the_tool_before_left_off_is_where_the_next_one_comes_from()
    {
        var leaves = T1.Replace("G53 X-5. Y-5.\n", "", StringComparison.Ordinal);
        var before = Whole(leaves, T2);
        var after = Whole(leaves.Replace("X3.", "X3.5", StringComparison.Ordinal), T2);
        Assert.Equal([1, 2], Changed(before, after));
        Assert.Contains(
            "comes in from X 3.5000, before 3.0000",
            Compare(before, after).Single(t => t.Tool == 2).Words,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Tools_that_are_new_gone_or_in_another_order_are_told()
    {
        var swapped = Compare(Three, Whole(T2, T1, T4));
        Assert.Single(
            swapped,
            t => t.Change == ToolChange.Moves && t.Words.Contains("order", StringComparison.Ordinal)
        );
        var without = Compare(Three, Whole(T1, T4));
        Assert.Equal(ToolChange.Gone, without.Single(t => t.Tool == 2).Change);
        var more = Compare(Three, Whole(T1, T2, Tool(3, "G1 Z-0.1 F5."), T4));
        Assert.Equal(ToolChange.Added, more.Single(t => t.Tool == 3).Change);
        Assert.Contains("meets what T3 leaves", more.Single(t => t.Tool == 4).Words, StringComparison.Ordinal);
        var twice = One(Whole(T1, T2, T4, T1), 1);
        Assert.Contains("comes in 2 times, before once", twice.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("G12.1 X1.\n", "line 17: G12.1 cannot be followed")]
    [InlineData("A90.\n", "it turns a rotary axis")]
    [InlineData("X#501\n", "line 17")]
    public void What_cannot_be_followed_makes_every_tool_count_as_changed_and_says_so(string block, string why)
    {
        var unknown = Whole(T1, T2.Replace("G99", block + "G99", StringComparison.Ordinal), T4);
        foreach (
            var compared in (IReadOnlyList<ToolCompared>[])
                [Compare(Three, unknown), Compare(unknown, Three), Compare(unknown, unknown)]
        )
        {
            Assert.Equal(3, compared.Count);
            Assert.All(compared, t => Assert.Equal(ToolChange.NotKnown, t.Change));
            Assert.All(compared, t => Assert.Contains(why, t.Words, StringComparison.Ordinal));
        }
        Assert.Empty(ProgramMotion.Of(Followed(unknown)).Paths);
    }

    [Fact]
    public void Setups_in_different_units_cannot_be_compared()
    {
        var metric = Handwheel.Tests.Jobs.Checking.Setups.From(
            "mm",
            """[{ "tool": 1, "lengthOffset": 1, "length": 100 }]"""
        );
        var compared = MotionComparison.Of(Followed(Three), Followed(Three, metric));
        Assert.All(compared, t => Assert.Equal(ToolChange.NotKnown, t.Change));
        Assert.Contains("the setup was in in and is in mm", compared[0].Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Values_of_registers_do_not_count_and_how_the_control_reads_does()
    {
        var motion = ProgramMotion.Of(Followed(Three));
        var elsewhere = ProgramMotion.Of(Followed(Three, Of("-17.5")));
        Assert.Equal(motion.Paths, elsewhere.Paths);
        Assert.Equal(motion.Cutting, elsewhere.Cutting);
        var pecks = Whole(Tool(1, "G83 X1. Z-1. R0.1 Q0.3 F5.", "G80"));
        Assert.NotEqual(
            ProgramMotion.Of(Followed(pecks)).Paths[1],
            ProgramMotion.Of(Followed(pecks, Of("-18", """ "reads": { "peckClearance": 0.05 } """))).Paths[1]
        );
    }

    [Fact]
    public void How_the_program_ends_counts_for_every_tool() =>
        Assert.Equal([1, 2, 4], Changed(Three, Three.Replace("M30", "M99", StringComparison.Ordinal)));

    [Fact]
    public void The_first_difference_is_found_far_down_a_long_program()
    {
        var moves = Enumerable.Range(0, 20_000).Select(i => $"X{(i % 2 == 0 ? "1." : "2.")} Y{Number(i)}").ToArray();
        var before = Whole(Tool(1, ["G1 Z-0.1 F20.", .. moves]));
        moves[13_000] = "X1. Y9.";
        var told = Assert.Single(Compare(before, Whole(Tool(1, ["G1 Z-0.1 F20.", .. moves]))));
        Assert.Contains("from line 13009: Y 9.0000, before 1.3000 (7.7000 in)", told.Words, StringComparison.Ordinal);
        static string Number(int i) => (i / 10_000m).ToString("0.0000", CultureInfo.InvariantCulture);
    }

    [Fact]
    public void A_value_in_a_diameter_register_is_no_change_of_the_program()
    {
        var contour = Whole(Tool(1, "G41 D1 G1 X1. Y1. F10.", "Y2.", "X2.", "G2 X3. Y1. J-1.", "G40 X4."));
        static Handwheel.Jobs.Setups.Setup With(string value) =>
            Checking.Setups.From(
                "inch",
                $$"""[{ "tool": 1, "diameter": 0.5, "lengthOffset": 1, "length": 3, "diameterOffset": 1, "diameterValue": {{value}} }]"""
            );
        var same = MotionComparison.Of(Followed(contour, With("0.5")), Followed(contour, With("0.48")));
        Assert.Equal(ToolChange.Same, Assert.Single(same).Change);
        var moved = contour.Replace("Y2.", "Y2.1", StringComparison.Ordinal);
        var changed = Assert.Single(MotionComparison.Of(Followed(contour, With("0.5")), Followed(moved, With("0.5"))));
        Assert.Contains("Y 2.1000, before 2.0000", changed.Words, StringComparison.Ordinal);
    }
}
