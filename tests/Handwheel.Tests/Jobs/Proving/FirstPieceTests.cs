using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class FirstPieceTests
{
    /// <summary>Common practice at the machine, no source.</summary>
    [Theory]
    [InlineData(CharacteristicKind.Diameter, Side.Inside, "25.000", "24.964", "12.000", false, "11.964")]
    [InlineData(CharacteristicKind.Diameter, Side.Inside, "25.000", "24.964", "6.000", true, "5.982")]
    [InlineData(CharacteristicKind.Diameter, Side.Outside, "40.000", "40.028", "12.000", false, "11.972")]
    [InlineData(CharacteristicKind.Width, Side.Outside, "40.000", "40.028", "6.000", true, "5.986")]
    [InlineData(CharacteristicKind.Wall, Side.Outside, "10.000", "10.020", "6.000", true, "5.980")]
    [InlineData(CharacteristicKind.Wall, Side.Outside, "10.000", "10.020", "12.000", false, "11.960")]
    [InlineData(CharacteristicKind.Wall, Side.Inside, "10.000", "9.980", "6.000", true, "5.980")]
    public void More_to_remove_means_a_smaller_register(
        CharacteristicKind kind,
        Side side,
        string nominal,
        string measured,
        string register,
        bool radius,
        string corrected
    )
    {
        var correction = Correction.For(
            Of(kind, side, nominal),
            Mm(measured),
            Units.Millimetre,
            Mm("0.001"),
            null,
            ("D4", Mm(register)),
            radius
        );
        Assert.Equal(("D4", corrected), (correction.Register, correction.To!.Value.ToRegisterText(Units.Millimetre)));
        Assert.Contains(corrected, correction.Words, StringComparison.Ordinal);
    }

    /// <summary>Common practice at the machine, no source.</summary>
    [Fact]
    public void A_depth_takes_the_whole_error_in_the_length_register()
    {
        var correction = Correction.For(
            Of(CharacteristicKind.Depth, null, "6.350"),
            Mm("6.290"),
            Units.Millimetre,
            Mm("0.001"),
            ("H4", Mm("118.500")),
            ("D4", Mm("12")),
            false
        );
        Assert.Equal(("H4", "118.440"), (correction.Register, correction.To!.Value.ToRegisterText(Units.Millimetre)));
    }

    [Fact]
    public void Without_a_side_or_for_a_position_no_register_is_named()
    {
        Assert.Null(
            Correction
                .For(
                    Of(CharacteristicKind.Diameter, null, "25"),
                    Mm("24.9"),
                    Units.Millimetre,
                    Mm("0.001"),
                    null,
                    ("D4", Mm("12")),
                    false
                )
                .Register
        );
        Assert.Null(
            Correction
                .For(
                    Of(CharacteristicKind.Position, null, "25"),
                    Mm("24.9"),
                    Units.Millimetre,
                    Mm("0.001"),
                    null,
                    ("D4", Mm("12")),
                    false
                )
                .Register
        );
    }

    [Fact]
    public void A_piece_that_is_out_is_corrected_and_the_next_one_measured()
    {
        var walk = new Walk().Begin().Until("first-piece.1");
        walk.Refused(new CorrectionEntered("first-piece.1", "D1", "0.4990"));
        walk.Do(new FirstPieceMeasured("first-piece.1", "0.9990", "bore gauge"), Operator);
        Assert.Contains(
            "D1 (diameter register) from 0.5000 to 0.4990",
            walk.Step("first-piece.1").Says,
            StringComparison.Ordinal
        );
        walk.Refused(new CorrectionEntered("first-piece.1", "D9", "0.4990"));
        walk.Do(new CorrectionEntered("first-piece.1", "D1", "0.4990"));
        Assert.Equal(StepState.Open, walk.Step("first-piece.1").State);
        Assert.Equal(StepState.Done, walk.Step("first-cut.tool.1.machine-z").State);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void A_small_correction_moves_the_baseline_and_opens_only_the_measuring()
    {
        var walk = new Walk().Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2400"));
        walk.Do(new CorrectionEntered("first-piece.2", "H2", "5.1150"));
        Assert.Empty(walk.ProveOut.Ledger.Hazards);
        Assert.Equal(StepState.Done, walk.Step("first-cut.tool.2.machine-z").State);
        Assert.Equal(StepState.Done, walk.Step("first-piece.1").State);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void A_large_correction_is_a_changed_length()
    {
        var walk = new Walk().Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2000"));
        walk.Do(new CorrectionEntered("first-piece.2", "H2", "5.0750"));
        Assert.NotEqual(StepState.Done, walk.Step("ready.tool.2.length").State);
        Assert.NotEqual(StepState.Done, walk.Step("air-cut.tool.2.machine-z").State);
        Assert.Equal(StepState.Done, walk.Step("air-cut.tool.1.machine-z").State);
    }

    [Fact]
    public void A_diameter_register_is_named_only_where_the_program_compensates()
    {
        Assert.Null(Bore("24.964", compensated: false).Register);
        Assert.Contains("uses no cutter compensation with D4", Bore("24.964", false).Words, StringComparison.Ordinal);
        Assert.StartsWith(
            "If the program uses cutter compensation with D4",
            Bore("24.964").Words,
            StringComparison.Ordinal
        );
        Assert.Equal("D4", Bore("24.964", true).Register);
        Assert.DoesNotContain("If the program", Bore("24.964", true).Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("24.964", "set the boring head 0.036 larger in diameter")]
    [InlineData("25.036", "set the boring head 0.036 smaller in diameter")]
    public void A_boring_bar_is_set_at_its_head(string measured, string words)
    {
        var correction = Bore(measured, null, "boring bar");
        Assert.Null(correction.Register);
        Assert.Contains(words, correction.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void The_plan_knows_which_tool_the_program_compensates()
    {
        var setup = Setup();
        var check = Check(setup);
        var told = check with
        {
            Program = check.Program with { FollowedToEnd = true },
            Tools = [.. check.Tools.Select(t => t with { DiameterOffsets = t.Tool == 1 ? [1] : [] })],
        };
        var plan = ProveOutPlan.From(Subject(), setup, told, new());
        Assert.Equal([true, false], plan.Tools.Select(t => t.Compensated));
        Assert.Equal(plan.Digest, PlanJson.Read(PlanJson.Write(plan)).Digest);
        Assert.DoesNotContain(
            "compensated",
            System.Text.Encoding.UTF8.GetString(PlanJson.Write(Plan())),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_correction_above_the_limit_is_said_first()
    {
        var walk = new Walk().Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2000"));
        Assert.Contains(
            "Out: 0.0500 IS MORE THAN THE LIMIT 0.0200: look for another cause before changing a register",
            walk.Step("first-piece.2").Says,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_depth_says_which_direction_was_assumed()
    {
        var walk = new Walk().Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2400"));
        Assert.Contains("shallower than wanted: H2 smaller", walk.Step("first-piece.2").Says, StringComparison.Ordinal);
        walk.Do(new FirstPieceMeasured("first-piece.2", "0.2600"));
        Assert.Contains("deeper than wanted: H2 larger", walk.Step("first-piece.2").Says, StringComparison.Ordinal);
    }

    [Fact]
    public void A_correction_with_the_wrong_sign_is_read_again_and_then_taken_only_with_words()
    {
        var walk = new Walk().Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2400"));
        walk.Do(new CorrectionEntered("first-piece.2", "H2", "5.1350"));
        var step = walk.Step("first-piece.2");
        Assert.Equal(StepState.Refused, step.State);
        Assert.Contains("read the register again", step.Says, StringComparison.Ordinal);
        Assert.Null(Assert.Single(walk.ProveOut.Ledger.Hazards).Difference);
        Assert.Contains(
            "write why",
            walk.Refused(new CorrectionEntered("first-piece.2", "H2", "5.1350")),
            StringComparison.Ordinal
        );
        walk.Do(new CorrectionEntered("first-piece.2", "H2", "5.1350", "tool was changed by hand"));
        Assert.Contains("not what was worked out", walk.Step("first-piece.2").Says, StringComparison.Ordinal);
        Assert.Equal([null, false, false], walk.ProveOut.FirstPiece.TakeLast(3).Select(n => n.AsWorkedOut));
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void Read_again_and_as_worked_out_it_is_taken()
    {
        var walk = new Walk().Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2400"));
        walk.Do(new CorrectionEntered("first-piece.2", "H2", "5.1350"));
        walk.Do(new CorrectionEntered("first-piece.2", "H2", "5.1150"));
        Assert.Empty(walk.ProveOut.Ledger.Hazards);
        Assert.Equal(
            (true, In(5.115m)),
            (walk.ProveOut.FirstPiece[^1].AsWorkedOut, walk.ProveOut.FirstPiece[^1].WorkedOut)
        );
    }

    [Fact]
    public void A_position_names_the_work_offset_that_the_tool_cuts_in()
    {
        var words = Correction
            .For(
                Of(CharacteristicKind.Position, null, "25"),
                Mm("24.9"),
                Units.Millimetre,
                Mm("0.001"),
                null,
                null,
                false,
                workOffsets: ["G55", "G56"]
            )
            .Words;
        Assert.Contains("the tool cuts in, G55 or G56, by 0.100", words, StringComparison.Ordinal);
    }

    /// <summary>From memory, no source: zero follows the feature's error to the other side when the dimension runs from zero to plus.</summary>
    [Theory]
    [InlineData("25.040", "-400.040", "too far to X+")]
    [InlineData("24.900", "-399.900", "too far to X−")]
    public void A_position_with_work_offset_and_axis_names_value_and_direction(string measured, string to, string says)
    {
        var correction = Correction.For(
            Of(CharacteristicKind.Position, null, "25") with
            {
                WorkOffset = "G55",
                Axis = "x",
            },
            Mm(measured),
            Units.Millimetre,
            Mm("0.001"),
            null,
            null,
            false,
            position: ("G55 x", Mm("-400"))
        );
        Assert.Equal(("G55 x", Mm(to)), (correction.Register, correction.To));
        Assert.Contains(says, correction.Words, StringComparison.Ordinal);
        Assert.Contains("look at the drawing first", correction.Words, StringComparison.Ordinal);
        Assert.True(correction.IsFor(new("G55", "x")));
        Assert.False(correction.IsFor(new("G55", "y")));
        Assert.False(correction.IsFor(new("G56", "x")));
    }

    [Fact]
    public void A_position_that_is_out_is_corrected_in_its_work_offset()
    {
        var plan = SmallShop.Plan();
        plan = plan with
        {
            Characteristics =
            [
                plan.Characteristics[0],
                plan.Characteristics[1] with
                {
                    Kind = CharacteristicKind.Position,
                    WorkOffset = "G55",
                    Axis = "x",
                },
            ],
        };
        var walk = new Walk(plan).Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2450"));
        Assert.Contains(
            "G55 x (work offset register) from -22.5000 to -22.4950",
            walk.Step("first-piece.2").Says,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "worked out for G55 x",
            walk.Refused(new CorrectionEntered("first-piece.2", "G55 y", "-9.2450")),
            StringComparison.Ordinal
        );
        walk.Do(new CorrectionEntered("first-piece.2", "G55 x", "-22.4950"));
        Assert.Equal(
            (true, In(-22.495m)),
            (walk.ProveOut.FirstPiece[^1].AsWorkedOut, walk.ProveOut.FirstPiece[^1].WorkedOut)
        );
        Assert.Equal(StepState.Open, walk.Step("first-piece.2").State);
    }

    [Fact]
    public void Another_register_than_the_one_worked_out_needs_words()
    {
        var walk = new Walk().Begin().Until("first-piece.2").Do(new FirstPieceMeasured("first-piece.2", "0.2400"));
        Assert.Contains(
            "worked out for H2",
            walk.Refused(new CorrectionEntered("first-piece.2", "H1", "5.0600")),
            StringComparison.Ordinal
        );
    }

    static Correction Bore(string measured, bool? compensated = null, string kind = "end mill") =>
        Correction.For(
            Of(CharacteristicKind.Diameter, Side.Inside, "25.000"),
            Mm(measured),
            Units.Millimetre,
            Mm("0.001"),
            null,
            ("D4", Mm("12.000")),
            false,
            compensated,
            kind
        );

    static Characteristic Of(CharacteristicKind kind, Side? side, string nominal) =>
        new()
        {
            Name = "x",
            Nominal = Mm(nominal),
            Plus = Mm("0.01"),
            Minus = Mm("0.01"),
            Kind = kind,
            Side = side,
        };

    static Length Mm(string value) =>
        Handwheel.Nc.Length.From(
            decimal.Parse(
                value,
                System.Globalization.NumberStyles.Number,
                System.Globalization.CultureInfo.InvariantCulture
            ),
            Units.Millimetre
        );
}
