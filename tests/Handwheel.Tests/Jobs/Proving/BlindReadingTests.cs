using System.Text;
using System.Text.Json;
using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class BlindReadingTests
{
    static Walk AtRestore() => new Walk().Begin().Until("restore.offset.G55.z");

    [Fact]
    public void Wrong_once_says_nothing_but_to_read_again_and_right_then_is_accepted()
    {
        var walk = AtRestore();
        walk.Do(new ReadingTyped("restore.offset.G55.z", "-15.1250"));
        var step = walk.Step("restore.offset.G55.z");
        Assert.Equal(
            (StepState.ReadAgain, "Read the display again and type it.", (string?)null),
            (step.State, step.Says, step.Shows)
        );
        walk.Do(new ReadingTyped("restore.offset.G55.z", "-18.1250"));
        step = walk.Step("restore.offset.G55.z");
        Assert.Equal((StepState.Done, 2, false), (step.State, step.Attempts, step.NotBlind));
        Assert.Equal(
            ["-15.1250", "-18.1250"],
            walk.ProveOut.Ledger.Readings.Where(r => r is { Register: "G55", Axis: "z" })
                .TakeLast(2)
                .Select(r => r.Typed)
        );
    }

    [Fact]
    public void Wrong_twice_shows_the_value_and_the_cause_and_later_tries_are_not_blind()
    {
        var walk = AtRestore();
        walk.Do(new ReadingTyped("restore.offset.G55.z", "-15.1250"))
            .Do(new ReadingTyped("restore.offset.G55.z", "-12.1250"));
        var step = walk.Step("restore.offset.G55.z");
        Assert.Equal((StepState.Refused, "-18.1250"), (step.State, step.Shows));
        Assert.Contains("3.0000 was added once more", step.Says, StringComparison.Ordinal);
        Assert.NotEmpty(walk.ProveOut.WhyNot(new Ticked("first-cut.tool.1.entry"), Setter));
        walk.Do(new ReadingTyped("restore.offset.G55.z", "-18.125"));
        step = walk.Step("restore.offset.G55.z");
        Assert.Equal((StepState.Done, true, 3), (step.State, step.NotBlind, step.Attempts));
    }

    [Theory]
    [InlineData("ready.offset.G55.z", "-20.0000")]
    [InlineData("air-cut.raised.G55.z", "-20.0000")]
    [InlineData("ready.tool.1.length", "4.0000")]
    public void Wrong_once_is_a_hazard_without_an_amount_until_it_was_read_again(string step, string typed)
    {
        var walk = new Walk().Begin().Until(step).Do(new ReadingTyped(step, typed));
        var hazard = Assert.Single(walk.ProveOut.Ledger.Hazards);
        Assert.Null(hazard.Difference);
        Assert.DoesNotMatch("[0-9][.][0-9]", hazard.Text);
        Assert.Contains("is to be read again", hazard.Text, StringComparison.Ordinal);
        walk.Do(new ReadingTyped(step, typed));
        Assert.NotNull(Assert.Single(walk.ProveOut.Ledger.Hazards).Difference);
    }

    [Fact]
    public void Wrong_once_neither_clears_nor_changes_the_raise_that_stands()
    {
        foreach (var typed in (string[])["-12.1250", "-15.1250", "-18.1249"])
        {
            var walk = AtRestore().Do(new ReadingTyped("restore.offset.G55.z", typed));
            Assert.Equal("G55 Z still raised 3.0000 in", Assert.Single(walk.ProveOut.Ledger.Hazards).Text);
            walk.Refused(new Ticked("first-cut.tool.1.entry"));
        }
    }

    [Fact]
    public void A_raise_that_was_put_back_wrong_is_a_raise_until_the_register_reads_its_baseline()
    {
        var walk = AtRestore()
            .Do(new ReadingTyped("restore.offset.G55.z", "-18.0250"))
            .Do(new ReadingTyped("restore.offset.G55.z", "-18.0250"));
        var hazard = Assert.Single(walk.ProveOut.Ledger.Hazards);
        Assert.Equal("G55 Z was raised, was not put back and is off by 0.1000 in", hazard.Text);
        Assert.True(hazard.Raised);
        var parked = walk.ProveOut.Steps.First(s => s.Phase == Phase.Parking && s.Takes == Takes.Tick);
        Assert.Contains("Raised registers first", walk.Refused(new Ticked(parked.Id)), StringComparison.Ordinal);
        walk.Do(new ReadingTyped("restore.offset.G55.z", "-18.1250"));
        Assert.Empty(walk.ProveOut.Ledger.Hazards);
    }

    [Fact]
    public void A_Z_that_is_too_low_is_said_to_bring_the_tool_lower()
    {
        var low = new ReadingTyped("restore.offset.G55.z", "-18.2250");
        var walk = AtRestore().Do(low).Do(low);
        Assert.Equal(
            "G55 Z was raised, was not put back and is off by -0.1000 in: the tool goes that much lower",
            Assert.Single(walk.ProveOut.Ledger.Hazards).Text
        );
    }

    [Fact]
    public void The_baseline_read_back_once_while_raised_clears_nothing()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position").Do(new HandedOver(Words()));
        walk.Do(new ReadingTyped("read-back.G55.z", "-18.1250"), NightSetter);
        Assert.Equal("G55 Z still raised 3.0000 in", Assert.Single(walk.ProveOut.Ledger.Hazards).Text);
        walk.Do(new HandoffWithdrawn("one more tool first"));
        Assert.Contains("G55 Z", walk.Refused(new LengthChanged(1, "measured again")), StringComparison.Ordinal);
    }

    [Fact]
    public void Another_job_does_not_begin_after_one_wrong_reading()
    {
        var walk = new Walk().Begin().Until("ready.offset.G55.z");
        walk.Do(new ReadingTyped("ready.offset.G55.z", "-20.0000")).Do(new Abandoned("no stock"), Supervisor);
        var next = new Walk(Plan(1) with { Subject = Subject(id: 2) }, walk.ProveOut.Ledger);
        var reasons = next.Refused(new Begun(next.ProveOut.Plan.Digest));
        Assert.Contains("G55 Z was read and is not as it should be", reasons, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("-18,1250")]
    [InlineData("-18.12505")]
    [InlineData("1.8e1")]
    [InlineData("-18.1250 in")]
    [InlineData("")]
    public void What_is_no_number_of_the_register_is_refused_and_not_counted(string typed)
    {
        var walk = AtRestore();
        walk.Refused(new ReadingTyped("restore.offset.G55.z", typed));
        Assert.Equal(0, walk.Step("restore.offset.G55.z").Attempts);
    }

    [Fact]
    public void The_typed_value_is_kept_as_typed()
    {
        var walk = new Walk().Begin().Until("ready.offset.G55.x").Do(new ReadingTyped("ready.offset.G55.x", "-22.50"));
        Assert.Equal("-22.50", walk.ProveOut.Ledger.Last(new("G55", "x"))!.Typed);
    }

    [Fact]
    public void Nothing_that_a_page_gets_holds_the_value_of_a_register_still_to_be_read()
    {
        var walk = new Walk().Begin();
        while (walk.ProveOut.Standing == Standing.UnderWay)
        {
            var page = JsonSerializer.Serialize(walk.ProveOut.Steps.Where(s => s.State is not StepState.Refused));
            foreach (
                var open in walk.ProveOut.Steps.Where(s => s.Blind && s.State is StepState.Open or StepState.Waiting)
            )
            {
                Assert.Null(open.Shows);
                if (open.Id.EndsWith("G55.z", StringComparison.Ordinal))
                {
                    Assert.DoesNotContain("18.125", page, StringComparison.Ordinal);
                    Assert.DoesNotContain("15.125", page, StringComparison.Ordinal);
                }
                if (open.Id == "first-cut.tool.1.machine-z")
                    Assert.DoesNotContain("-12.9625", page, StringComparison.Ordinal);
            }
            var before = walk.ProveOut.Last;
            var next = walk.ProveOut.Steps.First(s => s.State == StepState.Open && s.Phase != Phase.Parking);
            walk.Do(walk.Right(next), next.Id == "release.signed" ? Supervisor : Setter);
            Assert.Equal(before + 1, walk.ProveOut.Last);
        }
    }

    [Fact]
    public void Reasons_do_not_give_the_value_away()
    {
        var walk = AtRestore();
        var reasons = walk.Refused(new Ticked("first-cut.tool.1.entry"));
        Assert.Contains("G55 Z was raised and has not been read put back", reasons, StringComparison.Ordinal);
        Assert.DoesNotContain("18.125", reasons, StringComparison.Ordinal);
    }

    [Fact]
    public void A_baseline_that_differs_is_the_setters_to_decide_within_the_limit()
    {
        var walk = new Walk().Begin().Until("ready.offset.G55.z");
        walk["G55 Z"] = -18.1235m;
        walk.Do(new ReadingTyped("ready.offset.G55.z", "-18.1235"));
        Assert.Contains(
            "nothing to decide",
            walk.Refused(new BaselineDecided("ready.offset.G55.z", true, "set today")),
            StringComparison.Ordinal
        );
        walk.Do(new ReadingTyped("ready.offset.G55.z", "-18.1235"));
        walk.Refused(new BaselineDecided("ready.offset.G55.z", true, "set today"), Operator);
        walk.Do(new BaselineDecided("ready.offset.G55.z", true, "set today with the edge finder"));
        Assert.Empty(walk.ProveOut.Ledger.Hazards);
        walk.Until("air-cut.raised.G55.z");
        walk["G55 Z"] = -15.1235m;
        walk.Until("restore.offset.G55.z");
        walk.Do(new ReadingTyped("restore.offset.G55.z", "-18.1250"));
        Assert.Equal(StepState.ReadAgain, walk.Step("restore.offset.G55.z").State);
        walk["G55 Z"] = -18.1235m;
        walk.Do(new ReadingTyped("restore.offset.G55.z", "-18.1235"));
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void A_baseline_far_from_the_setup_needs_another_check()
    {
        var walk = new Walk().Begin().Until("ready.offset.G55.z");
        walk.Do(new ReadingTyped("ready.offset.G55.z", "-17.0000"))
            .Do(new ReadingTyped("ready.offset.G55.z", "-17.0000"));
        Assert.Contains(
            "check again",
            walk.Refused(new BaselineDecided("ready.offset.G55.z", true, "set today")),
            StringComparison.Ordinal
        );
        walk.Do(new BaselineDecided("ready.offset.G55.z", false, "typed wrong by hand"))
            .Do(new ReadingTyped("ready.offset.G55.z", "-18.1250"));
        Assert.True(walk.Step("ready.offset.G55.z").NotBlind);
    }

    [Fact]
    public void What_the_register_was_last_right_with_is_said_before_it_is_put_to_an_older_setup()
    {
        var before = new Walk().Begin().Until("ready.offset.G55.z").ProveOut.Ledger.Readings[^1];
        var corrected = Ledger.Empty.With(
            before with
            {
                Register = "H1",
                Axis = "length",
                Value = In(5.0645m),
                ProveOut = Guid.NewGuid(),
                Expectation = new(In(5.0645m), In(5.0645m)),
            }
        );
        var walk = new Walk(ledger: corrected).Begin().Until("ready.tool.1.length");
        walk["H1 length"] = 5.0645m;
        walk.Do(new ReadingTyped("ready.tool.1.length", "5.0645"));
        Assert.DoesNotContain("5.06", walk.Step("ready.tool.1.length").Says, StringComparison.Ordinal);
        walk.Do(new ReadingTyped("ready.tool.1.length", "5.0645"));
        Assert.Contains(
            "was last right on this machine",
            walk.Step("ready.tool.1.length").Says,
            StringComparison.Ordinal
        );
        Assert.Contains("2 Mar 2026", walk.Step("ready.tool.1.length").Says, StringComparison.Ordinal);
        walk.Do(new BaselineDecided("ready.tool.1.length", true, "corrected when it was proved"));
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void What_is_read_after_the_release_changes_nothing_of_what_was_signed()
    {
        var walk = new Walk().Begin().Until();
        Assert.Equal(Standing.Released, walk.ProveOut.Standing);
        var last = walk.ProveOut.Ledger.Last(new("H1", "length"))!;
        var later = walk.ProveOut.Ledger.With(
            last with
            {
                Value = last.Value + last.Value,
                At = last.At.AddDays(1),
                ProveOut = Guid.NewGuid(),
                Expectation = last.Expectation with { Asked = null },
            }
        );
        var again = ProveOut.Replay(walk.ProveOut.Plan, walk.ProveOut.Entries, later);
        Assert.Equal(
            walk.ProveOut.Steps.Select(s => (s.Id, s.State, s.Typed)),
            again.Steps.Select(s => (s.Id, s.State, s.Typed))
        );
        Assert.Equal(later.Last(new("H1", "length")), again.Ledger.Last(new("H1", "length")));
        Assert.NotEmpty(again.Ledger.Hazards);
    }

    [Fact]
    public void Another_programs_block_is_not_taken()
    {
        var walk = new Walk().Begin().Until("ready.program");
        walk.Do(new LineTyped("ready.program", "1234", "N40 G43 H2 Z9."));
        Assert.Equal(StepState.ReadAgain, walk.Step("ready.program").State);
        walk.Do(new LineTyped("ready.program", "1233", "N40 G43 H2 Z9."));
        Assert.Equal(StepState.Refused, walk.Step("ready.program").State);
        var other = ProgramInControl.ComparableDigest("%\nO1234\nM30\n%"u8);
        walk.Do(new SavedProgramCompared("ready.program", other));
        Assert.Equal(StepState.Refused, walk.Step("ready.program").State);
        var saved = ProgramInControl.ComparableDigest(
            "%\r\nO1234(BRACKET)\r\nN10G90G20G17\r\nN20T1M6\r\nN30G55G0X1.Y1.\r\nN40G43H1Z0.1\r\nN50G1Z-0.25F20.\r\nN60M30\r\n%\r\n"u8
        );
        walk.Do(new SavedProgramCompared("ready.program", saved));
        Assert.Equal(StepState.Done, walk.Step("ready.program").State);
    }

    [Fact]
    public void A_file_saved_from_another_program_is_said_at_once_and_no_block_that_is_right_clears_it()
    {
        var walk = new Walk().Begin().Until("ready.program");
        var other = new SavedProgramCompared(
            "ready.program",
            ProgramInControl.ComparableDigest("O1234\nM30"u8),
            new(2, "N10 G90", "M30")
        );
        var program = walk.ProveOut.Plan.Subject.Programs[0];
        var block = new LineTyped("ready.program", program.Number, program.AskedBlock);
        var step = walk.Do(other).Step("ready.program");
        Assert.Equal(StepState.Refused, step.State);
        Assert.EndsWith(
            "line 2 of the saved file: “M30”; the checked file has “N10 G90” there.",
            step.Says,
            StringComparison.Ordinal
        );
        Assert.Contains(other.ComparableSha256[..12] + "…", step.Typed, StringComparison.Ordinal);
        Assert.Equal(other.ComparableSha256, walk.ProveOut.Tries[^1].Typed);
        Assert.Contains("is not the checked one", walk.Refused(block), StringComparison.Ordinal);

        var loaded = new Walk().Begin().Until("ready.program").Do(other);
        loaded.Do(new SavedProgramCompared("ready.program", program.ComparableSha256));
        Assert.Equal(StepState.Done, loaded.Step("ready.program").State);

        walk.Do(new Differs("ready.program", "the old revision was in the control"));
        walk.Do(new DifferenceSettled("ready.program", "the checked file was loaded")).Do(block);
        Assert.Equal(StepState.Done, walk.Step("ready.program").State);
    }

    [Theory]
    [InlineData(
        "%\nO1\nG0 X1\nM30\n%",
        "O1\r\n\r\nG0X1.\r\nM30",
        "The first difference is in line 3 of the saved file: “G0X1.”; the checked file has “G0 X1” there."
    )]
    [InlineData("O1\nG0 X1\nM30", "o1\nG0X1", "The saved file ends where the checked one goes on with “M30”.")]
    [InlineData(
        "O1\nM30",
        "O1\nM30\nG0 Z-9.",
        "The checked file ends where the saved one goes on, in its line 3, with “G0 Z-9.”."
    )]
    [InlineData("%\nO1\n\nM30\n%", "O 1\r\nM30\r\n", null)]
    public void The_first_block_that_differs_is_named(string had, string saved, string? text) =>
        Assert.Equal(
            text,
            ProgramInControl.FirstDifference(Encoding.UTF8.GetBytes(had), Encoding.UTF8.GetBytes(saved))?.Text
        );

    [Fact]
    public void Something_taller_than_described_is_not_taken()
    {
        var walk = new Walk().Begin().Until("ready.table");
        walk.Do(new ReadingTyped("ready.table", "1.6")).Do(new ReadingTyped("ready.table", "1.6"));
        Assert.Contains(
            "higher than the raise was worked out for",
            walk.Step("ready.table").Says,
            StringComparison.Ordinal
        );
        walk.Do(new ReadingTyped("ready.table", "0.77"));
        Assert.Equal(StepState.Done, walk.Step("ready.table").State);
    }

    [Fact]
    public void Too_fast_a_rapid_is_not_taken()
    {
        var walk = new Walk().Begin().Until("ready.machine.rapid");
        walk.Do(new ReadingTyped("ready.machine.rapid", "100"));
        Assert.Equal(StepState.Refused, walk.Step("ready.machine.rapid").State);
        walk.Do(new ReadingTyped("ready.machine.rapid", "50"));
        Assert.Equal(StepState.Done, walk.Step("ready.machine.rapid").State);
    }
}
