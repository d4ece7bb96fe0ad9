using System.ComponentModel;
using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Handwheel.Launcher;

/// <summary>Everything else: the whole app in <c>handwheel.dll</c> beside this executable, run by the .NET runtime of this machine.</summary>
static partial class WholeApp
{
    const int Wrong = 2;

    public static int Run(string[] args)
    {
        var app = Path.Combine(AppContext.BaseDirectory, "handwheel.dll");
        var host = Host();
        if (!File.Exists(app))
            return Refuse($"found no {app}, expected the whole app beside this executable");
        if (!OperatingSystem.IsWindows())
        {
            Become(host, [host, app, .. args, null]);
            return Refuse($"{host} cannot be run, expected the .NET runtime on PATH or in DOTNET_ROOT");
        }
        try
        {
            return Wait(host, [app, .. args]);
        }
        catch (Win32Exception)
        {
            return Refuse($"{host} cannot be run, expected the .NET runtime on PATH or in DOTNET_ROOT");
        }
    }

    static string Host() =>
        Environment.GetEnvironmentVariable("DOTNET_ROOT") is { Length: > 0 } root
            ? Path.Combine(root, OperatingSystem.IsWindows() ? "dotnet.exe" : "dotnet")
            : "dotnet";

    static int Refuse(string sentence)
    {
        Console.Error.WriteLine("handwheel: " + sentence);
        return Wrong;
    }

    /// <summary>This process becomes that program; comes back only where it cannot be run.</summary>
    [LibraryImport("libc", EntryPoint = "execvp", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Become(string file, string?[] arguments);

    static int Wait(string host, string[] arguments)
    {
        // Ctrl+C is for the app, which then ends in its own way.
        Console.CancelKeyPress += (_, press) => press.Cancel = true;
        using var process = Process.Start(new ProcessStartInfo(host, arguments) { UseShellExecute = false })!;
        process.WaitForExit();
        return process.ExitCode;
    }
}
