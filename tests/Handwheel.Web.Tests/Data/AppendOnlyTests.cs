using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

public sealed class AppendOnlyTests(PostgresCluster cluster)
{
    [Theory, EachDatabase]
    public async Task Entries_and_readings_can_neither_be_changed_nor_deleted(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        await using var db = await shop.Db();
        db.MachineReadings.Add(
            new()
            {
                MachineId = job.Machine.Id,
                Register = "G54",
                Axis = "z",
                Typed = "1",
                PersonName = "day setter",
            }
        );
        await db.SaveChangesAsync();
        foreach (
            var statement in new[]
            {
                """UPDATE "ProveOutEntries" SET "Body" = 'other'""",
                """DELETE FROM "ProveOutEntries" """,
                """UPDATE "MachineReadings" SET "Typed" = '0'""",
                """DELETE FROM "MachineReadings" """,
            }
        )
        {
            var refused = await Record.ExceptionAsync(() => db.Database.ExecuteSqlRawAsync(statement));
            Assert.Contains("append-only", refused?.Message ?? "nothing was refused", StringComparison.Ordinal);
        }
        Assert.Equal(1, await db.ProveOutEntries.CountAsync());
        Assert.Equal("1", (await db.MachineReadings.SingleAsync()).Typed);
    }

    [Fact]
    public async Task A_replace_does_not_go_round_it_on_SQLite()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        await (await TestJob.Make(shop)).Begin();
        await using var db = await shop.Db();
        const string replace = """
            INSERT OR REPLACE INTO "ProveOutEntries" SELECT "ProveOutId", "Number", "At", "PersonId", 'other', "PreviousHash", "Hash"
            FROM "ProveOutEntries"
            """;
        var columns = await db
            .Database.SqlQueryRaw<string>(
                """SELECT group_concat(name) AS "Value" FROM pragma_table_info('ProveOutEntries')"""
            )
            .SingleAsync();
        Assert.Equal("ProveOutId,Number,At,PersonId,Body,PreviousHash,Hash", columns);
        var refused = await Record.ExceptionAsync(() => db.Database.ExecuteSqlRawAsync(replace));
        Assert.Contains("append-only", refused?.Message ?? "nothing was refused", StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_truncate_does_not_go_round_it_on_PostgreSQL()
    {
        await using var shop = await TestShop.Open(Engine.Postgres, cluster);
        await using var db = await shop.Db();
        var refused = await Record.ExceptionAsync(() =>
            db.Database.ExecuteSqlRawAsync("""TRUNCATE "ProveOutEntries" """)
        );
        Assert.Contains("append-only", refused?.Message ?? "nothing was refused", StringComparison.Ordinal);
    }
}
