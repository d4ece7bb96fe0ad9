using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class HandoffTests
{
    static Walk HandedOverWhileRaised() =>
        new Walk().Begin().Until("air-cut.tool.1.position").Do(new HandedOver(Words()));

    static Walk ReadBack(Walk walk, Actor by)
    {
        foreach (
            var step in walk
                .ProveOut.Steps.Where(s => s is { Phase: Phase.ReadBack, Takes: Takes.Reading, State: StepState.Open })
                .ToList()
        )
            walk.Do(new ReadingTyped(step.Id, walk.Shown(step.Id)), by);
        return walk;
    }

    [Fact]
    public void A_blank_heading_is_refused_and_none_is_allowed()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position");
        var words = Words();
        words["half-cut"] = " ";
        Assert.Contains("A part half cut", walk.Refused(new HandedOver(words)), StringComparison.Ordinal);
        words.Remove("half-cut");
        walk.Refused(new HandedOver(words));
        walk.Do(new HandedOver(Words()));
        Assert.Equal(Standing.HandoffOpen, walk.ProveOut.Standing);
    }

    [Fact]
    public void A_raised_register_is_named_before_the_handoff_is_signed()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position");
        var words = Words();
        words["raised"] = "None.";
        Assert.Contains("does not name G55 Z", walk.Refused(new HandedOver(words)), StringComparison.Ordinal);
        words["raised"] = "something is up by 3 inches";
        Assert.Contains("does not name G55 Z", walk.Refused(new HandedOver(words)), StringComparison.Ordinal);
        words["raised"] = "g55 by 3.0000, setter";
        walk.Do(new HandedOver(words));
    }

    [Fact]
    public void With_nothing_raised_none_is_an_answer()
    {
        var walk = new Walk().Begin().Until("ready.tool.1");
        var words = Words();
        words["raised"] = "none";
        walk.Do(new HandedOver(words));
    }

    [Fact]
    public void What_will_be_read_back_is_known_before_the_handoff()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position");
        var before = walk.ProveOut.ToReadBack.Select(r => $"read-back.{r.Name}.{r.Axis}").ToList();
        Assert.NotEmpty(before);
        walk.Do(new HandedOver(Words()));
        var asked = walk.ProveOut.Steps.Where(s => s is { Phase: Phase.ReadBack, Takes: Takes.Reading });
        Assert.Equal(asked.Select(s => s.Id).Order(StringComparer.Ordinal), before.Order(StringComparer.Ordinal));
    }

    static Walk HandedOverWith(string lockedOut)
    {
        var words = Words();
        words["locked-out"] = lockedOut;
        return new Walk().Begin().Until("air-cut.tool.1.position").Do(new HandedOver(words));
    }

    [Theory]
    [InlineData("None.", null)]
    [InlineData("ninguno", null)]
    [InlineData("door switch bypassed.", "door switch bypassed")]
    [InlineData("door switch bypassed\n\n main switch: lock 4 ", "door switch bypassed; main switch: lock 4")]
    public void What_is_locked_out_stands_after_the_takeover_too_until_somebody_signs_that_it_is_not(
        string said,
        string? shown
    )
    {
        var walk = HandedOverWith(said);
        Assert.Equal(shown, walk.ProveOut.LockedOut?.InShort);
        ReadBack(walk, NightSetter).Do(new TookOver(), NightSetter);
        Assert.Equal(shown, walk.ProveOut.LockedOut?.InShort);
        Assert.Equal(shown is null ? null : Setter, walk.ProveOut.LockedOut?.By);
        if (shown is null)
        {
            Assert.Contains(
                "Nothing stands here as locked out",
                walk.Refused(new LockoutLifted("looked"), NightSetter),
                StringComparison.Ordinal
            );
            return;
        }
        walk.Refused(new LockoutLifted(" "), NightSetter);
        walk.Do(new LockoutLifted("key back, looked with the day setter"), NightSetter);
        Assert.Null(walk.ProveOut.LockedOut);
    }

    [Fact]
    public void It_can_be_signed_for_while_the_handoff_is_open_and_the_next_handoff_says_anew()
    {
        Assert.Null(HandedOverWith("door switch").Do(new LockoutLifted("key back")).ProveOut.LockedOut);
        var walk = ReadBack(HandedOverWith("door switch"), NightSetter).Do(new TookOver(), NightSetter);
        var words = Words();
        words["locked-out"] = "door switch, and the main switch";
        walk.Do(new HandedOver(words), NightSetter);
        Assert.Equal("door switch, and the main switch", walk.ProveOut.LockedOut?.Words);
        Assert.Equal(NightSetter, walk.ProveOut.LockedOut?.By);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_is_locked_out_outlives_the_prove_out_and_the_next_begins_with_it(bool released)
    {
        var walk = ReadBack(HandedOverWith("door switch"), NightSetter).Do(new TookOver(), NightSetter);
        if (released)
            walk.Until();
        else
            walk.Do(new Abandoned("wrong material"));
        Assert.Equal(released ? Standing.Released : Standing.Abandoned, walk.ProveOut.Standing);
        Assert.Equal("door switch", walk.ProveOut.LockedOut?.Words);

        var next = new Walk();
        next.Do(new Begun(next.ProveOut.Plan.Digest, walk.ProveOut.LockedOut));
        Assert.Equal(walk.ProveOut.LockedOut, next.ProveOut.LockedOut);
        Assert.Null(next.Do(new LockoutLifted("key back")).ProveOut.LockedOut);
    }

    [Fact]
    public void A_prove_out_can_be_abandoned_while_the_handoff_is_open_and_what_is_raised_stays_a_hazard()
    {
        var walk = HandedOverWith("none");
        walk.Refused(new Abandoned("wrong material"), Operator);
        walk.Do(new Abandoned("wrong material"));
        Assert.Equal((Standing.Abandoned, null), (walk.ProveOut.Standing, walk.ProveOut.Handoff));
        Assert.Contains(walk.ProveOut.Ledger.Hazards, h => h.Raised);
    }

    [Fact]
    public void After_the_end_it_is_signed_for_once_and_the_end_stays_what_it_was()
    {
        var walk = ReadBack(HandedOverWith("door switch"), NightSetter).Do(new TookOver(), NightSetter);
        walk.Do(new Abandoned("wrong material"));
        var end = walk.Refused(new Note("a note"));
        Assert.Contains("abandoned", end, StringComparison.Ordinal);
        walk.Refused(new LockoutLifted(" "), NightSetter);
        walk.Do(new LockoutLifted("key back"), NightSetter);
        Assert.Null(walk.ProveOut.LockedOut);
        Assert.Equal(Standing.Abandoned, walk.ProveOut.Standing);
        Assert.Equal(end, walk.Refused(new Note("a note")));
        Assert.Equal(end, walk.Refused(new LockoutLifted("again"), NightSetter));
    }

    [Fact]
    public void A_handoff_that_says_none_does_not_sign_it_off()
    {
        var walk = ReadBack(HandedOverWith("door switch"), NightSetter).Do(new TookOver(), NightSetter);
        walk.Do(new HandedOver(Words()), NightSetter);
        Assert.Equal(("door switch", Setter), (walk.ProveOut.LockedOut?.Words, walk.ProveOut.LockedOut?.By));
    }

    [Fact]
    public void What_is_locked_out_is_one_line_of_the_board() =>
        Assert.Equal(new string('x', 69) + "…", HandedOverWith(new string('x', 300)).ProveOut.LockedOut!.InShort);

    [Fact]
    public void Findings_that_nobody_has_settled_are_not_none()
    {
        var plan = Plan(
            findings: new Finding
            {
                Id = "tap-feed",
                Level = Level.Check,
                Line = 12,
                Message = "too fast",
                Remedy = "",
            }
        );
        var walk = new Walk(plan).Begin();
        Assert.Contains("Look at: tap feed", walk.Refused(new HandedOver(Words())), StringComparison.Ordinal);
        walk.Do(new FindingsSeen("ready.seen.tap-feed")).Do(new HandedOver(Words()));
    }

    [Fact]
    public void Nothing_goes_on_before_the_incoming_person_read_back_and_signed()
    {
        var walk = HandedOverWhileRaised();
        walk.Refused(new Ticked("air-cut.tool.1.position"));
        walk.Refused(new Ticked("air-cut.tool.1.position"), NightSetter);
        Assert.Contains("Read back first", walk.Refused(new TookOver(), NightSetter), StringComparison.Ordinal);
        walk.Refused(new ReadingTyped("read-back.G55.z", "-15.1250"), Setter);
        ReadBack(walk, NightSetter);
        walk.Refused(new TookOver(), Setter);
        walk.Refused(new TookOver(), Operator);
        walk.Do(new TookOver("which clamp: the left one"), NightSetter);
        Assert.Equal(Standing.UnderWay, walk.ProveOut.Standing);
        Assert.DoesNotContain(walk.ProveOut.Steps, s => s.Phase == Phase.ReadBack);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void Every_register_of_the_program_is_read_back()
    {
        var asked = HandedOverWhileRaised().ProveOut.Steps.Where(s => s.Phase == Phase.ReadBack).Select(s => s.Id);
        string[] expected =
        [
            "read-back.G55.x",
            "read-back.G55.y",
            "read-back.G55.z",
            "read-back.common.x",
            "read-back.common.y",
            "read-back.common.z",
            "read-back.shift.x",
            "read-back.shift.y",
            "read-back.shift.z",
            "read-back.H1.length",
            "read-back.H2.length",
        ];
        Assert.Equal(expected, asked);
    }

    [Fact]
    public void A_mismatch_is_taken_over_as_a_hazard_and_stops_the_air_cut()
    {
        var walk = HandedOverWhileRaised();
        walk["G55 Z"] = -18.125m;
        walk.Do(new ReadingTyped("read-back.G55.z", "-18.1250"), NightSetter);
        Assert.Equal(StepState.ReadAgain, walk.Step("read-back.G55.z").State);
        walk.Do(new ReadingTyped("read-back.G55.z", "-18.1250"), NightSetter);
        Assert.Equal(StepState.Hazard, walk.Step("read-back.G55.z").State);
        Assert.DoesNotContain("No usual slip", walk.Step("read-back.G55.z").Says, StringComparison.Ordinal);
        ReadBack(walk, NightSetter).Do(new TookOver(), NightSetter);
        Assert.StartsWith(
            "G55 Z does not hold the raise any more",
            Assert.Single(walk.ProveOut.RaisesLost).Why,
            StringComparison.Ordinal
        );
        Assert.NotEmpty(walk.ProveOut.WhyNot(new Ticked("air-cut.tool.1.position"), NightSetter));
        Assert.Equal(StepState.Open, walk.Step("air-cut.raised.G55.z").State);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
        Assert.Empty(walk.ProveOut.RaisesLost);
    }

    [Fact]
    public void Somebody_takes_over_alone_and_the_record_says_so()
    {
        var walk = new Walk()
            .Begin()
            .Until("air-cut.tool.1.position")
            .Do(new TakingOverAlone("gone home sick"), NightSetter);
        walk.Refused(new ReadingTyped("read-back.G55.z", "-15.1250"), Operator);
        ReadBack(walk, NightSetter).Do(new TookOver(), NightSetter);
        Assert.Contains(walk.ProveOut.Entries, e => e.Act is TakingOverAlone { Meaning: "took over alone" });
    }

    [Fact]
    public void Who_handed_over_may_go_on_after_all()
    {
        var walk = HandedOverWhileRaised();
        walk.Refused(new HandoffWithdrawn("not yet"), Operator);
        walk.Do(new HandoffWithdrawn("one more tool first")).Do(new Ticked("air-cut.tool.1.position"));
    }

    [Fact]
    public void What_was_seen_at_the_read_back_stays_until_somebody_writes_what_was_done_about_it()
    {
        var walk = HandedOverWhileRaised()
            .Do(new Differs("read-back.G55.x", "another number than the sheet"), NightSetter);
        Assert.Contains(
            "what was done",
            walk.Refused(new HandoffWithdrawn("one more tool first")),
            StringComparison.Ordinal
        );
        walk.Do(new Interrupted("alarm"), NightSetter);
        Assert.Equal(StepState.Held, walk.Step("read-back.G55.x").State);
        walk.Do(new DifferenceSettled("read-back.G55.x", "the sheet was the old one"), NightSetter);
        Assert.Equal(StepState.Open, walk.Step("read-back.G55.x").State);
        walk.Do(new HandoffWithdrawn("one more tool first"));
    }

    [Fact]
    public void What_differs_stays_held_through_a_change()
    {
        var walk = new Walk()
            .Begin()
            .Until("air-cut.tool.1.position")
            .Do(new Differs("air-cut.tool.1.position", "over the clamp"));
        walk.Do(new ToolReplaced(1, "chipped"));
        Assert.Equal(StepState.Held, walk.Step("air-cut.tool.1.position").State);
        Assert.Contains("over the clamp", walk.Step("air-cut.tool.1.position").Says, StringComparison.Ordinal);
    }

    [Fact]
    public void After_an_interruption_the_registers_are_asked_for_again()
    {
        var walk = new Walk().Begin().Until("first-cut.tool.2.entry").Do(new Interrupted("power loss"), Operator);
        Assert.Contains(
            "read back first",
            walk.Refused(new Ticked("first-cut.tool.2.entry")),
            StringComparison.Ordinal
        );
        ReadBack(walk, Operator);
        walk.Refused(new Ticked("read-back.restart"));
        walk.Do(new Ticked("read-back.referenced"), Operator)
            .Do(new Ticked("read-back.restart", "line 20, T2 M6"), Operator);
        walk.Do(new Ticked("first-cut.tool.2.entry"));
    }
}
