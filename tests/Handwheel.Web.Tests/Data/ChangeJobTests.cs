using System.Text;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.ProveOuts;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

/// <summary>Subprogram files and values of parameters: kept, checked with, and a ground of the prove-out.</summary>
public sealed class ChangeJobTests(PostgresCluster cluster)
{
    static readonly Upload Program = new(
        "family.nc",
        "%\nO50 (FAMILY)\nG20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. S2000 M3\nG43 H1 Z1.\nG1 Z-#501 F10.\nM98 P51\nG0 Z1.\nM30\n%\n"u8.ToArray()
    );

    static readonly Upload Setup = new(
        "family.setup.json",
        """
        {"format": "handwheel-setup/1", "units": "inch",
         "machine": {"name": "Mill 5", "travel": {"x": [-40, 0], "y": [-20, 0], "z": [-25, 0]}},
         "workOffsets": {"G54": {"x": -20, "y": -10, "z": -18}},
         "stock": {"workOffset": "G54", "min": {"x": -3, "y": -3, "z": -1}, "max": {"x": 3, "y": 3, "z": 0}},
         "tools": [{"tool": 1, "kind": "end mill", "diameter": 0.5, "fluteLength": 1, "lengthOffset": 1, "length": 5}]}
        """u8.ToArray()
    );

    static Upload Sub(string x) => new("slot.nc", Encoding.ASCII.GetBytes($"O51\nG1 X{x} F20.\nM99\n"));

    sealed record Family(TestShop Shop, Actor Setter, Guid Job)
    {
        public async Task<OpenedJob> Open() => (await Shop.Get<JobReader>().Open(Job))!;

        public async Task<Refusal?> Say(int number, string typed, string from = "") =>
            await Shop.Get<SayParameter>()
                .Run(Setter, TestShop.Desk, Job, (await Open()).Job.Version, number, typed, from);

        public async Task<Refusal?> Files(IReadOnlyList<Upload> added, string[] removed, string why = "") =>
            await Shop.Get<ChangeSubprograms>()
                .Run(Setter, TestShop.Desk, Job, (await Open()).Job.Version, added, removed, why);
    }

    static async Task<Family> Make(TestShop shop, params Upload[] subprograms)
    {
        var machine = await TestJob.AddMachine(shop, Setup);
        var person = await shop.Hire("day setter", Roles.Setter | Roles.Operator, TestJob.Pin);
        var setter = new Actor(person.Id, person.Name, person.Roles);
        var job = await shop.Get<MakeJob>().Run(setter, machine.Id, Program, Setup, subprograms);
        return new(shop, setter, job.Must.Id);
    }

    static string[] Stops(OpenedJob job) =>
        [
            .. job
                .Check.Findings.Where(f => f.Id == "cannot-follow")
                .Select(f => FormattableString.Invariant($"{f.Line}: {f.Message[..12]}")),
        ];

    [Theory, EachDatabase]
    public async Task Subprograms_are_added_replaced_and_taken_away(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var family = await Make(shop);
        Assert.Contains("8: subprogram 5", Stops(await family.Open()));
        Assert.Null(await family.Files([Sub("1.")], []));
        await shop.Restart();
        var added = await family.Open();
        Assert.DoesNotContain("8: subprogram 5", Stops(added));
        Assert.Equal([("O51", "slot.nc", 8)], added.Check.Program.Subprograms.Select(s => (s.Called, s.File, s.Line)));
        Assert.Null(await family.Files([Sub("2.")], []));
        Assert.Equal(Sub("2.").Bytes, Assert.Single((await family.Open()).Subprograms).Bytes);
        Assert.Null(await family.Files([], ["slot.nc"]));
        Assert.Contains("8: subprogram 5", Stops(await family.Open()));
        await using var db = await shop.Db();
        Assert.Equal(2, await db.JobFiles.CountAsync(f => f.Name == "slot.nc"));
    }

    [Theory, EachDatabase]
    public async Task A_subprogram_that_is_none_or_there_twice_changes_nothing(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var family = await Make(shop);
        Assert.Contains(
            "slot.nc",
            (await family.Files([new Upload("slot.nc", [1, 2, 3])], []))!.ToString(),
            StringComparison.Ordinal
        );
        var twice = await family.Files([Sub("1."), Sub("1.") with { Name = "other.nc" }], []);
        Assert.Contains("a second time", twice!.ToString(), StringComparison.Ordinal);
        Assert.Contains(
            "twice",
            (await family.Files([Sub("1."), Sub("2.")], []))!.ToString(),
            StringComparison.Ordinal
        );
        Assert.Empty((await family.Open()).Subprograms);
    }

    [Theory, EachDatabase]
    public async Task A_value_is_kept_with_who_said_it_and_checked_with(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var family = await Make(shop, Sub("1."));
        var asked = Assert.Single((await family.Open()).Check.Program.AsksFor);
        Assert.Equal((501, 7, "G1 Z-#501 F10."), (asked.Parameter, asked.Line, asked.Block));
        Assert.Null(await family.Say(501, "0.2500", "read at the control"));
        await shop.Restart();
        var open = await family.Open();
        Assert.Empty(open.Check.Program.AsksFor);
        Assert.True(open.Check.Program.FollowedToEnd);
        Assert.Equal(-0.25m, open.Check.Tools.Single(t => t.Tool == 1).LowestTip);
        var said = Assert.Single(open.Said);
        Assert.Equal(
            (501, "0.2500", "read at the control", "day setter"),
            (said.Number, said.Typed, said.From, said.By)
        );
        Assert.Null(await family.Say(501, "0.5"));
        Assert.Equal(-0.5m, (await family.Open()).Check.Tools.Single(t => t.Tool == 1).LowestTip);
        Assert.Null(await family.Say(501, ""));
        Assert.Single((await family.Open()).Check.Program.AsksFor);
        await using var db = await shop.Db();
        Assert.Equal(2, await db.JobParameters.CountAsync(p => p.Number == 501 && p.ReplacedAt != null));
    }

    [Theory]
    [InlineData(501, "0,25")]
    [InlineData(501, "1e3")]
    [InlineData(501, " 1")]
    [InlineData(501, "1.2345678")]
    [InlineData(501, "1 in")]
    [InlineData(5023, "1")]
    [InlineData(0, "1")]
    public async Task A_value_in_another_grammar_or_of_the_control_s_own_is_refused(int number, string typed)
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var family = await Make(shop, Sub("1."));
        Assert.Equal(RefusedBecause.NotAcceptable, (await family.Say(number, typed))?.Because);
        Assert.Empty((await family.Open()).Said);
    }

    [Theory, EachDatabase]
    public async Task Another_value_opens_what_rests_on_it_and_says_why(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var family = await Make(shop, Sub("1."));
        Assert.Null(await family.Say(501, "0.25"));
        var proveOut = (await shop.Get<StartProveOut>().Run(family.Setter, TestShop.Desk, family.Job)).Must.Id;
        async Task<ProveOut> Now() => (await shop.Get<ProveOutReader>().Open(proveOut))!.ProveOut;
        async Task Tick(string step) =>
            _ = (
                await shop.Get<TakeAct>()
                    .Run(
                        new(
                            proveOut,
                            Guid.NewGuid().ToString(),
                            (await Now()).Last,
                            new Ticked(step),
                            family.Setter,
                            TestShop.Desk
                        )
                    )
            ).Must;
        Assert.Equal("#501 holds 0.25", (await Now()).Steps.Single(s => s.Id == "ready.parameter.501").Title);
        await Tick("ready.parameter.501");
        await Tick("ready.tool.1");
        Assert.Contains("say why", (await family.Say(501, "0.3"))!.ToString(), StringComparison.Ordinal);
        Assert.Null(await family.Say(501, "0.3", "the drawing was changed"));
        await shop.Restart();
        var after = await Now();
        var step = after.Steps.Single(s => s.Id == "ready.parameter.501");
        Assert.Equal(("#501 holds 0.3", false), (step.Title, step.State is StepState.Done));
        Assert.Contains("it was 0.25: the drawing was changed", step.Says, StringComparison.Ordinal);
        Assert.Equal(StepState.Done, after.Steps.Single(s => s.Id == "ready.tool.1").State);
        Assert.Empty(after.Unexplained);
        Assert.Contains("say why", (await family.Files([Sub("2.")], []))!.ToString(), StringComparison.Ordinal);
        Assert.Null(await family.Files([Sub("2.")], [], "slot longer"));
        Assert.Empty((await Now()).Unexplained);
    }
}
