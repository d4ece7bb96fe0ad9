using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Json;
using Handwheel.Jobs.Schemas;
using Json.Schema;

namespace Handwheel.Web.Tests.Commands;

/// <summary>What <c>check --json</c> prints fits the schema that the app publishes.</summary>
public sealed class CheckSchemaTests
{
    static readonly JsonSchema Schema = JsonSchema.FromText(Encoding.UTF8.GetString(SchemaTexts.Check));

    static string Demo(string name, [CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "../../../src/Handwheel.Web/Features/Demo/Files", name);

    [Theory]
    [InlineData("bearing-cap-op10")]
    [InlineData("latch-plate-op10")]
    [InlineData("pump-cover-op20")]
    public async Task The_demo_programs_checks_fit_the_schema(string name)
    {
        var ran = await Ran.Command("check", Demo(name + ".nc"), "--setup", Demo(name + ".setup.json"), "--json");
        Assert.True(ran.Status is 0 or 1, ran.Error);
        var result = Schema.Evaluate(ran.Json, new EvaluationOptions { OutputFormat = OutputFormat.List });
        var faults = (result.Details ?? []).SelectMany(d =>
            (d.Errors ?? new Dictionary<string, string>()).Select(e => $"{d.InstanceLocation}: {e.Value}")
        );
        Assert.True(result.IsValid, string.Join('\n', faults));
    }

    [Fact]
    public async Task A_check_without_its_stops_does_not_fit()
    {
        var ran = await Ran.Command(
            "check",
            Demo("bearing-cap-op10.nc"),
            "--setup",
            Demo("bearing-cap-op10.setup.json"),
            "--json"
        );
        using var document = JsonDocument.Parse(ran.Out.Replace("\"stops\":", "\"halts\":", StringComparison.Ordinal));
        Assert.False(Schema.Evaluate(document.RootElement).IsValid);
    }
}
