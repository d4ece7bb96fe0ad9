using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Text.Json;
using Handwheel.Web.Tests.Serving;

namespace Handwheel.Web.Tests.Commands;

/// <summary>
/// Odd programs, through the built executable: each is followed to its end, or the line is named where that ended and why, or the file
/// is refused in one sentence. What is to come of each stands in expected.txt beside them.
/// </summary>
public sealed class OddProgramsTests
{
    const string Setup = """
        { "format": "handwheel-setup/1", "units": "inch",
          "machine": { "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] }, "reference": { "x": 0, "y": 0, "z": 0 },
            "rapid": { "x": 1000, "y": 1000, "z": 800 }, "rapidPath": "straight", "harmless": ["G5", "G5.1", "G8", "G187"] },
          "workOffsets": { "G54": { "x": -20, "y": -10, "z": -18.125 } },
          "tools": [ { "tool": 1, "kind": "end mill", "diameter": 0.5, "fluteLength": 1, "stickout": 2, "lengthOffset": 1, "length": 5.0625 } ],
          "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 4, "y": 4, "z": 0 } } }
        """;

    /// <summary>What ends the following of a program.</summary>
    static readonly string[] Ends = ["cannot-read", "cannot-follow", "never-ends"];

    static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    static string Folder([CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "OddPrograms");

    static Dictionary<string, string> Expected() =>
        File.ReadLines(Path.Combine(Folder(), "expected.txt"))
            .Select(line => line.Split(": ", 2))
            .ToDictionary(line => line[0], line => line[1], StringComparer.Ordinal);

    public static TheoryData<string> Programs() =>
        [.. Directory.GetFiles(Folder(), "*.nc").Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];

    [Fact]
    public void There_are_many_and_each_has_its_line() => Assert.Equal(Programs().Select(p => p.Data), Expected().Keys);

    [Theory]
    [MemberData(nameof(Programs))]
    public async Task Ends_as_expected(string program)
    {
        var folder = Directory.CreateTempSubdirectory("handwheel-odd-");
        try
        {
            var setup = Path.Combine(folder.FullName, "odd.setup.json");
            await File.WriteAllTextAsync(setup, Setup, TestContext.Current.CancellationToken);
            var (status, output, error) = await Run(Path.Combine(Folder(), program), setup);
            foreach (var sign in new[] { "   at ", "Exception", "Unhandled" })
                Assert.DoesNotContain(sign, output + error, StringComparison.Ordinal);
            Assert.Equal(Expected()[program], status == 2 ? Refused(program, output, error) : Outcome(output, error));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    static string Refused(string program, string output, string error)
    {
        Assert.Equal("", output);
        Assert.StartsWith(program, Path.GetFileName(error.TrimEnd('\n')), StringComparison.Ordinal);
        return "refused, "
            + error
                .TrimEnd('\n')[(error.IndexOf(program, StringComparison.Ordinal) + program.Length)..]
                .TrimStart(',', ':', ' ');
    }

    static string Outcome(string output, string error)
    {
        Assert.Equal("", error);
        using var document = JsonDocument.Parse(output);
        var root = document.RootElement;
        if (root.GetProperty("program").GetProperty("followedToEnd").GetBoolean())
            return "followed to its end";
        var finding = root.GetProperty("findings")
            .EnumerateArray()
            .First(f => Ends.Contains(f.GetProperty("id").GetString()));
        Assert.False(root.GetProperty("airCut").GetProperty("possible").GetBoolean());
        return $"line {finding.GetProperty("line").GetInt32()}, {finding.GetProperty("id").GetString()}, {finding.GetProperty("message").GetString()}";
    }

    static async Task<(int Status, string Output, string Error)> Run(string program, string setup)
    {
        var info = new ProcessStartInfo("dotnet", [RunningApp.Executable, "check", program, "--setup", setup, "--json"])
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var process = Process.Start(info)!;
        var (output, error) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        try
        {
            await process.WaitForExitAsync().WaitAsync(Patience, TestContext.Current.CancellationToken);
        }
        catch (TimeoutException)
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail($"{program} was still being followed after {Patience}");
        }
        return (process.ExitCode, await output, await error);
    }
}
