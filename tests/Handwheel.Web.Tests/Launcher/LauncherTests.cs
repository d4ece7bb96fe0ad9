using System.Diagnostics;
using Handwheel.Web.Tests.Commands;
using Handwheel.Web.Tests.Serving;

namespace Handwheel.Web.Tests.Launcher;

/// <summary>The executable that answers the quick verbs on its own and hands everything else to the whole app.</summary>
public sealed class LauncherTests : IDisposable
{
    const string Program = "%\nG20 G90 G54\nT1 M6\nG0 X0. Y0. S1000 M3\nG43 H1 Z1.\nG1 Z-.1 F5.\nG0 Z1.\nM30\n%\n";

    const string Setup = """
        {
          "format": "handwheel-setup/1",
          "units": "inch",
          "machine": { "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] } },
          "workOffsets": { "G54": { "x": -20, "y": -10, "z": -18 } },
          "tools": [ { "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5 } ]
        }
        """;

    readonly string folder = Directory.CreateTempSubdirectory("handwheel-launcher-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    static string Built(string app) => Path.GetDirectoryName(app)!;

    static string Launcher =>
        Path.Combine(
            Built(RunningApp.Executable).Replace("Handwheel.Web", "Handwheel.Launcher", StringComparison.Ordinal),
            "Handwheel.Launcher.dll"
        );

    static async Task<Ran> Run(string launcher, params string[] args)
    {
        var start = new ProcessStartInfo("dotnet", [launcher, .. args])
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var process = Process.Start(start)!;
        var (output, error) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return new(process.ExitCode, await output, await error);
    }

    [Theory]
    [InlineData]
    [InlineData("--json")]
    public async Task A_check_is_the_one_of_the_whole_app(params string[] more)
    {
        var (program, setup) = (Path.Combine(folder, "a.nc"), Path.Combine(folder, "a.json"));
        await File.WriteAllTextAsync(program, Program, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(setup, Setup, TestContext.Current.CancellationToken);
        string[] args = ["check", program, "--setup", setup, .. more];
        var whole = await Ran.Command(args);
        Assert.NotEqual("", whole.Out);
        Assert.Equal(whole, await Run(Launcher, args));
    }

    [Fact]
    public async Task A_wrong_command_line_is_refused_in_the_same_words()
    {
        var whole = await Ran.Command("reading", "--expected", "1");
        Assert.Equal(whole.Refusal(), (await Run(Launcher, "reading", "--expected", "1")).Refusal());
    }

    [Fact]
    public async Task Another_verb_is_answered_by_the_whole_app_beside_it()
    {
        foreach (var file in Directory.EnumerateFiles(Built(RunningApp.Executable)))
            File.CreateSymbolicLink(Path.Combine(folder, Path.GetFileName(file)), file);
        foreach (var file in Directory.EnumerateFiles(Built(Launcher), "Handwheel.Launcher.*"))
            File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
        var ran = await Run(Path.Combine(folder, "Handwheel.Launcher.dll"), "verify", "no-such-file.json");
        Assert.Equal((await Ran.Command("verify", "no-such-file.json")).Refusal(), ran.Refusal());
        Assert.Contains("no-such-file.json", ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_the_whole_app_it_says_what_is_missing() =>
        Assert.Contains(
            "expected the whole app beside",
            (await Run(Launcher, "verify", "a")).Refusal(),
            StringComparison.Ordinal
        );
}
