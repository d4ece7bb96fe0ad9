using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.People;
using Handwheel.Web.Hosting;
using Handwheel.Web.SigningIn;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using Npgsql;

namespace Handwheel.Web.Tests.Data;

/// <summary>A shop in a folder of its own, on one of the two databases, with a clock that the test moves.</summary>
public sealed class TestShop : IAsyncDisposable
{
    readonly ShopDatabase database;
    ServiceProvider services = null!;

    TestShop(ShopDatabase database) => this.database = database;

    public static async Task<TestShop> Open(Engine engine, PostgresCluster cluster)
    {
        var folder = new ShopFolder(Directory.CreateTempSubdirectory("handwheel-shop-").FullName);
        var shop = new TestShop(
            new ShopDatabase(folder, engine == Engine.Postgres ? await cluster.NewDatabase() : null)
        );
        await shop.Start();
        return shop;
    }

    public FakeTimeProvider Time { get; } = new(new DateTimeOffset(2026, 3, 2, 6, 0, 0, TimeSpan.Zero));
    public ShopFolder Folder => database.Folder;
    public static Place Desk { get; } = Place.Browser("127.0.0.1");

    public T Get<T>()
        where T : notnull => services.GetRequiredService<T>();

    public Task<HandwheelDb> Db() => Get<IDbContextFactory<HandwheelDb>>().CreateDbContextAsync();

    async Task Start()
    {
        var collection = new ServiceCollection();
        collection.AddLogging();
        collection.AddSingleton<TimeProvider>(Time);
        collection.AddSingleton(new SecretHash(rounds: 10));
        collection.AddHandwheelShop(database);
        services = collection.BuildServiceProvider();
        await Get<OpenShop>().Run();
    }

    /// <summary>Ends the process's view of the shop and opens it anew from what is stored.</summary>
    public async Task Restart()
    {
        await services.DisposeAsync();
        SqliteConnection.ClearAllPools();
        await Start();
    }

    /// <summary>Does something while nobody has the shop open.</summary>
    public async Task While(Action closed)
    {
        await services.DisposeAsync();
        SqliteConnection.ClearAllPools();
        closed();
        await Start();
    }

    /// <inheritdoc cref="While"/>
    public async Task WhileAsync(Func<Task> closed)
    {
        await services.DisposeAsync();
        SqliteConnection.ClearAllPools();
        await closed();
        await Start();
    }

    public static Actor Boss { get; } = new(Guid.NewGuid(), "administrator", Roles.Administrator | Roles.Supervisor);

    public async Task<Person> Hire(string name, Roles roles, string pin = "204865", string? password = null)
    {
        if (password is null && SignIn.NeedsPassword(roles))
            password = "gauge block under the tip";
        return (await Get<AddPerson>().Run(Boss, name, roles, pin, password)).Must;
    }

    public async ValueTask DisposeAsync()
    {
        await services.DisposeAsync();
        SqliteConnection.ClearAllPools();
        // A server has only so many connections, and each shop has a database and so a pool of its own.
        if (database.Postgres is { } postgres)
            await using (var connection = new NpgsqlConnection(postgres))
                NpgsqlConnection.ClearPool(connection);
        Directory.Delete(Folder.Path, recursive: true);
    }
}
