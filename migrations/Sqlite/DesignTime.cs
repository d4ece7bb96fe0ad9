using Handwheel.Data;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Handwheel.Migrations.Sqlite;

/// <summary>Lets <c>dotnet ef</c> see the model without a shop.</summary>
public sealed class DesignTime : IDesignTimeDbContextFactory<HandwheelDb>
{
    public HandwheelDb CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<HandwheelDb>();
        new ShopDatabase(new ShopFolder(Path.GetTempPath()), Postgres: null).Configure(options);
        return new HandwheelDb(options.Options);
    }
}
