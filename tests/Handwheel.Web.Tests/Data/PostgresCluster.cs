using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Handwheel.Data;
using Handwheel.Web.Tests.Data;
using Microsoft.EntityFrameworkCore;
using Npgsql;

[assembly: AssemblyFixture(typeof(PostgresCluster))]

namespace Handwheel.Web.Tests.Data;

/// <summary>
/// A PostgreSQL server of the tests' own, on loopback, started when a test first asks for it. Without PostgreSQL on the
/// machine those tests are skipped and say so; where CI=true they fail.
/// </summary>
public sealed class PostgresCluster : IAsyncDisposable
{
    const string Template = "handwheel_template";
    readonly SemaphoreSlim one = new(1);
    readonly string folder = Path.Combine(Path.GetTempPath(), "handwheel-pg-" + Guid.NewGuid().ToString("N"));
    Process? server;
    int port;

    static readonly string[] UsualFolders = ["/usr/local/bin", "/usr/bin"];

    static string? Binary(string name) =>
        UsualFolders
            .Concat(
                Directory.Exists("/usr/lib/postgresql")
                    ? Directory.GetDirectories("/usr/lib/postgresql").Select(d => Path.Combine(d, "bin"))
                    : []
            )
            .Select(d => Path.Combine(d, name))
            .FirstOrDefault(File.Exists);

    /// <summary>A new database with the shop's tables; the connection string.</summary>
    public async Task<string> NewDatabase()
    {
        await one.WaitAsync();
        try
        {
            if (server is null)
                await Start();
            var name = "shop_" + Guid.NewGuid().ToString("N");
            await using var admin = new NpgsqlConnection(To("postgres"));
            await admin.OpenAsync();
            await using var create = new NpgsqlCommand($"CREATE DATABASE {name} TEMPLATE {Template}", admin);
            await create.ExecuteNonQueryAsync();
            return To(name);
        }
        finally
        {
            one.Release();
        }
    }

    string To(string database) =>
        $"Host=127.0.0.1;Port={port};Username=handwheel;Database={database};Pooling=true;Maximum Pool Size=20";

    async Task Start()
    {
        if (Binary("postgres") is not { } postgres || Binary("initdb") is not { } initdb)
        {
            const string missing = "PostgreSQL is not on this machine (Debian's package postgresql): not tried there.";
            Assert.SkipUnless(Environment.GetEnvironmentVariable("CI") == "true", missing);
            throw new InvalidOperationException(missing);
        }
        Directory.CreateDirectory(folder);
        if (Environment.UserName == "root")
            await Run("chown", "nobody", folder);
        var data = Path.Combine(folder, "data");
        await RunAsServer(initdb, "-D", data, "-U", "handwheel", "-A", "trust", "-E", "UTF8", "--no-locale", "-N");
        port = FreePort();
        server = AsServer(
            postgres,
            "-D",
            data,
            "-h",
            "127.0.0.1",
            "-p",
            port.ToString(CultureInfo.InvariantCulture),
            "-k",
            folder
        );
        await UntilItAnswers();
        await MakeTemplate();
    }

    async Task UntilItAnswers()
    {
        var tries = Stopwatch.StartNew();
        while (true)
        {
            try
            {
                await using var connection = new NpgsqlConnection(To("postgres"));
                await connection.OpenAsync();
                return;
            }
            catch (NpgsqlException) when (tries.Elapsed < TimeSpan.FromSeconds(30) && !server!.HasExited)
            {
                await Task.Yield();
            }
        }
    }

    async Task MakeTemplate()
    {
        await using (var admin = new NpgsqlConnection(To("postgres")))
        {
            await admin.OpenAsync();
            await using var create = new NpgsqlCommand($"CREATE DATABASE {Template}", admin);
            await create.ExecuteNonQueryAsync();
        }
        var options = new DbContextOptionsBuilder<HandwheelDb>();
        new ShopDatabase(new ShopFolder(folder), To(Template) + ";Pooling=false").Configure(options);
        await using var db = new HandwheelDb(options.Options);
        await db.Database.MigrateAsync();
    }

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    static Process AsServer(string program, params string[] arguments)
    {
        // PostgreSQL refuses to run as root.
        string[] all =
            Environment.UserName == "root"
                ? ["setpriv", "--reuid=nobody", "--regid=nogroup", "--clear-groups", program, .. arguments]
                : [program, .. arguments];
        return Begin(all[0], all[1..]);
    }

    static Process Begin(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program)
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            UseShellExecute = false,
            WorkingDirectory = "/",
        };
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        start.Environment["LC_ALL"] = "C";
        var process = Process.Start(start)!;
        process.OutputDataReceived += (_, _) => { };
        process.BeginOutputReadLine();
        return process;
    }

    static async Task RunAsServer(string program, params string[] arguments) =>
        await Ended(AsServer(program, arguments));

    static async Task Run(string program, params string[] arguments) => await Ended(Begin(program, arguments));

    static async Task Ended(Process process)
    {
        var errors = await process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
            throw new InvalidOperationException(errors);
    }

    public async ValueTask DisposeAsync()
    {
        one.Dispose();
        if (server is null)
            return;
        NpgsqlConnection.ClearAllPools();
        server.Kill(entireProcessTree: true);
        await server.WaitForExitAsync();
        server.Dispose();
        Directory.Delete(folder, recursive: true);
    }
}
