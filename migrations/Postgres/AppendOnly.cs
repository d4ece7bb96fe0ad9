using Microsoft.EntityFrameworkCore.Migrations;

namespace Handwheel.Migrations.Postgres;

static class AppendOnly
{
    /// <summary>From here on rows of <paramref name="table"/> are only ever added.</summary>
    public static void OnlyAppend(this MigrationBuilder migration, string table) =>
        migration.Sql(
            $"""
            CREATE OR REPLACE FUNCTION handwheel_append_only() RETURNS trigger LANGUAGE plpgsql AS
            $$ BEGIN RAISE EXCEPTION '% is append-only: a correction is a new row', TG_TABLE_NAME; END $$;
            CREATE TRIGGER "{table}_append_only" BEFORE UPDATE OR DELETE ON "{table}"
            FOR EACH ROW EXECUTE FUNCTION handwheel_append_only();
            CREATE TRIGGER "{table}_no_truncate" BEFORE TRUNCATE ON "{table}"
            FOR EACH STATEMENT EXECUTE FUNCTION handwheel_append_only();
            """
        );
}
