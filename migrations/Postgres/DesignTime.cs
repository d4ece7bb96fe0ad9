using Handwheel.Data;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Handwheel.Migrations.Postgres;

/// <summary>Lets <c>dotnet ef</c> see the model without a server.</summary>
public sealed class DesignTime : IDesignTimeDbContextFactory<HandwheelDb>
{
    public HandwheelDb CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<HandwheelDb>();
        new ShopDatabase(new ShopFolder(Path.GetTempPath()), "Host=localhost").Configure(options);
        return new HandwheelDb(options.Options);
    }
}
