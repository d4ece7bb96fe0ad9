using Handwheel.Tests.Tidy;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>The signature of a record verified by <c>jose</c> (npm, RFC 7515): a library that knows nothing of Handwheel. <c>tests/run</c> installs it as its lock file says.</summary>
public sealed class JoseTests(DemoRecord demo) : IClassFixture<DemoRecord>
{
    static (int Exit, string Output) Verify(string file)
    {
        var folder = Path.Combine(Repository.Root, "tests", "jose");
        if (!Directory.Exists(Path.Combine(folder, "node_modules", "jose")))
        {
            Assert.False(
                Environment.GetEnvironmentVariable("CI") == "true",
                "jose is not installed: npm ci in tests/jose"
            );
            Assert.Skip("jose is not installed (npm ci in tests/jose), so the signature was not verified by it.");
        }
        return OutsideTool.Run("node", Path.Combine(folder, "verify.mjs"), file);
    }

    [Fact]
    public async Task Jose_verifies_the_signature_and_finds_the_record_s_head_in_it()
    {
        var (exit, output) = Verify(demo.Json);
        Assert.True(exit == 0, output);
        var (_, verified, _) = await DemoRecord.Run("verify", demo.Json);
        var head = output.Trim().Split(' ')[^1];
        Assert.Matches("^[0-9a-f]{64}$", head);
        Assert.Contains(head, verified, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Jose_refuses_a_signature_with_a_character_changed()
    {
        var text = await File.ReadAllTextAsync(demo.Json);
        var at = text.IndexOf("\"signature\":\"", StringComparison.Ordinal) + 13;
        var end = text.IndexOf('"', at);
        foreach (var place in new[] { (at + end) / 2, end - 20 })
        {
            var changed = text[..place] + (text[place] == 'A' ? 'B' : 'A') + text[(place + 1)..];
            var file = demo.In("changed-for-jose.json");
            await File.WriteAllTextAsync(file, changed);
            Assert.Equal(1, Verify(file).Exit);
        }
    }
}
