using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class ChangeTests
{
    static string[] Reopened(Walk walk, Act act, Actor? by = null)
    {
        var done = walk.ProveOut.Steps.Where(s => s.State == StepState.Done).Select(s => s.Id).ToHashSet();
        var ledger = walk.ProveOut.Ledger.Readings;
        walk.Do(act, by);
        Assert.Equal(ledger, walk.ProveOut.Ledger.Readings);
        return [.. walk.ProveOut.Steps.Where(s => done.Contains(s.Id) && s.State != StepState.Done).Select(s => s.Id)];
    }

    [Fact]
    public void A_replaced_tool_opens_its_own_cards_and_what_follows_and_no_other_tools()
    {
        var walk = new Walk().Begin().Until("first-cut.cut");
        string[] expected =
        [
            "ready.tool.2",
            "ready.tool.2.length",
            "ready.signed",
            "air-cut.raised.G55.z",
            "air-cut.tool.2.approach",
            "air-cut.tool.2.machine-z",
            "air-cut.tool.2.gauge",
            "air-cut.ran",
            "air-cut.signed",
            "first-cut.tool.2.machine-z",
            "first-cut.tool.2.entry",
        ];
        Assert.Equal(expected, Reopened(walk, new ToolReplaced(2, "a flute broke")));
        Assert.Contains("a flute broke", walk.Step("air-cut.tool.2.machine-z").Says, StringComparison.Ordinal);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void Another_raise_inside_the_window_opens_what_rests_on_it()
    {
        var walk = new Walk().Begin().Until("air-cut.ran");
        Assert.Contains("2.2500", walk.Refused(new RaiseChosen("2.0000", "shorter block")), StringComparison.Ordinal);
        Assert.Contains("6.5000", walk.Refused(new RaiseChosen("7", "longer block")), StringComparison.Ordinal);
        walk.Refused(new RaiseChosen("4", "longer block"), Operator);
        var reopened = Reopened(walk, new RaiseChosen("4", "only a 4 in block here"));
        Assert.Contains("air-cut.raised.G55.z", reopened);
        Assert.Contains("air-cut.tool.1.machine-z", reopened);
        Assert.DoesNotContain("air-cut.tool.1.position", reopened);
        Assert.DoesNotContain("ready.signed", reopened);
        walk["G55 Z"] = -14.125m;
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void Holding_that_was_moved_opens_the_table_and_the_clearances()
    {
        var reopened = Reopened(new Walk().Begin().Until("first-cut.cut"), new HoldingChanged("left clamp turned"));
        Assert.Contains("ready.table", reopened);
        Assert.Contains("air-cut.tool.1.position", reopened);
        Assert.DoesNotContain("air-cut.tool.1.machine-z", reopened);
        Assert.DoesNotContain("ready.offset.G55.z", reopened);
    }

    [Fact]
    public void A_work_offset_set_anew_opens_its_reading_and_what_was_placed_by_it()
    {
        var reopened = Reopened(
            new Walk().Begin().Until("first-cut.cut"),
            new BaselineChanged("G55", "x", "indicated again")
        );
        Assert.Contains("ready.offset.G55.x", reopened);
        Assert.Contains("restore.offset.G55.x", reopened);
        Assert.Contains("air-cut.tool.1.position", reopened);
        Assert.DoesNotContain("air-cut.tool.1.machine-z", reopened);
        Assert.DoesNotContain("ready.offset.G55.y", reopened);
    }

    [Fact]
    public void While_raised_nothing_is_measured_or_set()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position");
        Assert.Contains(
            "raise in its length",
            walk.Refused(new LengthChanged(1, "touched off")),
            StringComparison.Ordinal
        );
        walk.Refused(new BaselineChanged("G55", "z", "touched off"));
        walk.Do(new ToolReplaced(1, "broke"));
        Assert.Contains(
            "would hold the raise",
            walk.Refused(new ReadingTyped("ready.tool.1.length", "5.0625")),
            StringComparison.Ordinal
        );
        walk["G55 Z"] = -18.125m;
        walk.Do(new ReadingTyped("put-back.G55.z", "-18.1250")).Do(new ReadingTyped("ready.tool.1.length", "5.0625"));
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void Another_revision_of_the_program_opens_the_tools_that_move_differently()
    {
        static ProveOutSubject Moving(string second, byte[]? program = null) =>
            Subject(Purpose.Prove, program) with
            {
                Motions = new Dictionary<int, string> { [1] = "same", [2] = second },
            };
        var setup = Setup();
        var first = ProveOutPlan.From(Moving("old"), setup, Check(setup), new() { ReadWear = false });
        var second = first.Revised(
            Moving("new", "%\nO1234\nN10 T1 M6\nN20 T2 M6\nM30\n"u8.ToArray()),
            setup,
            Check(setup)
        );
        var walked = new Walk(first).Begin().Until("first-cut.cut").ProveOut;
        var before = ProveOut.Replay(second, walked.Entries, walked.Ledger);
        Assert.Empty(before.Unexplained);
        Assert.Same(first, before.Plan);
        var after = before.Apply(
            new(
                before.Last + 1,
                Morning.AddDays(1),
                "Europe/Vienna",
                Programmer,
                "desk",
                before.Last,
                new ProgramChanged(second.Digest, "deeper pocket")
            )
        );
        var open = after.Steps.Where(s => s.State is StepState.Open or StepState.Waiting).Select(s => s.Id).ToList();
        Assert.Contains("ready.program", open);
        Assert.Contains("air-cut.tool.2.machine-z", open);
        Assert.Contains("first-cut.tool.2.entry", open);
        Assert.DoesNotContain("air-cut.tool.1.machine-z", open);
        Assert.DoesNotContain("ready.tool.2.length", open);
        Assert.NotEmpty(before.WhyNot(new ProgramChanged("another", "x"), Programmer));
    }

    [Fact]
    public void An_edit_that_moves_nothing_opens_only_the_list_of_edits()
    {
        var walk = new Walk().Begin().Until("release.signed");
        Assert.Equal(
            ["release.edits"],
            Reopened(walk, new EditNoted(22, "N22 G1 Z-0.25 F20.", "N22 G1 Z-0.25 F15.", "chatter"))
        );
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
        Assert.Single(walk.ProveOut.Edits);
    }

    [Fact]
    public void An_edit_that_moves_the_tool_opens_its_cards()
    {
        var reopened = Reopened(
            new Walk().Begin().Until("first-cut.cut"),
            new EditNoted(21, "N21 G0 Z0.1", "N21 G0 Z0.05", "long approach")
        );
        Assert.Contains("air-cut.tool.2.machine-z", reopened);
        Assert.DoesNotContain("air-cut.tool.1.machine-z", reopened);
    }

    [Fact]
    public void What_differs_is_held_until_somebody_writes_what_was_done()
    {
        var walk = new Walk()
            .Begin()
            .Until("air-cut.tool.1.position")
            .Do(new Differs("air-cut.tool.1.position", "over the clamp"));
        Assert.Equal(StepState.Held, walk.Step("air-cut.tool.1.position").State);
        Assert.Contains(
            "over the clamp",
            walk.Refused(new Ticked("air-cut.tool.1.position")),
            StringComparison.Ordinal
        );
        walk.Refused(new DifferenceSettled("air-cut.tool.1.position", " "));
        walk.Do(new DifferenceSettled("air-cut.tool.1.position", "clamp turned"))
            .Do(new Ticked("air-cut.tool.1.position"));
    }

    [Fact]
    public void A_slip_is_taken_back_and_both_stay()
    {
        var walk = new Walk().Begin().Do(new Ticked("ready.machine.guards"), Operator);
        var number = walk.ProveOut.Last;
        walk.Refused(new TakenBack(number, "door was open"), NightSetter with { Roles = Roles.Operator });
        walk.Do(new TakenBack(number, "door was open"), Operator);
        Assert.Equal(StepState.Open, walk.Step("ready.machine.guards").State);
        Assert.Equal(3, walk.ProveOut.Entries.Count);
        walk.Until("air-cut.raised.G55.z");
        Assert.Contains(
            "was signed",
            walk.Refused(new TakenBack(walk.Step("ready.machine.guards").By!.Entry, "again")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_supervisor_sends_back_or_signs_for_a_step_but_never_for_a_register()
    {
        var walk = new Walk().Begin().Until("release.signed");
        Assert.Contains(
            "air-cut.tool.1.gauge",
            Reopened(walk, new SentBack(["air-cut.tool.1.gauge"], "block not in the photo"), Supervisor)
        );
        Assert.NotEmpty(walk.ProveOut.WhyNot(new Signed("release.signed", SignedAs.Reviewed), Supervisor));
        var raised = new Walk().Begin().Until("restore.offset.G55.z");
        Assert.Contains(
            "no signature takes its place",
            raised.Refused(new DeviationSigned("restore.offset.G55.z", "in a hurry"), Supervisor),
            StringComparison.Ordinal
        );
        var air = new Walk().Begin().Until("air-cut.tool.2.gauge");
        air.Refused(new DeviationSigned("air-cut.tool.2.gauge", ""), Supervisor);
        air.Do(new DeviationSigned("air-cut.tool.2.gauge", "no block that fits"), Supervisor);
        Assert.Equal(Standing.Released, air.Until().ProveOut.Standing);
        Assert.Equal(StepState.Deviation, air.Step("air-cut.tool.2.gauge").State);
    }
}
