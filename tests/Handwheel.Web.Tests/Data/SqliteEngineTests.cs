using Handwheel.Data;
using Microsoft.Data.Sqlite;

namespace Handwheel.Web.Tests.Data;

public sealed class SqliteEngineTests(PostgresCluster cluster)
{
    [Theory]
    [InlineData("3.49.1", false)]
    [InlineData("3.51.2", false)]
    [InlineData("3.51.3", true)]
    [InlineData("3.53.3", true)]
    [InlineData("", false)]
    public void An_engine_that_can_lose_commits_is_refused(string version, bool good)
    {
        var refused = Record.Exception(() => SqliteEngine.RefuseOld(version));
        Assert.Equal(good, refused is null);
        if (!good)
            Assert.Contains(
                "3.51.3 or newer",
                Assert.IsType<ShopCannotStart>(refused).Message,
                StringComparison.Ordinal
            );
    }

    [Fact]
    public void The_engine_that_comes_along_is_good() => SqliteEngine.RefuseOld(SqliteEngine.Running());

    [Theory]
    [InlineData("/srv/shop", "/srv", "nfs4", true)]
    [InlineData("/srv/shop", "/srv/shop", "cifs", true)]
    [InlineData("/srv/shop", "/srv", "ext4", false)]
    [InlineData("/srv/shop", "/srv/shops", "nfs", false)]
    [InlineData("/srv/my shop", @"/srv/my\040shop", "fuse.sshfs", true)]
    public void A_network_disk_is_refused(string folder, string mountPoint, string kind, bool refused)
    {
        var mounts = $"""
            22 1 254:1 / / rw,relatime shared:1 - ext4 /dev/root rw
            90 22 0:45 / {mountPoint} rw,relatime shared:1 - {kind} somewhere rw
            """;
        var fault = Record.Exception(() => SqliteEngine.RefuseNetworkDisk(folder, mounts));
        Assert.Equal(refused, fault is ShopCannotStart);
    }

    [Fact]
    public async Task Every_connection_keeps_what_it_acknowledges()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        await using var connection = new SqliteConnection(SqliteFile.ConnectionString(shop.Folder.Database));
        await connection.OpenAsync();
        SqlitePragmas.Apply(connection);
        await using var ask = connection.CreateCommand();
        foreach (
            var (setting, value) in new[] { ("synchronous", 2L), ("foreign_keys", 1L), ("recursive_triggers", 1L) }
        )
        {
            ask.CommandText = "PRAGMA " + setting;
            Assert.Equal(value, await ask.ExecuteScalarAsync());
        }
        ask.CommandText = "PRAGMA journal_mode";
        Assert.Equal("wal", await ask.ExecuteScalarAsync());
    }

    [Fact]
    public async Task A_database_of_a_newer_version_is_refused()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        await using (var connection = new SqliteConnection(SqliteFile.ConnectionString(shop.Folder.Database)))
        {
            await connection.OpenAsync();
            await using var add = connection.CreateCommand();
            add.CommandText = """INSERT INTO "__EFMigrationsHistory" VALUES ('29990101000000_Later', '99')""";
            await add.ExecuteNonQueryAsync();
        }
        var refused = await Assert.ThrowsAsync<ShopCannotStart>(() => shop.Get<OpenShop>().Run());
        Assert.Contains("newer Handwheel", refused.Message, StringComparison.Ordinal);
    }
}
