using Handwheel.Data;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Data;

/// <summary>The whole app on a new shop in a folder of its own.</summary>
public class ShopApp : WebApplicationFactory<Program>
{
    public string Folder { get; } = Directory.CreateTempSubdirectory("handwheel-app-").FullName;

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseSetting("shop", Folder);
        builder.ConfigureServices(services => services.AddSingleton(new SecretHash(rounds: 10)));
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        SqliteConnection.ClearAllPools();
        if (Directory.Exists(Folder))
            Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }
}
