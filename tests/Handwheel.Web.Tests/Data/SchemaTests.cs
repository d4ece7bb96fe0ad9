using Handwheel.Data;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

public sealed class SchemaTests(PostgresCluster cluster)
{
    [Theory, EachDatabase]
    public async Task Migrations_say_all_that_the_model_says(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        await using var db = await shop.Db();
        Assert.False(db.Database.HasPendingModelChanges());
        Assert.Empty(await db.Database.GetPendingMigrationsAsync());
    }

    [Theory, EachDatabase]
    public async Task A_version_that_moved_on_is_noticed(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        await using var first = await shop.Db();
        await using var second = await shop.Db();
        (await first.Shop()).ShopName = "North";
        (await second.Shop()).ShopName = "South";
        await first.SaveChangesAsync();
        await Assert.ThrowsAsync<DbUpdateConcurrencyException>(() => second.SaveChangesAsync());
    }

    [Theory, EachDatabase]
    public async Task Times_come_back_in_order_and_in_UTC(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var noon = new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.FromHours(-5));
        await using (var db = await shop.Db())
        {
            db.FailedSignIns.Add(new FailedSignIn { At = noon, Where = "b" });
            db.FailedSignIns.Add(
                new FailedSignIn { At = noon.ToOffset(TimeSpan.FromHours(9)).AddMinutes(-1), Where = "a" }
            );
            await db.SaveChangesAsync();
        }
        await using var again = await shop.Db();
        var rows = await again.FailedSignIns.OrderBy(f => f.At).ToListAsync();
        Assert.Equal(["a", "b"], rows.Select(r => r.Where));
        Assert.Equal(noon, rows[1].At);
        Assert.Equal(TimeSpan.Zero, rows[1].At.Offset);
    }
}
