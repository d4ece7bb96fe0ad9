using System.Diagnostics;

namespace Handwheel.Web.Tests.Serving;

/// <summary>Style and script come with a body in each way of starting: a wrong content root answers 200 with no bytes.</summary>
public sealed class StartingTests
{
    static readonly string[] Assets =
    [
        "app.css",
        "desk.js",
        "fonts/fonts.css",
        "fonts/IBMPlexSans-Regular.woff2",
        "_content/MudBlazor/MudBlazor.min.css",
        "_framework/blazor.web.js",
    ];

    [Fact]
    public async Task As_built_and_started_from_another_folder()
    {
        await using var app = await RunningApp.Start(RunningApp.Executable);
        await EveryAssetHasABody(app);
    }

    [Fact]
    public async Task As_published()
    {
        var folder = Directory.CreateTempSubdirectory("handwheel-published-").FullName;
        try
        {
            await Publish(folder);
            Assert.True(File.Exists(Path.Combine(folder, "wwwroot", "app.css")));
            await using var app = await RunningApp.Start(Path.Combine(folder, "handwheel.dll"));
            await EveryAssetHasABody(app);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    static async Task EveryAssetHasABody(RunningApp app)
    {
        using var browser = new HttpClient { BaseAddress = new Uri(app.Address) };
        foreach (var asset in Assets)
        {
            var body = await browser.GetByteArrayAsync(asset);
            Assert.True(body.Length > 50, $"{asset}: {body.Length} bytes");
        }
    }

    static async Task Publish(string folder)
    {
        var built = new DirectoryInfo(RunningApp.Executable).Parent!;
        var project = Path.GetFullPath(Path.Combine(built.FullName, "..", "..", "..", "Handwheel.Web.csproj"));
        string[] arguments = ["publish", project, "--no-build", "-c", built.Parent!.Name, "-o", folder, "-v", "q"];
        using var publish = Process.Start(
            new ProcessStartInfo("dotnet", arguments)
            {
                UseShellExecute = false,
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            }
        )!;
        var said = publish.StandardOutput.ReadToEndAsync();
        var error = publish.StandardError.ReadToEndAsync();
        await publish.WaitForExitAsync();
        Assert.True(publish.ExitCode == 0, await said + await error);
    }
}
