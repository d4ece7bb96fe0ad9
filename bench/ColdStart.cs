using System.Diagnostics;

namespace Handwheel.Bench;

/// <summary>The check as somebody meets it who types a command: a new process, from its start to its end.</summary>
sealed class ColdStart : IDisposable
{
    const int Runs = 5;

    readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("handwheel-bench-");
    readonly string program;
    readonly string setup;

    public ColdStart(byte[] bytes)
    {
        program = Path.Combine(folder.FullName, "bench.nc");
        setup = Path.Combine(folder.FullName, "bench-setup.json");
        File.WriteAllBytes(program, bytes);
        File.WriteAllText(setup, BenchSetup.Text);
    }

    public double Check() => Milliseconds(Publish(), ["check", program, "--setup", setup]);

    public double Naive() => Milliseconds(Dotnet, [typeof(ColdStart).Assembly.Location, "naive", program]);

    public void Dispose() => folder.Delete(recursive: true);

    /// <summary>The executable as README says to install it.</summary>
    string Publish()
    {
        var configuration = new DirectoryInfo(AppContext.BaseDirectory).Parent!;
        var root = configuration.Parent!.Parent!.Parent!.FullName;
        var installed = Path.Combine(folder.FullName, "app");
        foreach (
            var (project, runtime) in ((string, string)[])
                [("Handwheel.Web", "--no-self-contained"), ("Handwheel.Launcher", "--self-contained")]
        )
            Start(
                Dotnet,
                [
                    "publish",
                    Path.Combine(root, "src", project),
                    "--configuration",
                    configuration.Name,
                    "--use-current-runtime",
                    runtime,
                    "--output",
                    installed,
                ]
            );
        return Path.Combine(installed, OperatingSystem.IsWindows() ? "handwheel.exe" : "handwheel");
    }

    static double Milliseconds(string file, string[] arguments) =>
        Timing.Median(() => Start(file, arguments), Runs, warmUps: 1);

    static void Start(string file, string[] arguments)
    {
        var start = new ProcessStartInfo(file, arguments) { UseShellExecute = false, RedirectStandardOutput = true };
        using var process = Process.Start(start)!;
        process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        if (process.ExitCode > 1)
            throw new InvalidOperationException($"{file} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
    }

    static string Dotnet => Environment.ProcessPath is { } host && IsDotnet(host) ? host : "dotnet";

    static bool IsDotnet(string host) => Path.GetFileNameWithoutExtension(host) == "dotnet";
}
