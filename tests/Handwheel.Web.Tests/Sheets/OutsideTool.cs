using System.Diagnostics;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>A program from outside that looks at our files. Absent: the test is skipped and says so, but fails where CI is set.</summary>
static class OutsideTool
{
    public static (int Exit, string Output) Run(string tool, params string[] arguments)
    {
        var start = new ProcessStartInfo(tool, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        Process process;
        try
        {
            process = Process.Start(start)!;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            if (Environment.GetEnvironmentVariable("CI") == "true")
                throw;
            Assert.Skip($"{tool} is not on this machine, so this was not checked.");
            throw;
        }
        using (process)
        {
            var errors = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return (process.ExitCode, output + errors.GetAwaiter().GetResult());
        }
    }

    /// <summary>Keeps a file beside the tests, for tools and for looking at it.</summary>
    public static string Keep(string name, byte[] bytes)
    {
        var folder = Path.Combine(AppContext.BaseDirectory, "paper");
        Directory.CreateDirectory(folder);
        var path = Path.Combine(folder, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }
}
