using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace Handwheel.Data;

/// <summary>
/// Sets up every SQLite connection the same way. <c>synchronous=FULL</c>, since with NORMAL an acknowledged commit can be
/// gone after a power cut. <c>recursive_triggers</c>, so that a REPLACE cannot go round the triggers that refuse a DELETE.
/// </summary>
public sealed class SqlitePragmas : DbConnectionInterceptor
{
    public static SqlitePragmas Instance { get; } = new();

    SqlitePragmas() { }

    const string Settings = """
        PRAGMA busy_timeout = 10000;
        PRAGMA journal_mode = WAL;
        PRAGMA synchronous = FULL;
        PRAGMA foreign_keys = ON;
        PRAGMA recursive_triggers = ON;
        """;

    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) =>
        Apply(connection);

    public override Task ConnectionOpenedAsync(
        DbConnection connection,
        ConnectionEndEventData eventData,
        CancellationToken cancellationToken = default
    )
    {
        Apply(connection);
        return Task.CompletedTask;
    }

    public static void Apply(DbConnection connection)
    {
        using (var set = connection.CreateCommand())
        {
            set.CommandText = Settings;
            set.ExecuteNonQuery();
        }
        Require((SqliteConnection)connection, "journal_mode", "wal");
        Require((SqliteConnection)connection, "synchronous", "2");
        Require((SqliteConnection)connection, "foreign_keys", "1");
    }

    /// <exception cref="ShopCannotStart">The setting did not take.</exception>
    static void Require(SqliteConnection connection, string setting, string wanted)
    {
        using var ask = connection.CreateCommand();
        ask.CommandText = "PRAGMA " + setting;
        var found = Convert.ToString(ask.ExecuteScalar(), System.Globalization.CultureInfo.InvariantCulture);
        if (!string.Equals(found, wanted, StringComparison.OrdinalIgnoreCase))
            throw new ShopCannotStart(
                $"SQLite does not keep what it acknowledges on this disk: {setting} is {found}, needed is {wanted}. Put {connection.DataSource} on a local disk."
            );
    }
}
