using Microsoft.Data.Sqlite;

namespace Handwheel.Data;

/// <summary>Copies and examines SQLite shop databases.</summary>
public static class SqliteBackup
{
    /// <summary>
    /// Writes a complete, consistent copy while the shop is in use (VACUUM INTO), readable by this account alone.
    /// </summary>
    /// <exception cref="IOException"><paramref name="copy"/> exists already.</exception>
    public static void Copy(string database, string copy)
    {
        if (File.Exists(copy))
            throw new IOException($"{copy} exists already; a backup never overwrites a file.");
        using var connection = new SqliteConnection(
            new SqliteConnectionStringBuilder
            {
                DataSource = database,
                Mode = SqliteOpenMode.ReadWrite,
                Pooling = false,
                DefaultTimeout = 30,
            }.ConnectionString
        );
        connection.Open();
        using (var vacuum = connection.CreateCommand())
        {
            vacuum.CommandText = "VACUUM INTO $copy";
            vacuum.Parameters.AddWithValue("$copy", copy);
            vacuum.CommandTimeout = 0;
            vacuum.ExecuteNonQuery();
        }
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(copy, UnixFileMode.UserRead | UnixFileMode.UserWrite);
    }
}
