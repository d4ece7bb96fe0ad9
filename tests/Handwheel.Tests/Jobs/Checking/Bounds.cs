using System.Text.Json;
using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>What holds for the result of every program, however it was made.</summary>
static class Bounds
{
    /// <summary>Rules times the causes that each may tell.</summary>
    const int FindingsMost = 70 * 101;

    public static void Hold(CheckResult result, int bytes)
    {
        Assert.True(result.Findings.Count < FindingsMost, $"{result.Findings.Count} findings");
        Assert.All(
            result.Findings,
            f =>
            {
                Assert.InRange(f.Message.Length, 1, 2_000);
                Assert.True(f.Block.Length < 2_000);
                Assert.DoesNotContain("\u202E", f.Block + f.Message, StringComparison.Ordinal);
            }
        );
        Assert.True(result.NotChecked.Count < 1_000, $"{result.NotChecked.Count} lines not checked");
        Assert.True(result.AirCut.Possible || result.AirCut.Why is { Length: > 0 });
        Assert.True(result.AirCut.SuggestedRaise is null || result.AirCut.Possible);
        if (!result.Program.FollowedToEnd)
            Assert.Contains(
                result.Findings,
                f =>
                    f
                        is {
                            Level: Level.Stop,
                            Line: > 0,
                            Id: "cannot-read" or "cannot-follow" or "never-ends" or "compensation-entry"
                        }
            );
        var text = JsonSerializer.SerializeToUtf8Bytes(result);
        Assert.True(text.Length < 5_000_000 + 200L * bytes, $"{text.Length} bytes of result for {bytes} of program");
    }
}
