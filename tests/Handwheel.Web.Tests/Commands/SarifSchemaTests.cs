using System.Runtime.CompilerServices;
using System.Text.Json;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Findings;
using Json.Schema;

namespace Handwheel.Web.Tests.Commands;

/// <summary>
/// What <c>check --sarif</c> prints fits the JSON Schema of the OASIS standard SARIF 2.1.0; <c>Sarif/README.md</c> says where the
/// schema comes from.
/// </summary>
public sealed class SarifSchemaTests : IDisposable
{
    static readonly JsonSchema Schema = Load();

    readonly string folder = Directory.CreateTempSubdirectory("handwheel-sarif-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    public static TheoryData<string> Rules() => [.. FindingPages.All.Where(p => p.Setup is not null).Select(p => p.Id)];

    [Theory]
    [MemberData(nameof(Rules))]
    public async Task Every_rules_example_fits_and_names_the_rule(string id)
    {
        var page = FindingPages.Of(id)!;
        var program = page
            .Example.Replace("⟦", "", StringComparison.Ordinal)
            .Replace("⟧", "", StringComparison.Ordinal);
        var sarif = await Sarif(program, page.Setup!);
        Assert.Equal("", Faults(sarif));
        var run = sarif.GetProperty("runs")[0];
        var rule = run.GetProperty("tool")
            .GetProperty("driver")
            .GetProperty("rules")
            .EnumerateArray()
            .Single(r => r.GetProperty("id").GetString() == id);
        Assert.Equal(page.Title, rule.GetProperty("shortDescription").GetProperty("text").GetString());
        Assert.Contains(run.GetProperty("results").EnumerateArray(), r => r.GetProperty("ruleId").GetString() == id);
    }

    [Fact]
    public async Task A_finding_in_a_subprograms_file_names_that_file()
    {
        Directory.CreateDirectory(Path.Combine(folder, "subs"));
        await File.WriteAllTextAsync(
            Path.Combine(folder, "subs", "O500.nc"),
            "O500\nG1 X1.\nX2. (no feed in force)\nM99\n",
            TestContext.Current.CancellationToken
        );
        var page = FindingPages.Of("no-feed")!;
        var sarif = await Sarif(
            "G20 G17 G40 G49 G80 G90\nT1 M6\nG54 G0 X0. Y0. S3000 M3\nG43 H1 Z1.\nM98 P500\nM30\n",
            page.Setup!,
            "--subprograms",
            Path.Combine(folder, "subs")
        );
        Assert.Equal("", Faults(sarif));
        var run = sarif.GetProperty("runs")[0];
        var place = run.GetProperty("results")
            .EnumerateArray()
            .Single(r => r.GetProperty("ruleId").GetString() == "no-feed")
            .GetProperty("locations")[0]
            .GetProperty("physicalLocation");
        Assert.Equal(2, place.GetProperty("region").GetProperty("startLine").GetInt32());
        var file = place.GetProperty("artifactLocation");
        Assert.Equal(
            file.GetProperty("uri").GetString(),
            run.GetProperty("artifacts")[file.GetProperty("index").GetInt32()]
                .GetProperty("location")
                .GetProperty("uri")
                .GetString()
        );
        Assert.DoesNotContain("example.nc", file.GetProperty("uri").GetString(), StringComparison.Ordinal);
    }

    /// <summary>The schema is strict: another name, a line 0 or a level of our own would be seen.</summary>
    [Theory]
    [InlineData("\"ruleId\":", "\"rule\":")]
    [InlineData("\"startLine\": 4", "\"startLine\": 0")]
    [InlineData("\"level\": \"error\"", "\"level\": \"stop\"")]
    [InlineData("\"version\": \"2.1.0\"", "\"version\": \"2\"")]
    [InlineData("\"text\":", "\"words\":")]
    public async Task What_does_not_fit_is_seen(string right, string wrong)
    {
        var page = FindingPages.Of("length-offset-unknown")!;
        var program = page
            .Example.Replace("⟦", "", StringComparison.Ordinal)
            .Replace("⟧", "", StringComparison.Ordinal);
        var printed = (await Print(program, page.Setup!)).Out;
        Assert.Contains(right, printed, StringComparison.Ordinal);
        using var document = JsonDocument.Parse(printed.Replace(right, wrong, StringComparison.Ordinal));
        Assert.NotEqual("", Faults(document.RootElement));
    }

    async Task<JsonElement> Sarif(string program, string setup, params string[] more)
    {
        var ran = await Print(program, setup, more);
        Assert.True(ran.Status is 0 or 1, ran.Error);
        return ran.Json;
    }

    Task<Ran> Print(string program, string setup, params string[] more)
    {
        var (nc, json) = (Path.Combine(folder, "example.nc"), Path.Combine(folder, "example.setup.json"));
        File.WriteAllText(nc, program);
        File.WriteAllText(json, setup);
        return Ran.Command(["check", nc, "--setup", json, "--sarif", .. more]);
    }

    static string Faults(JsonElement sarif)
    {
        var result = Schema.Evaluate(sarif, new EvaluationOptions { OutputFormat = OutputFormat.List });
        if (result.IsValid)
            return "";
        var faults = (result.Details ?? []).SelectMany(d =>
            (d.Errors ?? new Dictionary<string, string>()).Select(e => $"{d.InstanceLocation}: {e.Value}")
        );
        return "does not fit: " + string.Join('\n', faults);
    }

    static JsonSchema Load([CallerFilePath] string here = "")
    {
        var file = Path.Combine(Path.GetDirectoryName(here)!, "Sarif", "sarif-2.1.0-rtm.5.json");
        var schema = JsonNode.Parse(File.ReadAllText(file))!.AsObject();
        // written for draft 4, which the library does not read; of what the two drafts do differently only the id is in it
        schema["$schema"] = "http://json-schema.org/draft-07/schema#";
        schema.Remove("id");
        return JsonSchema.FromText(schema.ToJsonString());
    }
}
