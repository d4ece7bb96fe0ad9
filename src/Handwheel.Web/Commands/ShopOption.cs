using System.CommandLine;
using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Hosting;

namespace Handwheel.Web.Commands;

/// <summary>The option <c>--shop FOLDER</c> of the verbs that work on a shop.</summary>
static class ShopOption
{
    public static Option<string> Make() =>
        new("--shop")
        {
            Description = "The shop's folder (HANDWHEEL_SHOP, else the folder shop here).",
            HelpName = "FOLDER",
        };

    public static ShopDatabase Read(string? folder)
    {
        var settings = new ConfigurationBuilder().AddEnvironmentVariables();
        if (folder is not null)
            settings.AddInMemoryCollection(
                new Dictionary<string, string?>(StringComparer.Ordinal) { ["shop"] = folder }
            );
        return ShopServices.ShopAt(settings.Build());
    }

    /// <summary>The shop's SQLite file; backup and restore of PostgreSQL are done with its own tools.</summary>
    public static ShopDatabase OnSqlite(string? folder, string verb)
    {
        var shop = Read(folder);
        return shop.IsPostgres
            ? throw new InputFault(
                $"handwheel {verb}: this shop is on PostgreSQL; use pg_dump and pg_restore, which copy it whole while it is in use"
            )
            : shop;
    }
}
