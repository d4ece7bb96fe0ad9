using System.Text.Json;
using Handwheel.Jobs.Proving;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.ProveOuts;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

public sealed class ActTests(PostgresCluster cluster)
{
    [Theory, EachDatabase]
    public async Task The_first_entry_says_what_is_proved(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var open = await job.Open();
        Assert.Equal(1, open.Log.LastNumber);
        Assert.Equal(open.ProveOut.Plan.Digest, Assert.IsType<Begun>(open.Entries[0].Act).Plan);
        Assert.Equal(Standing.UnderWay, open.ProveOut.Standing);
    }

    /// <summary>HANDWHEEL_RACES=1000 is the long run.</summary>
    [Theory, EachDatabase]
    public async Task Two_at_one_step_one_wins_and_each_other_is_told_who_and_when(Engine engine)
    {
        for (var left = LongRun.Asked("HANDWHEEL_RACES", 25); left > 0; )
        {
            await using var shop = await TestShop.Open(engine, cluster);
            var job = await (await TestJob.Make(shop)).Begin();
            while (left > 0 && await Race(job))
                left--;
        }
    }

    /// <summary>Eight at once at the first step that takes a tick; false when none is left.</summary>
    static async Task<bool> Race(TestJob job)
    {
        var before = (await job.Open()).ProveOut;
        var step = before.Steps.FirstOrDefault(s =>
            s is { Takes: Takes.Tick, State: StepState.Open, WaitsFor.Count: 0 }
        );
        if (step is null)
            return false;
        var answers = await Task.WhenAll(
            Enumerable.Range(0, 8).Select(_ => Task.Run(() => job.Take(new Ticked(step.Id), before.Last)))
        );
        Assert.Single(answers, a => a.Refused is null);
        foreach (var told in answers.Where(a => a.Refused is not null).Select(a => a.Refused!))
        {
            Assert.Equal(RefusedBecause.ChangedMeanwhile, told.Because);
            Assert.Contains("day setter was here at", told.ToString(), StringComparison.Ordinal);
        }
        Assert.Equal(before.Last + 1, (await job.Open()).ProveOut.Last);
        return true;
    }

    [Theory, EachDatabase]
    public async Task The_same_key_counts_once_and_answers_the_same_also_after_a_restart(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var step = await job.Tickable();
        var first = (await job.Take(new Ticked(step.Id), 1, "key-1")).Must;
        var again = (await job.Take(new Ticked(step.Id), 1, "key-1")).Must;
        await shop.Restart();
        var later = (await job.Take(new Ticked(step.Id), 1, "key-1")).Must;
        Assert.Equal(first, again);
        Assert.Equal(first, later);
        Assert.Equal(2, (await job.Open()).ProveOut.Last);
        Assert.Equal(2, JsonDocument.Parse(first).RootElement.GetProperty("number").GetInt64());
    }

    [Theory, EachDatabase]
    public async Task Retries_at_the_same_time_count_once(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var step = await job.Tickable();
        var answers = await Task.WhenAll(
            Enumerable.Range(0, 20).Select(_ => Task.Run(() => job.Take(new Ticked(step.Id), 1, "one key")))
        );
        Assert.Single(answers.Select(a => a.Value).OfType<string>().Distinct(StringComparer.Ordinal));
        Assert.All(
            answers.Where(a => a.Refused is not null),
            a => Assert.Equal(RefusedBecause.StillRunning, a.Refused!.Because)
        );
        Assert.Equal(2, (await job.Open()).ProveOut.Last);
    }

    [Theory, EachDatabase]
    public async Task A_key_used_for_something_else_is_refused_and_changes_nothing(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var step = await job.Tickable();
        await job.Take(new Note("first"), 1, "key-1");
        var other = await job.Take(new Ticked(step.Id), 2, "key-1");
        Assert.Equal(RefusedBecause.NotAcceptable, other.Refused?.Because);
        Assert.Contains("used for something else", other.Refused!.ToString(), StringComparison.Ordinal);
        Assert.Equal(2, (await job.Open()).ProveOut.Last);
    }

    [Theory, EachDatabase]
    public async Task Nobody_can_be_ahead_of_the_prove_out(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var refused = (await job.Take(new Note("from the future"), 7)).Refused;
        Assert.Contains("has 1", refused!.ToString(), StringComparison.Ordinal);
    }

    [Theory, EachDatabase]
    public async Task A_signature_takes_the_PIN_and_the_PIN_is_kept_nowhere(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var headings = Handoff.Headings.ToDictionary(
            h => h.Key,
            h => h.Key is "findings" ? "as the check lists them" : "none"
        );
        var without = await job.Take(new HandedOver(headings), 1);
        var wrong = await job.Take(new HandedOver(headings), 1, pin: "204866");
        Assert.Equal(RefusedBecause.WrongSecret, without.Refused?.Because);
        Assert.Equal(RefusedBecause.WrongSecret, wrong.Refused?.Because);
        Assert.Null((await job.Take(new HandedOver(headings), 1, pin: TestJob.Pin)).Refused);
        var open = await job.Open();
        Assert.Equal(Standing.HandoffOpen, open.ProveOut.Standing);
        Assert.Equal("handed over", open.Entries[^1].Act.Meaning);
        await using var db = await shop.Db();
        Assert.DoesNotContain(
            await db.ProveOutEntries.ToListAsync(),
            e => e.Body.Contains(TestJob.Pin, StringComparison.Ordinal)
        );
        Assert.DoesNotContain(
            await db.IdempotencyKeys.ToListAsync(),
            k => k.Answer.Contains(TestJob.Pin, StringComparison.Ordinal)
        );
    }

    [Theory, EachDatabase]
    public async Task A_reading_is_in_the_ledger_and_outlives_the_job(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var plan = (await job.Open()).ProveOut.Plan;
        var offset = plan.Registers.First(r => r.Register.Axis == "z" && r.Setup is not null);
        var step = (await job.Open()).ProveOut.Steps.First(s =>
            s.Takes == Takes.Reading
            && s.Phase == Phase.Ready
            && s.Title.Contains(offset.Register.ToString(), StringComparison.Ordinal)
        );
        var typed = offset.Setup!.Value.ToRegisterText(plan.Units);
        Assert.Null((await job.Take(new ReadingTyped(step.Id, typed), 1)).Refused);
        Assert.Null((await job.Take(new Abandoned("wrong material"), 2, pin: TestJob.Pin)).Refused);
        await shop.Restart();
        await using var db = await shop.Db();
        var ledger = await ProveOutReader.LedgerOf(db, job.Machine.Id);
        var last = ledger.Last(offset.Register)!;
        Assert.Equal(
            (typed, offset.Setup, job.ProveOut),
            (last.Typed, (Handwheel.Nc.Length?)last.Value, last.ProveOut!.Value)
        );
    }

    [Theory, EachDatabase]
    public async Task What_is_locked_out_stays_with_the_machine_until_it_is_signed_for_where_it_went_to(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var first = await (await TestJob.Make(shop)).Begin();
        var words = SmallShop.Words();
        words["locked-out"] = "door switch bypassed";
        Assert.Null((await first.Take(new HandedOver(words), 1, pin: TestJob.Pin)).Refused);
        Assert.Null((await first.Take(new Abandoned("wrong material"), 2, pin: TestJob.Pin)).Refused);
        var ended = (await first.Open()).Log.EndedAt;
        await shop.Restart();
        Assert.Equal("door switch bypassed", (await Stands()).LockedOut?.Words);
        Assert.Equal(first.ProveOut, (await Stands()).Left?.ProveOut);

        shop.Time.Advance(TimeSpan.FromHours(1));
        var second = await (await TestJob.Again(first)).Begin();
        Assert.Equal("door switch bypassed", (await second.Open()).ProveOut.LockedOut?.Words);
        Assert.Equal("day setter", (await Stands()).LockedOut?.By.Name);
        var told = (await first.Take(new LockoutLifted("key back"), 3, pin: TestJob.Pin)).Refused;
        Assert.Contains("sign it there", told!.ToString(), StringComparison.Ordinal);

        Assert.Null((await second.Take(new Abandoned("not today"), 1, pin: TestJob.Pin)).Refused);
        Assert.Null((await second.Take(new LockoutLifted("key back"), 2, pin: TestJob.Pin)).Refused);
        Assert.Null((await Stands()).LockedOut);
        Assert.Null((await first.Open()).LockedOut);
        Assert.Equal(ended, (await first.Open()).Log.EndedAt);
        var third = await (await TestJob.Again(first)).Begin();
        Assert.Null((await third.Open()).ProveOut.LockedOut);

        async Task<MachineState> Stands()
        {
            await using var db = await shop.Db();
            return await shop.Get<ProveOutReader>().StateOf(db, first.Machine.Id);
        }
    }

    [Theory, EachDatabase]
    public async Task The_end_of_a_prove_out_is_when_it_ended_whatever_is_added_to_its_record(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        Assert.Null((await job.Take(new Abandoned("wrong material"), 1, pin: TestJob.Pin)).Refused);
        var ended = (await job.Open()).Log.EndedAt;
        shop.Time.Advance(TimeSpan.FromDays(3));
        Assert.Null((await job.Take(new Note("it was the blank", Corrects: 2), 2)).Refused);
        Assert.Equal((3, ended), ((await job.Open()).Log.LastNumber, (await job.Open()).Log.EndedAt));
    }

    [Theory, EachDatabase]
    public async Task A_register_left_raised_stops_the_next_job_until_it_is_read_and_right(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await TestJob.Make(shop);
        var g54 = new Register("G54", "z");
        var baseline = Handwheel.Nc.Length.From(-18.125m, Handwheel.Nc.Units.Inch);
        await using (var db = await shop.Db())
        {
            var raised = Ledger.Empty.Outside(
                job.Machine.Id,
                g54,
                baseline,
                "-18.125",
                Handwheel.Nc.Units.Inch,
                job.Setter,
                shop.Time.GetUtcNow(),
                statement: true
            );
            var left = raised with
            {
                Value = baseline + Handwheel.Nc.Length.From(3, Handwheel.Nc.Units.Inch),
                Typed = "-15.125",
                Expectation = new(baseline, baseline + Handwheel.Nc.Length.From(3, Handwheel.Nc.Units.Inch)),
            };
            db.MachineReadings.Add(Handwheel.Data.MachineReading.From(raised));
            db.MachineReadings.Add(Handwheel.Data.MachineReading.From(left));
            await db.SaveChangesAsync();
        }
        await shop.Restart();
        var refused = (await shop.Get<StartProveOut>().Run(job.Setter, TestShop.Desk, job.Job.Id)).Refused;
        Assert.Contains("G54 Z still raised 3.0000 in", refused!.ToString(), StringComparison.Ordinal);

        shop.Time.Advance(TimeSpan.FromHours(1));
        var read = await shop.Get<ReadRegister>().Run(job.Setter, TestShop.Desk, job.Machine.Id, g54, "-18.1250");
        Assert.Null(read.Refused);
        await job.Begin();
    }
}
