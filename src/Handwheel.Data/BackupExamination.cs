using System.Globalization;
using System.Text;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Data;

/// <summary>What a good backup holds.</summary>
/// <param name="NewestEntry">When the newest entry of a prove-out was written; null: there is none.</param>
public sealed record BackupFacts(
    int People,
    int Jobs,
    int ProveOuts,
    int Entries,
    int Files,
    DateTimeOffset? NewestEntry
);

/// <summary>A backup is one only after it was looked through: this is how.</summary>
public sealed class BadBackup(string message) : Exception(message);

public static class BackupExamination
{
    const int HeaderBytes = 16;
    static ReadOnlySpan<byte> Header => "SQLite format 3\0"u8;

    /// <summary>
    /// Looks through every page, reference, file and prove-out of a backup. It is opened read-only and not changed.
    /// </summary>
    /// <exception cref="BadBackup">Says what is wrong with it, in words.</exception>
    public static async Task<BackupFacts> Run(string file)
    {
        RefuseNotSqlite(file);
        try
        {
            await using var connection = SqliteBackup.Open(file, SqliteOpenMode.ReadOnly);
            await RefuseDamaged(connection, file);
            var options = new DbContextOptionsBuilder<HandwheelDb>().UseSqlite(
                connection,
                sqlite => sqlite.MigrationsAssembly("Handwheel.Migrations.Sqlite")
            );
            await using var db = new HandwheelDb(options.Options);
            await RefuseOtherTables(db, file);
            await RefuseChangedFiles(db, file);
            await RefuseBrokenChains(db, file);
            return await Facts(db);
        }
        catch (Exception e)
            when (e is SqliteException or FormatException or InvalidCastException or InvalidOperationException)
        {
            throw new BadBackup(
                $"{file} is damaged: {(e is SqliteException sqlite ? SqliteWords.Of(sqlite) : e.Message)}"
            );
        }
    }

    static void RefuseNotSqlite(string file)
    {
        if (!File.Exists(file))
            throw new BadBackup($"{file}: found no such file, expected a backup of a shop.");
        using var stream = File.OpenRead(file);
        var start = new byte[HeaderBytes];
        if (
            stream.ReadAtLeast(start, HeaderBytes, throwOnEndOfStream: false) < HeaderBytes
            || !start.AsSpan().SequenceEqual(Header)
        )
            throw new BadBackup($"{file}: found a file that is no SQLite database, expected a backup of a shop.");
    }

    static async Task RefuseDamaged(SqliteConnection connection, string file)
    {
        foreach (var check in new[] { "integrity_check", "foreign_key_check" })
        {
            await using var command = connection.CreateCommand();
            command.CommandText = "PRAGMA " + check;
            command.CommandTimeout = 0;
            await using var rows = await command.ExecuteReaderAsync();
            if (!await rows.ReadAsync())
                continue;
            var found = Convert.ToString(rows.GetValue(0), CultureInfo.InvariantCulture);
            if (check == "foreign_key_check")
                throw new BadBackup($"{file} is damaged: a row of {found} refers to something that is not there.");
            if (found != "ok")
                throw new BadBackup($"{file} is damaged: {found}");
        }
    }

    static async Task RefuseOtherTables(HandwheelDb db, string file)
    {
        var known = db.Database.GetMigrations().ToHashSet(StringComparer.Ordinal);
        var applied = (await db.Database.GetAppliedMigrationsAsync()).ToList();
        if (applied.Count == 0)
            throw new BadBackup($"{file}: found a database that is no shop's, expected a backup of a shop.");
        if (applied.Find(a => !known.Contains(a)) is { } newer)
            throw new BadBackup($"{file} was made by a newer Handwheel ({newer}). Restore it with that version.");
        if (applied.Count < known.Count)
            throw new BadBackup(
                $"{file} was made by an older Handwheel. Put it into an empty folder as handwheel.db and start Handwheel there: that brings it up to date."
            );
    }

    static async Task RefuseChangedFiles(HandwheelDb db, string file)
    {
        await foreach (var stored in db.Files.AsNoTracking().AsAsyncEnumerable())
            if (StoredFile.Digest(stored.Content) != stored.Sha256)
                throw new BadBackup($"{file} is damaged: the stored file {stored.Sha256} is not what it was.");
    }

    static async Task RefuseBrokenChains(HandwheelDb db, string file)
    {
        foreach (var log in await db.ProveOuts.AsNoTracking().ToListAsync())
        {
            var (number, hash) = (0L, RecordChain.Start);
            var rows = db.ProveOutEntries.AsNoTracking().Where(e => e.ProveOutId == log.Id).OrderBy(e => e.Number);
            await foreach (var row in rows.AsAsyncEnumerable())
            {
                number++;
                var body = Encoding.UTF8.GetBytes(row.Body);
                hash = RecordChain.Next(log.Id, number, hash, body);
                if (row.Number != number || row.Hash != Convert.ToHexStringLower(hash))
                    throw new BadBackup($"{file}: entry {number} of prove-out {log.Id} is not as it was written.");
                await RefuseMissingPhoto(db, file, log.Id, EntryJson.Read(body));
            }
            if (number != log.LastNumber || log.LastHash != Convert.ToHexStringLower(hash))
                throw new BadBackup(
                    $"{file}: prove-out {log.Id} has {number} entries, expected {log.LastNumber}: some are missing."
                );
        }
    }

    static async Task RefuseMissingPhoto(HandwheelDb db, string file, Guid log, Entry entry)
    {
        if (entry.Act is PhotoAdded photo && !await db.Files.AnyAsync(f => f.Sha256 == photo.Sha256))
            throw new BadBackup($"{file}: the photo of entry {entry.Number} of prove-out {log} is missing.");
    }

    static async Task<BackupFacts> Facts(HandwheelDb db) =>
        new(
            await db.People.CountAsync(),
            await db.Jobs.CountAsync(),
            await db.ProveOuts.CountAsync(),
            await db.ProveOutEntries.CountAsync(),
            await db.Files.CountAsync(),
            await db.ProveOutEntries.MaxAsync(e => (DateTimeOffset?)e.At)
        );
}
