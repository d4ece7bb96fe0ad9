using System.Diagnostics;
using System.Runtime.CompilerServices;
using Handwheel.Web.Tests.Sheets;

namespace Handwheel.Web.Tests.Durability;

/// <summary>The program of tests/Handwheel.Writer, with or without the watcher below its disk calls.</summary>
static class WritingProcess
{
    static readonly string Root = FindRoot();

    static readonly Lazy<string> Watcher = new(Compile);

    /// <param name="log">Where the watcher logs, and the folder that it watches; null: without it.</param>
    public static Process Start((string Log, string Folder)? log, params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [Executable, .. arguments])
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        if (log is { } watched)
        {
            start.Environment["LD_PRELOAD"] = Watcher.Value;
            start.Environment["DISK_LOG"] = watched.Log;
            start.Environment["DISK_ROOT"] = watched.Folder;
        }
        return Process.Start(start)!;
    }

    /// <summary>Runs it to its end.</summary>
    public static async Task<string> Run((string Log, string Folder)? log, params string[] arguments)
    {
        using var process = Start(log, arguments);
        var errors = process.StandardError.ReadToEndAsync();
        var output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, $"ended with {process.ExitCode}: {output}{await errors}");
        return output;
    }

    static string Executable
    {
        get
        {
            var built = new DirectoryInfo(AppContext.BaseDirectory);
            var (configuration, framework) = (built.Parent!.Name, built.Name);
            return Path.Combine(
                Root,
                "tests",
                "Handwheel.Writer",
                "bin",
                configuration,
                framework,
                "Handwheel.Writer.dll"
            );
        }
    }

    static string Compile()
    {
        if (!OperatingSystem.IsLinux())
            Assert.Skip("The watcher below the disk calls is for Linux, so this was not checked.");
        var library = Path.Combine(Directory.CreateTempSubdirectory("handwheel-disk-").FullName, "disk.so");
        var source = Path.Combine(Root, "tests", "power-cut", "disk.c");
        var (exit, output) = OutsideTool.Run(
            "gcc",
            "-shared",
            "-fPIC",
            "-O2",
            "-o",
            library,
            source,
            "-ldl",
            "-lpthread"
        );
        Assert.True(exit == 0, output);
        return library;
    }

    static string FindRoot([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));
}
