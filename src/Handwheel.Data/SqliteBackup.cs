using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Handwheel.Data;

/// <summary>Copies SQLite shop databases and puts them back.</summary>
public static class SqliteBackup
{
    /// <summary>
    /// Writes a complete, consistent copy while the shop is in use (VACUUM INTO), readable by this account alone.
    /// </summary>
    /// <exception cref="IOException"><paramref name="copy"/> exists already, or cannot be written.</exception>
    public static void Copy(string database, string copy)
    {
        if (File.Exists(copy))
            throw new IOException($"{copy} exists already; a backup never overwrites a file.");
        using var connection = Open(database, SqliteOpenMode.ReadWrite);
        try
        {
            using var vacuum = connection.CreateCommand();
            vacuum.CommandText = "VACUUM INTO $copy";
            vacuum.Parameters.AddWithValue("$copy", copy);
            vacuum.CommandTimeout = 0;
            vacuum.ExecuteNonQuery();
        }
        catch (SqliteException e)
        {
            File.Delete(copy);
            throw new IOException($"{copy} cannot be written: {SqliteWords.Of(e)}.", e);
        }
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(copy, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        Flush(copy);
    }

    /// <summary>
    /// Puts a backup in the place of the shop's database. The one that was there is kept beside it, whatever is in it; the
    /// answer is its path, null when there was none. Examine the backup first.
    /// </summary>
    /// <exception cref="IOException">The app still serves this shop, or the disk refuses.</exception>
    public static string? Restore(string backup, ShopFolder folder, DateTimeOffset now)
    {
        folder.Make();
        string? aside = null;
        var replaces = File.Exists(folder.Database);
        if (replaces)
            FoldInTheLog(folder.Database);
        var fresh = folder.Database + ".restoring";
        File.Copy(backup, fresh, overwrite: true);
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(fresh, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        Flush(fresh);
        if (replaces)
        {
            var stamp = now.UtcDateTime.ToString("yyyyMMdd'T'HHmmssfff'Z'", CultureInfo.InvariantCulture);
            aside = Path.Combine(folder.Path, $"replaced-{stamp}.db");
            File.Move(folder.Database, aside);
        }
        File.Move(fresh, folder.Database);
        return aside;
    }

    /// <summary>Leaves everything in the one file, which works only while nobody else has it open.</summary>
    static void FoldInTheLog(string database)
    {
        SqliteConnection.ClearAllPools();
        try
        {
            using var connection = Open(database, SqliteOpenMode.ReadWrite);
            using var fold = connection.CreateCommand();
            fold.CommandText = "PRAGMA busy_timeout = 0; PRAGMA journal_mode = DELETE";
            fold.CommandTimeout = 1;
            using var rows = fold.ExecuteReader();
            var mode = rows.Read() ? rows.GetString(0) : "";
            if (rows.NextResult() && rows.Read())
                mode = rows.GetString(0);
            if (mode != "delete")
                throw new IOException(InUse(database));
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 5 or 6)
        {
            throw new IOException(InUse(database), e);
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 11 or 26)
        {
            // What is there is damaged: it is put aside as it is, with whatever log it has.
            foreach (var part in new[] { "-wal", "-shm" })
                if (File.Exists(database + part))
                    File.Move(database + part, database + part + ".damaged", overwrite: true);
        }
    }

    static string InUse(string database) => $"{database} is in use: stop Handwheel, then restore.";

    internal static SqliteConnection Open(string database, SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(
            new SqliteConnectionStringBuilder
            {
                DataSource = database,
                Mode = mode,
                Pooling = false,
                DefaultTimeout = 30,
            }.ConnectionString
        );
        connection.Open();
        return connection;
    }

    static void Flush(string file)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.ReadWrite);
        stream.Flush(flushToDisk: true);
    }
}
