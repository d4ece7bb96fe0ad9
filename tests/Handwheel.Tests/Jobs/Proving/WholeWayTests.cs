using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class WholeWayTests
{
    [Fact]
    public void A_careful_setter_gets_from_ready_to_release()
    {
        var walk = new Walk().Begin().Until();
        Assert.Equal(Standing.Released, walk.ProveOut.Standing);
        Assert.Empty(walk.ProveOut.Ledger.Hazards);
        Assert.Empty(walk.ProveOut.Unexplained);
        Assert.All(
            walk.ProveOut.Steps.Where(s => s.Phase != Phase.Parking),
            s => Assert.Equal(StepState.Done, s.State)
        );
        Assert.DoesNotContain(walk.ProveOut.Steps, s => s.NotBlind);
    }

    [Fact]
    public void Replaying_the_entries_gives_the_same_prove_out()
    {
        var walked = new Walk().Begin().Until("first-cut.cut").ProveOut;
        var replayed = ProveOut.Replay(walked.Plan, walked.Entries, walked.Ledger);
        Assert.Empty(replayed.Unexplained);
        Assert.Equal(walked.Ledger.Readings, replayed.Ledger.Readings);
        Assert.Equal(
            walked.Steps.Select(s => (s.Id, s.State, s.Typed, s.By)),
            replayed.Steps.Select(s => (s.Id, s.State, s.Typed, s.By))
        );
    }

    [Fact]
    public void Phases_come_in_the_order_of_the_trade()
    {
        var walk = new Walk();
        Assert.Equal(Standing.NotBegun, walk.ProveOut.Standing);
        walk.Begin();
        foreach (
            var (step, phase) in new[]
            {
                ("ready.signed", Phase.Ready),
                ("air-cut.ran", Phase.AirCut),
                ("restore.offset.G55.z", Phase.Restore),
                ("first-cut.cut", Phase.FirstCut),
                ("first-piece.1", Phase.FirstPiece),
                ("release.signed", Phase.Release),
            }
        )
        {
            walk.Until(step);
            Assert.Equal(phase, walk.ProveOut.Phase);
        }
    }

    [Fact]
    public void Findings_stop_until_a_supervisor_signs_and_are_seen_by_name()
    {
        var plan = Plan(
            1,
            null,
            Purpose.Prove,
            true,
            new Finding
            {
                Id = "rapid-into-holding",
                Level = Level.Stop,
                Line = 40,
                Message = "T1 meets the toe clamp.",
                Remedy = "",
            },
            new Finding
            {
                Id = "no-end",
                Level = Level.Check,
                Line = 60,
                Message = "No end of program.",
                Remedy = "",
            }
        );
        var walk = new Walk(plan).Begin();
        Assert.Equal(StepState.Waiting, walk.Step("ready.check").State);
        Assert.Contains(
            "supervisor",
            walk.Refused(new DeviationSigned("ready.stop.rapid-into-holding", "clamp was moved"), Setter),
            StringComparison.Ordinal
        );
        walk.Do(new DeviationSigned("ready.stop.rapid-into-holding", "clamp was moved"), Supervisor);
        Assert.Equal(StepState.Done, walk.Step("ready.check").State);
        walk.Do(new FindingsSeen("ready.seen.no-end"), Operator);
        Assert.Equal("operator", walk.Step("ready.seen.no-end").By!.Name);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void A_proven_program_set_up_again_has_its_short_list()
    {
        var walk = new Walk(Plan(2, null, Purpose.SetUpAgain)).Begin();
        Assert.DoesNotContain(walk.ProveOut.Steps, s => s.Phase is Phase.AirCut or Phase.Restore);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void A_supervisor_may_want_the_air_cut_of_a_proven_program()
    {
        var walk = new Walk(Plan(1, null, Purpose.SetUpAgain)).Begin().Until("ready.signed");
        walk.Refused(new AirCutWanted("another fixture"), Setter);
        walk.Do(new AirCutWanted("another fixture"), Supervisor);
        Assert.Contains(walk.ProveOut.Steps, s => s.Id == "air-cut.tool.1.machine-z");
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void Without_a_window_a_supervisor_signs_the_other_way()
    {
        var walk = new Walk(Plan(2, null, Purpose.Prove, false)).Begin().Until("air-cut.other-way");
        Assert.DoesNotContain(walk.ProveOut.Steps, s => s.Id.Contains("raised", StringComparison.Ordinal));
        walk.Refused(new OtherWaySigned("no window"), Setter);
        Assert.NotEmpty(walk.ProveOut.WhyNot(new Ticked("air-cut.tool.1.handwheel"), Setter));
        walk.Do(new OtherWaySigned("no window"), Supervisor);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void An_air_cut_cut_short_is_signed_with_its_line()
    {
        var walk = new Walk().Begin().Until("air-cut.ran");
        Assert.True(new CutShort(4100, "long surfacing pass").NeedsPin);
        walk.Refused(new CutShort(4100, "long surfacing pass"), Operator);
        walk.Do(new CutShort(4100, "long surfacing pass"));
        Assert.Contains("4100", walk.Step("air-cut.ran").Says, StringComparison.Ordinal);
        walk.Refused(new CutShort(4200, "again"));
    }

    [Fact]
    public void The_second_person_at_restore_is_another_one()
    {
        var walk = new Walk(Plan(1, new() { ReadWear = false, SecondPersonAtRestore = true }))
            .Begin()
            .Until("restore.witness");
        Assert.Contains(
            "another",
            walk.Refused(new Signed("restore.witness", SignedAs.Witnessed), Setter),
            StringComparison.Ordinal
        );
        var quick = walk.Entry(new Signed("restore.witness", SignedAs.Witnessed), Operator) with
        {
            At = walk.ProveOut.Entries[^1].At.AddSeconds(2),
        };
        Assert.NotEmpty(walk.ProveOut.WhyNot(quick));
        walk.Do(new Signed("restore.witness", SignedAs.Witnessed), Operator);
    }

    [Fact]
    public void Parking_comes_any_time_and_raised_registers_first()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position");
        Assert.Contains("Raised registers first", walk.Refused(new Ticked("parking.1")), StringComparison.Ordinal);
        walk["G55 Z"] = -18.125m;
        walk.Do(new ReadingTyped("put-back.G55.z", "-18.1250")).Do(new Ticked("parking.1")).Do(new Ticked("parking.2"));
        Assert.Equal(StepState.Open, walk.Step("air-cut.raised.G55.z").State);
        walk.Do(new ParkingBegun());
        Assert.Equal(StepState.Open, walk.Step("parking.1").State);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
    }

    [Fact]
    public void What_has_ended_takes_nothing_but_notes_that_correct_where_nothing_is_locked_out()
    {
        foreach (var walk in new[] { new Walk().Begin().Until(), new Walk().Begin().Do(new Abandoned("wrong blank")) })
        {
            walk.Refused(new Ticked("ready.machine.guards"));
            walk.Refused(new Note("odd noise"));
            walk.Refused(new Interrupted("alarm"));
            walk.Do(new Note("the height was taken on the other clamp", null, 1), Programmer);
        }
    }

    [Fact]
    public void Abandoning_while_raised_leaves_the_hazard_and_stops_the_next_job()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position").Do(new Abandoned("shift ended"), Supervisor);
        var hazard = Assert.Single(walk.ProveOut.Ledger.Hazards);
        Assert.Equal("G55 Z still raised 3.0000 in", hazard.Text);
        var plan = ProveOutPlan.From(Subject(Purpose.Prove, null, 2), Setup(), Check(Setup()), new());
        var next = new Walk(plan, walk.ProveOut.Ledger);
        Assert.Contains("G55 Z still raised 3.0000 in", next.Refused(new Begun(plan.Digest)), StringComparison.Ordinal);
        var back = walk.ProveOut.Ledger.Outside(
            Machine,
            new("G55", "z"),
            In(-18.125m),
            "-18.1250",
            Handwheel.Nc.Units.Inch,
            Operator,
            Morning.AddDays(1)
        );
        new Walk(plan, walk.ProveOut.Ledger.With(back)).Begin();
        var stated = walk.ProveOut.Ledger.Outside(
            Machine,
            new("G55", "z"),
            In(-12m),
            "-12.0000",
            Handwheel.Nc.Units.Inch,
            Supervisor,
            Morning.AddDays(1),
            true
        );
        new Walk(plan, walk.ProveOut.Ledger.With(stated)).Begin();
        Assert.NotEmpty(Ledger.WhyNotOutside("-12.0000", Handwheel.Nc.Units.Inch, In(0.0001m), Setter, true));
        Assert.Empty(Ledger.WhyNotOutside("-12.0000", Handwheel.Nc.Units.Inch, In(0.0001m), Supervisor, true));
        Assert.NotEmpty(Ledger.WhyNotOutside("-12,0000", Handwheel.Nc.Units.Inch, In(0.0001m), Supervisor, true));
    }

    [Fact]
    public void Two_people_on_one_step_one_wins_and_the_other_is_told()
    {
        var walk = new Walk().Begin();
        var seen = walk.ProveOut.Last;
        walk.Do(new Ticked("ready.machine.guards"), Operator);
        var late = walk.Entry(new Ticked("ready.machine.guards"), Setter, "tablet 2", seen);
        var reasons = string.Join(" ", walk.ProveOut.WhyNot(late));
        Assert.Contains("operator", reasons, StringComparison.Ordinal);
        Assert.Contains("08:02", reasons, StringComparison.Ordinal);
        Assert.Null(walk.ProveOut.ChangedSince(new Ticked("ready.machine.feed-hold"), seen));
        Assert.Empty(walk.ProveOut.WhyNot(walk.Entry(new Ticked("ready.machine.feed-hold"), Setter, "tablet 2", seen)));
    }

    [Fact]
    public void A_signature_is_refused_when_the_page_is_older_than_the_prove_out()
    {
        var walk = new Walk().Begin().Until("ready.signed");
        var stale = walk.Entry(new Signed("ready.signed", SignedAs.Did), Setter, basedOn: walk.ProveOut.Last - 1);
        Assert.NotEmpty(walk.ProveOut.WhyNot(stale));
        walk.Do(new Signed("ready.signed", SignedAs.Did));
    }

    [Fact]
    public void An_entry_that_the_rules_do_not_allow_is_kept_without_effect()
    {
        var plan = Plan();
        Entry[] entries =
        [
            new(1, Morning, "Europe/Vienna", Setter, "tablet 1", 0, new Begun(plan.Digest)),
            new(2, Morning.AddMinutes(1), "Europe/Vienna", Setter, "tablet 1", 1, new Ticked("first-cut.cut")),
        ];
        var replayed = ProveOut.Replay(plan, entries, Ledger.Empty);
        Assert.Equal(2, Assert.Single(replayed.Unexplained).Entry);
        Assert.NotEqual(StepState.Done, replayed.Steps.First(s => s.Id == "first-cut.cut").State);
    }
}
