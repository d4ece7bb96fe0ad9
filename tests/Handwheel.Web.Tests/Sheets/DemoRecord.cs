using Handwheel.Web.Commands;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>A shop with a released job, made as <c>handwheel demo</c> makes it, and its record as both kinds of file.</summary>
public sealed class DemoRecord : IAsyncLifetime
{
    string folder = "";

    public string Pdf => Path.Combine(folder, "record.pdf");
    public string Json => Path.Combine(folder, "record.json");

    public string In(string name) => Path.Combine(folder, name);

    public async ValueTask InitializeAsync()
    {
        folder = Directory.CreateTempSubdirectory("handwheel-record-").FullName;
        Assert.Equal(0, (await Run("demo", "--only-make", "--shop", In("shop"))).Exit);
        foreach (var file in new[] { Pdf, Json })
        {
            var (exit, output, error) = await Run("record", "export", "1", "--shop", In("shop"), "--out", file);
            Assert.True(exit == 0, output + error);
        }
    }

    public static async Task<(int? Exit, string Output, string Error)> Run(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var exit = await CommandLine.Run(args, () => new Screen(output, error));
        return (exit, output.ToString(), error.ToString());
    }

    public ValueTask DisposeAsync()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
        return ValueTask.CompletedTask;
    }
}
