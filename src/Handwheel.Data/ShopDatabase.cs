using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Data;

/// <summary>Which database the shop uses: SQLite in its folder, or PostgreSQL when a connection string is given.</summary>
public sealed record ShopDatabase(ShopFolder Folder, string? Postgres)
{
    public bool IsPostgres => !string.IsNullOrWhiteSpace(Postgres);

    /// <summary>In words and without a password.</summary>
    public string Description =>
        IsPostgres
            ? "PostgreSQL " + new Npgsql.NpgsqlConnectionStringBuilder(Postgres) { Password = null }.ConnectionString
            : "SQLite " + Folder.Database;

    public void Configure(DbContextOptionsBuilder options)
    {
        if (IsPostgres)
            options.UseNpgsql(Postgres, npgsql => npgsql.MigrationsAssembly("Handwheel.Migrations.Postgres"));
        else
            options
                .UseSqlite(
                    SqliteFile.ConnectionString(Folder.Database),
                    sqlite => sqlite.MigrationsAssembly("Handwheel.Migrations.Sqlite")
                )
                .AddInterceptors(SqlitePragmas.Instance);
    }
}

public static class SqliteFile
{
    public static string ConnectionString(string file) =>
        new SqliteConnectionStringBuilder
        {
            DataSource = file,
            Mode = SqliteOpenMode.ReadWriteCreate,
            ForeignKeys = true,
            DefaultTimeout = 30,
        }.ConnectionString;
}
