using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace Handwheel.Web.Tests.Serving;

/// <summary>The built executable as people start it, with a shop of its own in an empty folder, on a free port of this machine.</summary>
public sealed partial class RunningApp : IAsyncDisposable
{
    static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    readonly Process process;
    readonly string folder;

    RunningApp(Process process, string folder, string address) =>
        (this.process, this.folder, Address) = (process, folder, address);

    public string Address { get; }

    /// <summary>The executable that was built beside these tests, in the same configuration.</summary>
    public static string Executable { get; } = FindExecutable();

    /// <param name="executable">The path of a <c>handwheel.dll</c>.</param>
    public static async Task<RunningApp> Start(string executable)
    {
        var shop = Directory.CreateTempSubdirectory("handwheel-journey-").FullName;
        var started = new Process { StartInfo = Info(executable, shop) };
        var said = new List<string>();
        var address = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        void Hear(string? line)
        {
            if (line is null)
                return;
            lock (said)
                said.Add(line);
            if (Listening().Match(line) is { Success: true } at)
                address.TrySetResult(at.Groups["address"].Value);
        }
        started.OutputDataReceived += (_, e) => Hear(e.Data);
        started.ErrorDataReceived += (_, e) => Hear(e.Data);
        started.EnableRaisingEvents = true;
        started.Exited += (_, _) =>
            address.TrySetException(new InvalidOperationException("The app ended: " + string.Join('\n', said)));
        started.Start();
        started.BeginOutputReadLine();
        started.BeginErrorReadLine();
        return new(started, shop, await address.Task.WaitAsync(Patience));
    }

    static ProcessStartInfo Info(string executable, string folder)
    {
        var info = new ProcessStartInfo("dotnet", [executable, "--urls", "http://127.0.0.1:0"])
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        };
        info.Environment["HANDWHEEL_SHOP"] = folder;
        info.Environment.Remove("ASPNETCORE_URLS");
        return info;
    }

    static string FindExecutable([CallerFilePath] string here = "")
    {
        var root = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));
        var built = new DirectoryInfo(AppContext.BaseDirectory);
        return Path.Combine(root, "src", "Handwheel.Web", "bin", built.Parent!.Name, built.Name, "handwheel.dll");
    }

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
            process.Kill(entireProcessTree: true);
        await process.WaitForExitAsync();
        process.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    [GeneratedRegex(
        @"(?<address>http://127\.0\.0\.1:\d+)",
        RegexOptions.ExplicitCapture,
        matchTimeoutMilliseconds: 1000
    )]
    private static partial Regex Listening();
}
