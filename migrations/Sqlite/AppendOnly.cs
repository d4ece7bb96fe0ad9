using Microsoft.EntityFrameworkCore.Migrations;

namespace Handwheel.Migrations.Sqlite;

static class AppendOnly
{
    /// <summary>
    /// From here on rows of <paramref name="table"/> are only ever added. A later migration that rebuilds the table has
    /// to call this again, since SQLite drops triggers with their table.
    /// </summary>
    public static void OnlyAppend(this MigrationBuilder migration, string table)
    {
        foreach (var change in new[] { "UPDATE", "DELETE" })
            migration.Sql(
                $"""
                CREATE TRIGGER "{table}_no_{change}" BEFORE {change} ON "{table}"
                BEGIN SELECT RAISE(ABORT, '{table} is append-only: a correction is a new row'); END;
                """
            );
    }
}
