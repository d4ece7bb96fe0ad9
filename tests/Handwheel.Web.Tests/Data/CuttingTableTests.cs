using System.Text;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Cutting;
using Handwheel.Web.Features.Jobs;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

/// <summary>The shop's cutting table: who may change it, what is kept, and that checks use it.</summary>
public sealed class CuttingTableTests(PostgresCluster cluster)
{
    static CuttingTable With(CuttingTable table, string name) => table with { Name = name };

    static Actor Of(Roles roles) => new(Guid.NewGuid(), "programmer", roles);

    [Theory, EachDatabase]
    public async Task Every_version_is_kept_with_who_and_when_and_the_newest_is_in_force(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var (change, reader) = (shop.Get<ChangeCuttingTable>(), shop.Get<CuttingTableReader>());
        var (builtIn, none) = await reader.InForce();
        Assert.Null(none);
        Assert.Equal(BuiltInCutting.Table.Sha256, builtIn.Sha256);

        var by = Of(Roles.Programmer);
        Assert.Null(await change.Run(by, 0, With(builtIn, "First"), "our drills"));
        shop.Time.Advance(TimeSpan.FromHours(1));
        var (first, one) = await reader.InForce();
        Assert.Null(await change.Run(by, one!.Number, With(first, "Second"), ""));

        await shop.Restart();
        reader = shop.Get<CuttingTableReader>();
        var (second, two) = await reader.InForce();
        Assert.Equal("Second", second.Name);
        Assert.Equal(("programmer", "our drills", one.At.AddHours(1)), (two!.PersonName, one.Why, two.At));
        Assert.Equal("First", (await reader.Find(first.Sha256))!.Name);
        Assert.Null(await reader.Find(new string('0', 64)));
        Assert.Equal(BuiltInCutting.Table.Sha256, (await reader.Find(builtIn.Sha256))!.Sha256);
    }

    [Fact]
    public async Task The_table_that_came_with_the_app_is_kept_for_later_versions_of_it()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        await shop.Get<KeepBuiltInTable>().Run();
        await shop.Get<KeepBuiltInTable>().Run();
        await using var db = await shop.Db();
        var kept = await db.Files.SingleAsync(f => f.Sha256 == BuiltInCutting.Table.Sha256);
        Assert.Equal(CuttingFile.Write(BuiltInCutting.Table), kept.Content);
        var program = Handwheel.Data.StoredFile.Of("G0 X1."u8.ToArray(), shop.Time.GetUtcNow());
        db.Files.Add(program);
        await db.SaveChangesAsync();
        Assert.Null(await shop.Get<CuttingTableReader>().Find(program.Sha256));
    }

    [Theory, EachDatabase]
    public async Task Versions_can_neither_be_changed_nor_deleted(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        Assert.Null(
            await shop.Get<ChangeCuttingTable>().Run(Of(Roles.Supervisor), 0, With(BuiltInCutting.Table, "Ours"), "")
        );
        await using var db = await shop.Db();
        foreach (
            var statement in new[]
            {
                """UPDATE "CuttingTables" SET "Why" = 'other'""",
                """DELETE FROM "CuttingTables" """,
            }
        )
        {
            var refused = await Record.ExceptionAsync(() => db.Database.ExecuteSqlRawAsync(statement));
            Assert.Contains("append-only", refused?.Message ?? "nothing was refused", StringComparison.Ordinal);
        }
        Assert.Equal("", (await db.CuttingTables.SingleAsync()).Why);
    }

    [Theory, EachDatabase]
    public async Task Only_those_who_keep_it_change_it_and_nobody_over_somebody_elses_change(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var change = shop.Get<ChangeCuttingTable>();
        var ours = With(BuiltInCutting.Table, "Ours");
        foreach (var roles in new[] { Roles.Operator, Roles.Setter })
            Assert.Equal(RefusedBecause.NotAllowed, (await change.Run(Of(roles), 0, ours, ""))?.Because);
        Assert.Null(await change.Run(Of(Roles.Administrator), 0, ours, ""));
        var late = await change.Run(Of(Roles.Programmer), 0, With(ours, "Late"), "");
        Assert.Equal(RefusedBecause.ChangedMeanwhile, late?.Because);
        var (_, version) = await shop.Get<CuttingTableReader>().InForce();
        var same = await change.Run(Of(Roles.Programmer), version!.Number, ours, "");
        Assert.Equal(RefusedBecause.NotAcceptable, same?.Because);
        await using var db = await shop.Db();
        Assert.Equal(1, await db.CuttingTables.CountAsync());
    }

    [Fact]
    public async Task A_jobs_check_uses_the_table_in_force_and_says_which()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await TestJob.Make(shop);
        var jobs = shop.Get<JobReader>();
        var before = (await jobs.Open(job.Job.Id))!.Check;
        Assert.Equal(BuiltInCutting.Table.Sha256, before.CuttingData?.Sha256);

        var slow = CuttingFile.Read(
            Encoding.UTF8.GetBytes(
                """
                { "format": "handwheel-cutting/1", "name": "Slow", "sources": [ { "id": "us", "kind": "shopsOwn", "name": "bay 3" } ],
                  "materials": [ { "name": "aluminium" } ], "toolMaterials": [],
                  "rows": [ { "figure": "cuttingSpeed", "units": "inch", "tools": ["end mill", "face mill", "drill"], "most": 1, "source": "us" } ] }
                """
            ),
            "slow.json"
        );
        Assert.Null(await shop.Get<ChangeCuttingTable>().Run(Of(Roles.Programmer), 0, slow, ""));
        var after = (await jobs.Open(job.Job.Id))!.Check;
        Assert.Equal(new("Slow", slow.Sha256), after.CuttingData);
        Assert.Contains(
            after.Findings,
            f => f.Id == "cutting-speed" && f.Message.Contains("bay 3", StringComparison.Ordinal)
        );
    }
}
