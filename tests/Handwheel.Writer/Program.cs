using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Hosting;
using Handwheel.Web.SigningIn;
using Handwheel.Writer;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;

// Writes into a shop as the server does, in a process of its own that tests kill, cut off from power, or give a bad disk.
//   notes  FOLDER PROVE-OUT PERSON FIRST COUNT   notes FIRST, FIRST+1, … in the prove-out; says "acked N" after each
//   faults FOLDER PROVE-OUT PERSON               one note after the other, each with the next disk call failing
//   normal FOLDER COUNT                          rows in a database of its own with synchronous=NORMAL: the control
switch (args)
{
    case ["notes", var folder, var proveOut, var person, var first, var count]:
        await using (var shop = await Open(folder))
            await Notes(shop, proveOut, person, Number(first), Number(count));
        return 0;
    case ["faults", var folder, var proveOut, var person]:
        await using (var shop = await Open(folder))
            return await DiskFaults.Run(shop, n => Note(shop, proveOut, person, n));
    case ["normal", var folder, var count]:
        Normal(folder, Number(count));
        return 0;
    default:
        await Console.Error.WriteLineAsync(
            "expected: notes FOLDER PROVE-OUT PERSON FIRST COUNT, faults FOLDER PROVE-OUT PERSON, or normal FOLDER COUNT"
        );
        return 2;
}

static int Number(string text) => int.Parse(text, NumberStyles.None, CultureInfo.InvariantCulture);

static async Task<ServiceProvider> Open(string folder)
{
    var services = new ServiceCollection()
        .AddLogging()
        .AddSingleton(TimeProvider.System)
        .AddHandwheelShop(new ShopDatabase(new ShopFolder(folder), Postgres: null))
        .BuildServiceProvider();
    await services.GetRequiredService<OpenShop>().Run();
    return services;
}

static async Task Notes(ServiceProvider shop, string proveOut, string person, int first, int count)
{
    Say("ready");
    for (var n = first; n < first + count; n++)
    {
        var answer = await Note(shop, proveOut, person, n);
        if (answer.Refused is { } refused)
            throw new InvalidOperationException($"note {n}: {refused}");
        Disk.Acked(n);
        Say($"acked {n}");
    }
}

// The same number is the same act under the same key, so that a retry counts once.
static Task<Answer<string>> Note(ServiceProvider shop, string proveOut, string person, int n) =>
    shop.GetRequiredService<TakeAct>()
        .Run(
            new ActAsked(
                Guid.Parse(proveOut),
                $"note-{n.ToString(CultureInfo.InvariantCulture)}",
                1,
                new Note($"note {n.ToString(CultureInfo.InvariantCulture)}"),
                new Actor(Guid.Parse(person), "setter", Roles.Setter),
                Place.Browser("127.0.0.1")
            )
        );

static void Normal(string folder, int count)
{
    using var connection = new SqliteConnection($"Data Source={Path.Combine(folder, "normal.db")};Pooling=False");
    connection.Open();
    Do(connection, "PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL; CREATE TABLE t (n INTEGER)");
    Do(connection, "PRAGMA wal_checkpoint(TRUNCATE)");
    for (var n = 1; n <= count; n++)
    {
        Do(connection, string.Create(CultureInfo.InvariantCulture, $"INSERT INTO t VALUES ({n})"));
        Disk.Acked(n);
    }
}

static void Do(SqliteConnection connection, string sql)
{
    using var command = connection.CreateCommand();
    command.CommandText = sql;
    command.ExecuteNonQuery();
}

static void Say(string line)
{
    Console.Out.WriteLine(line);
    Console.Out.Flush();
}
