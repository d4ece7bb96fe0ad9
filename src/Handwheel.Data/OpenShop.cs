using System.Globalization;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;

namespace Handwheel.Data;

/// <summary>Makes the shop ready to be used: folder, engine, tables up to date, settings row.</summary>
public sealed class OpenShop(
    ShopDatabase database,
    IDbContextFactory<HandwheelDb> databases,
    TimeProvider time,
    ILogger<OpenShop> log
) : IDisposable
{
    SqliteConnection? held;

    /// <exception cref="ShopCannotStart">With the reason in words.</exception>
    public async Task Run(CancellationToken ct = default)
    {
        database.Folder.Make();
        if (!database.IsPostgres)
        {
            SqliteEngine.RefuseOld(SqliteEngine.Running());
            SqliteEngine.RefuseNetworkDisk(database.Folder.Path);
        }
        try
        {
            Hold();
            await Migrate(ct);
        }
        catch (Exception e) when (e is SqliteException or Npgsql.NpgsqlException)
        {
            throw new ShopCannotStart(
                $"The shop's database cannot be opened ({database.Description}): {(e is SqliteException sqlite ? SqliteWords.Of(sqlite) : e.Message)}",
                e
            );
        }
    }

    /// <summary>
    /// Keeps one connection open as long as the shop is: a restore can see that somebody is at work, and the write-ahead log
    /// stays where a crash would need it.
    /// </summary>
    void Hold()
    {
        if (database.IsPostgres || held is not null)
            return;
        KeepToOurselves(database.Folder.Database);
        held = SqliteBackup.Open(database.Folder.Database, SqliteOpenMode.ReadWriteCreate);
        SqlitePragmas.Apply(held);
        using var touch = held.CreateCommand();
        touch.CommandText = "SELECT count(*) FROM sqlite_schema";
        touch.ExecuteScalar();
    }

    /// <summary>SQLite gives its log the rights of the database, so these are set before the log is made.</summary>
    static void KeepToOurselves(string file)
    {
        if (OperatingSystem.IsWindows())
            return;
        using (File.Open(file, FileMode.OpenOrCreate))
            File.SetUnixFileMode(file, UnixFileMode.UserRead | UnixFileMode.UserWrite);
    }

    public void Dispose() => held?.Dispose();

    async Task Migrate(CancellationToken ct)
    {
        await using var db = await databases.CreateDbContextAsync(ct);
        var known = db.Database.GetMigrations().ToHashSet(StringComparer.Ordinal);
        var applied = (await AppliedMigrations(db, ct)).ToList();
        var newer = applied.Find(a => !known.Contains(a));
        if (newer is not null)
            throw new ShopCannotStart(
                $"The shop's database was written by a newer Handwheel (it has {newer}). Start that version, or restore a backup made with this one."
            );
        if (applied.Count > 0 && applied.Count < known.Count && !database.IsPostgres)
            CopyBeforeMigrating(applied[^1]);
        await db.Database.MigrateAsync(ct);
        await RequireDurable(db, ct);
        if (!await db.Settings.AnyAsync(ct))
        {
            db.Settings.Add(new ShopSettings { Id = ShopSettings.Only, Zone = TimeZoneInfo.Local.Id });
            await db.SaveChangesAsync(ct);
        }
    }

    static async Task<IEnumerable<string>> AppliedMigrations(HandwheelDb db, CancellationToken ct) =>
        await db.Database.CanConnectAsync(ct) ? await db.Database.GetAppliedMigrationsAsync(ct) : [];

    void CopyBeforeMigrating(string lastMigration)
    {
        var stamp = time.GetUtcNow().ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);
        var copy = Path.Combine(database.Folder.Path, $"before-update-{stamp}-{lastMigration}.db");
        SqliteBackup.Copy(database.Folder.Database, copy);
        log.LogInformation("The database is brought up to date; a copy of what it was is in {Copy}.", copy);
    }

    /// <summary>A PostgreSQL server that acknowledges before it has written is refused.</summary>
    static async Task RequireDurable(HandwheelDb db, CancellationToken ct)
    {
        if (!db.Database.IsNpgsql())
            return;
        foreach (var setting in new[] { "fsync", "full_page_writes", "synchronous_commit" })
        {
            var found = await db
                .Database.SqlQuery<string>($"SELECT current_setting({setting}) AS \"Value\"")
                .SingleAsync(ct);
            if (found == "off")
                throw new ShopCannotStart(
                    $"This PostgreSQL server has {setting} off: what it acknowledges can be lost with the power. Turn it on."
                );
        }
    }
}
