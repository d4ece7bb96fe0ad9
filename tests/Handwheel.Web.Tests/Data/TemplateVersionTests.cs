using System.Text;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Templates;
using Handwheel.Web.Features;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Features.Templates;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

/// <summary>The shop's prove-out rules: who may change them, what is kept, and which prove-out goes by which version.</summary>
public sealed class TemplateVersionTests(PostgresCluster cluster)
{
    static Actor Of(Roles roles) => new(Guid.NewGuid(), "supervisor", roles);

    static ProvingTemplate With(string title) =>
        ProvingTemplateFile.Read(
            Encoding.UTF8.GetBytes(
                $$"""
                { "format": "handwheel-proving/1", "units": "inch", "rules": { "firstCutRapidPercent": 10 },
                  "extraSteps": [ { "phase": "ready", "key": "own", "title": "{{title}}" } ] }
                """
            ),
            "ours.json"
        );

    [Theory, EachDatabase]
    public async Task The_next_prove_out_goes_by_the_version_in_force_and_one_under_way_keeps_its_own(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await TestJob.Make(shop);
        var (change, reader) = (shop.Get<ChangeTemplate>(), shop.Get<TemplateReader>());
        Assert.Null(await reader.InForce(null));
        Assert.Null((await reader.RulesFor(job.Machine)).Versions);

        var by = Of(Roles.Supervisor);
        Assert.Null(await change.Run(by, null, 0, With("Chip guard on"), "a guard was left off"));
        Assert.Null(await change.Run(by, job.Machine.Id, 0, With("Way covers clean"), "chips under the covers"));
        await job.Begin();
        var shops = (await reader.InForce(null))!.Value.Version;
        Assert.Null(await change.Run(by, null, shops.Number, With("Lamp on"), "dark corner"));

        await shop.Restart();
        var plan = (await job.Open()).ProveOut.Plan;
        Assert.Equal(["every machine", job.Machine.Name], plan.Rules.Versions!.Select(v => v.For));
        Assert.Equal(shops.Number, plan.Rules.Versions![0].Number);
        Assert.Equal(
            ["Chip guard on", "Way covers clean"],
            (await job.Open()).ProveOut.Steps.Where(s => s.Card == "This shop's own").Select(s => s.Title)
        );
        var next = await shop.Get<TemplateReader>().RulesFor(job.Machine);
        Assert.Equal(["Lamp on", "Way covers clean"], next.ExtraSteps.Select(e => e.Title));
        var old = (await shop.Get<TemplateReader>().Find(shops.Number))!.Value;
        Assert.Equal("Chip guard on", Assert.Single(old.Template.ExtraSteps).Title);
        Assert.Equal(("supervisor", "a guard was left off"), (old.Version.PersonName, old.Version.Why));

        var record = JsonNode.Parse((await shop.Get<ExportRecord>().Run(job.ProveOut)).Must)!;
        var rules = record["proved"]!["rules"]!.AsArray();
        Assert.Equal(shops.Sha256, (string?)rules[0]!["sha256"]);
        Assert.Equal(job.Machine.Name, (string?)rules[1]!["for"]);
    }

    [Theory, EachDatabase]
    public async Task Only_a_supervisor_changes_them_with_a_reason_and_not_over_somebody_elses_change(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var change = shop.Get<ChangeTemplate>();
        foreach (var roles in new[] { Roles.Operator, Roles.Setter, Roles.Programmer, Roles.Administrator })
            Assert.Equal(
                RefusedBecause.NotAllowed,
                (await change.Run(Of(roles), null, 0, With("Mine"), "why"))?.Because
            );
        var by = Of(Roles.Supervisor);
        Assert.Contains("why", (await change.Run(by, null, 0, With("A"), " "))!.ToString(), StringComparison.Ordinal);
        Assert.Equal(RefusedBecause.NotThere, (await change.Run(by, Guid.NewGuid(), 0, With("A"), "why"))?.Because);
        Assert.Null(await change.Run(by, null, 0, With("A"), "first"));
        Assert.Equal(RefusedBecause.ChangedMeanwhile, (await change.Run(by, null, 0, With("B"), "late"))?.Because);
        var (_, version) = (await shop.Get<TemplateReader>().InForce(null))!.Value;
        Assert.Equal(
            RefusedBecause.NotAcceptable,
            (await change.Run(by, null, version.Number, With("A"), "same"))?.Because
        );
        await using var db = await shop.Db();
        Assert.Equal(1, await db.ProvingTemplates.CountAsync());
    }

    [Theory, EachDatabase]
    public async Task Versions_can_neither_be_changed_nor_deleted(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        Assert.Null(await shop.Get<ChangeTemplate>().Run(Of(Roles.Supervisor), null, 0, With("A"), "first"));
        await using var db = await shop.Db();
        foreach (
            var statement in new[]
            {
                """UPDATE "ProvingTemplates" SET "Why" = 'other'""",
                """DELETE FROM "ProvingTemplates" """,
            }
        )
        {
            var refused = await Record.ExceptionAsync(() => db.Database.ExecuteSqlRawAsync(statement));
            Assert.Contains("append-only", refused?.Message ?? "nothing was refused", StringComparison.Ordinal);
        }
        Assert.Equal("first", (await db.ProvingTemplates.SingleAsync()).Why);
    }

    [Theory, EachDatabase]
    public async Task Nothing_is_set_up_again_that_was_not_released(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await TestJob.Make(shop);
        var refused = await shop.Get<StartProveOut>().Run(job.Setter, TestShop.Desk, job.Job.Id, Purpose.SetUpAgain);
        Assert.Contains("Nothing of this job was released", refused.Refused!.ToString(), StringComparison.Ordinal);
    }
}
