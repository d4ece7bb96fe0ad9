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

    readonly List<string> said;

    RunningApp(Process process, string folder, string address, List<string> said) =>
        (this.process, this.folder, Address, this.said) = (process, folder, address, said);

    /// <summary>The first address that it listens on.</summary>
    public string Address { get; }

    /// <summary>Where it serves HTTPS; only where it was started so.</summary>
    public Uri HttpsAddress => new(Said.Select(l => Secure().Match(l)).First(m => m.Success).Value);

    /// <summary>What it has printed so far.</summary>
    public IReadOnlyList<string> Said
    {
        get
        {
            lock (said)
                return [.. said];
        }
    }

    /// <summary>The executable that was built beside these tests, in the same configuration.</summary>
    public static string Executable { get; } = FindExecutable();

    /// <param name="executable">The path of a <c>handwheel.dll</c>.</param>
    /// <param name="urls">Where it listens: free ports of this machine.</param>
    public static async Task<RunningApp> Start(string executable, string urls = "http://127.0.0.1:0")
    {
        var shop = Directory.CreateTempSubdirectory("handwheel-journey-").FullName;
        var started = new Process { StartInfo = Info(executable, shop, urls) };
        var heard = new List<string>();
        var address = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        void Hear(string? line)
        {
            if (line is null)
                return;
            lock (heard)
                heard.Add(line);
            if (Listening().Match(line) is { Success: true } at)
                address.TrySetResult(at.Groups["address"].Value);
        }
        started.OutputDataReceived += (_, e) => Hear(e.Data);
        started.ErrorDataReceived += (_, e) => Hear(e.Data);
        started.EnableRaisingEvents = true;
        started.Exited += (_, _) =>
            address.TrySetException(new InvalidOperationException("The app ended: " + string.Join('\n', heard)));
        started.Start();
        started.BeginOutputReadLine();
        started.BeginErrorReadLine();
        return new(started, shop, await address.Task.WaitAsync(Patience), heard);
    }

    static ProcessStartInfo Info(string executable, string folder, string urls)
    {
        var info = new ProcessStartInfo("dotnet", [executable, "--urls", urls])
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

    [GeneratedRegex(@"https://127\.0\.0\.1:\d+", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Secure();

    [GeneratedRegex(
        @"Handwheel is at (?<address>https?://127\.0\.0\.1:\d+)",
        RegexOptions.ExplicitCapture,
        matchTimeoutMilliseconds: 1000
    )]
    private static partial Regex Listening();
}
