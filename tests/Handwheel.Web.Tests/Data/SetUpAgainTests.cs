using System.Text.Json.Nodes;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Demo;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Features.Records;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Tests.Data;

/// <summary>A released job on another day and on another machine.</summary>
public sealed class SetUpAgainTests(PostgresCluster cluster)
{
    static async Task<TestJob> Released(TestShop shop)
    {
        var job = await (await TestJob.Make(shop)).Begin();
        await Walk(shop, (await job.Open()).Log, job.Setter);
        Assert.Equal(Standing.Released, (await job.Open()).ProveOut.Standing);
        return job;
    }

    static async Task Walk(TestShop shop, ProveOutLog log, Actor setter, string? stopBefore = null)
    {
        var boss = DemoPeople.Supervisor;
        await using var db = await shop.Db();
        var known = db.People.SingleOrDefault(p => p.Name == boss.Name);
        var hired = known ?? await shop.Hire(boss.Name, boss.Roles, boss.Pin, boss.Password);
        var actors = new Dictionary<string, Actor>
        {
            [setter.Name] = setter,
            [boss.Name] = new(hired.Id, hired.Name, hired.Roles),
        };
        var day = new DemoPerson(setter.Name, setter.Roles, TestJob.Pin);
        await new DemoWalk(shop.Get<TakeAct>(), shop.Get<ProveOutReader>(), new DemoClock(shop.Time.GetUtcNow())).Run(
            log,
            _ => day,
            actors,
            stopBefore
        );
    }

    static Task<Answer<ProveOutLog>> Begin(TestShop shop, Actor by, Guid job) =>
        shop.Get<StartProveOut>().Run(by, TestShop.Desk, job, Purpose.SetUpAgain);

    /// <summary>A machine like the job's but for what <paramref name="change"/> makes of its facts.</summary>
    static async Task<Machine> Other(TestShop shop, TestJob like, Action<JsonObject> change)
    {
        var facts = (JsonObject)JsonNode.Parse(like.Machine.Facts)!;
        var machine = facts["machine"]!.AsObject();
        machine["name"] = "Mill 9";
        change(machine);
        return (await shop.Get<AddMachine>().Run(TestShop.Boss, "Mill 9", facts.ToJsonString())).Must;
    }

    /// <summary>The registers of the new machine, as somebody reads them off it: here those of the first.</summary>
    static async Task Fill(TestShop shop, TestJob first, Job job)
    {
        var jobs = shop.Get<JobReader>();
        var (from, to) = ((await jobs.Open(first.Job.Id))!, (await jobs.Open(job.Id))!);
        var setup = to.Setup with { WorkOffsets = from.Setup.WorkOffsets, Tools = from.Setup.Tools };
        Assert.Null(
            await shop.Get<UpdateSetup>()
                .Run(first.Setter, TestShop.Desk, job.Id, to.Job.Version, setup, complete: true)
        );
    }

    [Theory, EachDatabase]
    public async Task On_another_day_a_released_job_has_its_short_list_and_the_record_says_where_it_was_proved(
        Engine engine
    )
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await Released(shop);
        shop.Time.Advance(TimeSpan.FromDays(3));
        var again = (await Begin(shop, job.Setter, job.Job.Id)).Must;
        var open = (await shop.Get<ProveOutReader>().Open(again.Id))!;
        Assert.Equal(Purpose.SetUpAgain, open.ProveOut.Plan.Subject.Purpose);
        Assert.DoesNotContain(open.ProveOut.Steps, s => s.Phase is Phase.AirCut or Phase.Restore);
        Assert.DoesNotContain(open.ProveOut.Steps, s => s.Id == "ready.proved-before");
        var record = JsonNode.Parse((await shop.Get<ExportRecord>().Run(again.Id)).Must)!;
        Assert.Equal("set up again", (string?)record["proved"]!["purpose"]);
        Assert.Equal(job.ProveOut.ToString(), (string?)record["proved"]!["provedBefore"]!["log"]);
        Assert.Empty(record["proved"]!["provedBefore"]!["differences"]!.AsArray());
        Assert.Equal("job 1", (string?)record["proved"]!["provedBefore"]!["job"]);
    }

    [Theory, EachDatabase]
    public async Task A_program_that_was_changed_since_is_proved_out_whole(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await Released(shop);
        var changed = new Upload("bearing-cap-op10.nc", [.. TestJob.File("bearing-cap-op10.nc").Bytes, .. "(B)\n"u8]);
        var version = (await shop.Get<JobReader>().Open(job.Job.Id))!.Job.Version;
        Assert.Null(await shop.Get<ReceiveProgram>().Run(job.Setter, TestShop.Desk, job.Job.Id, version, changed));
        Assert.Contains(
            "not the one that was released",
            (await Begin(shop, job.Setter, job.Job.Id)).Refused!.ToString(),
            StringComparison.Ordinal
        );
        Assert.Null((await shop.Get<StartProveOut>().Run(job.Setter, TestShop.Desk, job.Job.Id)).Refused);
    }

    [Theory, EachDatabase]
    public async Task On_another_machine_nothing_of_a_register_goes_along_and_what_differs_is_looked_at_first(
        Engine engine
    )
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await Released(shop);
        var other = await Other(shop, job, m => m["toolChangeSeconds"] = 17);
        var made = (await shop.Get<SetUpOnAnotherMachine>().Run(job.Setter, job.Job.Id, other.Id)).Must;
        Assert.True(made.SetupIsDraft);
        var draft = (await shop.Get<JobReader>().Open(made.Id))!.Setup;
        Assert.All(draft.Tools, t => Assert.Null(t.Length));
        Assert.All(draft.Tools, t => Assert.Null(t.Pocket));
        Assert.All(draft.WorkOffsets.Values, o => Assert.Equal(default, o));
        Assert.NotEmpty(draft.Holding);
        Assert.Contains(
            "draft",
            (await Begin(shop, job.Setter, made.Id)).Refused!.ToString(),
            StringComparison.Ordinal
        );

        await Fill(shop, job, made);
        var again = (await Begin(shop, job.Setter, made.Id)).Must;
        var open = (await shop.Get<ProveOutReader>().Open(again.Id))!.ProveOut;
        var looked = open.Steps.Single(s => s.Id == "ready.proved-before");
        Assert.Contains(looked.Notes, n => n.Contains("is 17 s", StringComparison.Ordinal));
        Assert.Contains(job.Machine.Name, looked.Title, StringComparison.Ordinal);
        Assert.Contains(
            "look at what",
            string.Join(' ', open.WhyNot(new Signed("ready.signed", SignedAs.Did), job.Setter)),
            StringComparison.Ordinal
        );
        await Walk(shop, again, job.Setter);
        Assert.Equal(Standing.Released, (await shop.Get<ProveOutReader>().Open(again.Id))!.ProveOut.Standing);
        var record = JsonNode.Parse((await shop.Get<ExportRecord>().Run(again.Id)).Must)!;
        Assert.Equal(
            "Tool change takes",
            (string?)Assert.Single(record["proved"]!["provedBefore"]!["differences"]!.AsArray())!["what"]
        );
    }

    [Fact]
    public async Task A_machine_that_reads_the_program_otherwise_has_it_proved_out_whole()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await Released(shop);
        var other = await Other(
            shop,
            job,
            m =>
            {
                if (m["reads"] is not JsonObject reads)
                    m["reads"] = reads = [];
                reads["peckClearance"] = 0.123;
            }
        );
        var made = (await shop.Get<SetUpOnAnotherMachine>().Run(job.Setter, job.Job.Id, other.Id)).Must;
        await Fill(shop, job, made);
        Assert.Contains(
            "proved out whole",
            (await Begin(shop, job.Setter, made.Id)).Refused!.ToString(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Only_a_released_program_goes_to_another_machine_and_only_in_its_own_units()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await TestJob.Make(shop);
        var other = await Other(shop, job, _ => { });
        var action = shop.Get<SetUpOnAnotherMachine>();
        Assert.Contains(
            "not one that was released",
            (await action.Run(job.Setter, job.Job.Id, other.Id)).Refused!.ToString(),
            StringComparison.Ordinal
        );
        var worker = new Actor(Guid.NewGuid(), "operator", Roles.Operator);
        Assert.Equal(RefusedBecause.NotAllowed, (await action.Run(worker, job.Job.Id, other.Id)).Refused?.Because);
        var setup = (await shop.Get<JobReader>().Open(job.Job.Id))!.Setup;
        Assert.Null(SetUpOnAnotherMachine.WhyNotIn(setup, other));
        Assert.Contains(
            "to the last digit",
            SetUpOnAnotherMachine.WhyNotIn(setup with { Units = Handwheel.Nc.Units.Millimetre }, other),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Where_a_machine_changes_tools_and_how_far_it_travels_is_told_and_asks_for_no_whole_prove_out()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await Released(shop);
        var other = await Other(
            shop,
            job,
            m =>
            {
                m["toolChangeZ"] = -0.25;
                m["travel"]!["x"] = new JsonArray(-45, 1);
            }
        );
        var made = (await shop.Get<SetUpOnAnotherMachine>().Run(job.Setter, job.Job.Id, other.Id)).Must;
        await Fill(shop, job, made);
        var again = (await Begin(shop, job.Setter, made.Id)).Must;
        var plan = (await shop.Get<ProveOutReader>().Open(again.Id))!.ProveOut.Plan;
        Assert.Equal(["X travel", "Z after a tool change"], plan.Subject.ProvedBefore!.Differences.Select(d => d.What));
    }

    [Fact]
    public async Task An_inch_setup_goes_to_a_machine_that_counts_in_millimetres_to_the_last_digit()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await Released(shop);
        var facts = (JsonObject)JsonNode.Parse(job.Machine.Facts)!;
        facts["units"] = "mm";
        facts["machine"] = new JsonObject
        {
            ["name"] = "Mill 8",
            ["travel"] = new JsonObject
            {
                ["x"] = new JsonArray(-1000, 0),
                ["y"] = new JsonArray(-500, 0),
                ["z"] = new JsonArray(-600, 0),
            },
        };
        var metric = (await shop.Get<AddMachine>().Run(TestShop.Boss, "Mill 8", facts.ToJsonString())).Must;
        var made = (await shop.Get<SetUpOnAnotherMachine>().Run(job.Setter, job.Job.Id, metric.Id)).Must;
        var jobs = shop.Get<JobReader>();
        var (from, to) = ((await jobs.Open(job.Job.Id))!.Setup, (await jobs.Open(made.Id))!.Setup);
        Assert.Equal(Handwheel.Nc.Units.Millimetre, to.Units);
        Assert.Equal(from.Stock, to.Stock);
        Assert.Equal(from.Holding, to.Holding);
        Assert.Equal(from.Tools.Select(t => t.Stickout), to.Tools.Select(t => t.Stickout));
        Assert.Contains("Units of the registers", MachineComparison.Of(from, to).Select(d => d.What));
    }
}
