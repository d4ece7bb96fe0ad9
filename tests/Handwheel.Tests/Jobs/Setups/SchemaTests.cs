using System.Text;
using System.Text.Json;
using Handwheel.Jobs.Schemas;
using Handwheel.Jobs.Setups;
using Handwheel.Tests.Tidy;
using Json.Schema;

namespace Handwheel.Tests.Jobs.Setups;

/// <summary>The published schema and the reader agree on what a setup is (validated with JsonSchema.Net, draft 2020-12).</summary>
public sealed class SchemaTests
{
    static readonly JsonSchema SetupSchema = JsonSchema.FromText(Encoding.UTF8.GetString(SchemaTexts.Setup));

    static bool Accepts(string text)
    {
        using var document = JsonDocument.Parse(text);
        return SetupSchema.Evaluate(document.RootElement).IsValid;
    }

    public static TheoryData<string> Corpus()
    {
        var corpus = new TheoryData<string> { SetupSamples.Full, SetupSamples.Least };
        foreach (var file in Repository.Files("src/Handwheel.Web/Features/Demo/Files", "*.setup.json"))
            corpus.Add(Repository.Read(file));
        corpus.Add(
            SetupSamples.Least.Replace(
                "\"tools\": []",
                "\"tools\": [], \"stock\": null, \"rules\": null, \"job\": null, \"airCut\": null",
                StringComparison.Ordinal
            )
        );
        corpus.Add(Encoding.UTF8.GetString(SetupFile.Write(SetupSamples.Read(SetupSamples.Full))));
        corpus.Add(Encoding.UTF8.GetString(SetupFile.Write(SetupSamples.Read(SetupSamples.Least))));
        return corpus;
    }

    [Theory]
    [MemberData(nameof(Corpus))]
    public void Schema_and_reader_accept_the_same_setups(string text)
    {
        Assert.NotNull(SetupSamples.Read(text));
        Assert.True(Accepts(text));
    }

    [Theory]
    [InlineData("\"diameter\": 0.5, \"cornerRadius\"", "\"diametr\": 0.5, \"cornerRadius\"")]
    [InlineData("\"units\": \"inch\"", "\"units\": \"inches\"")]
    [InlineData("\"units\": \"inch\",", "")]
    [InlineData("handwheel-setup/1", "handwheel-setup/2")]
    [InlineData("\"x\": [-40, 0]", "\"x\": [-40]")]
    [InlineData("\"x\": [-40, 0]", "\"x\": [-40, 0, 1]")]
    [InlineData("\"length\": 5.0625", "\"length\": \"5.0625\"")]
    [InlineData("\"length\": 5.0625", "\"length\": 100000")]
    [InlineData("\"diameter\": 0.5, \"cornerRadius\"", "\"diameter\": 0, \"cornerRadius\"")]
    [InlineData("\"flutes\": 4", "\"flutes\": 4.5")]
    [InlineData("\"tool\": 1, \"pocket\"", "\"pocket\"")]
    [InlineData("\"hand\": \"right\"", "\"hand\": \"both\"")]
    [InlineData("\"G55\": {", "\"G60\": {")]
    [InlineData("\"G54.1P3\": {", "\"G54.1P300\": {")]
    [InlineData("\"workOffset\": \"G55\", \"material\"", "\"workOffset\": \"g55\", \"material\"")]
    [InlineData("\"shape\": \"box\"", "\"shape\": \"cylinder\"")]
    [InlineData("\"minus\": 0.0005", "\"minus\": -0.0005")]
    [InlineData("\"rapidOverride\": 0.5", "\"rapidOverride\": 50")]
    [InlineData("\"harmless\": [\"G8\", \"M41\"]", "\"harmless\": [\"turbo\"]")]
    [InlineData("\"subprogramCall\": \"P\"", "\"subprogramCall\": \"PQ\"")]
    [InlineData("\"part\": \"\"", "\"part\": 12")]
    [InlineData("\"name\": \"stud\"", "\"name\": \" \"")]
    [InlineData("\"parking\": [", "\"parking\": [3, ")]
    [InlineData("\"45 lbf·ft\"", "\"45\"")]
    [InlineData("\"zero\": \"left front corner\"", "\"zero\": 3")]
    [InlineData("\"stickoutLeast\": 1.7", "\"stickoutLeast\": 0")]
    public void Schema_and_reader_refuse_the_same_faults(string old, string changed)
    {
        var text = SetupSamples.Changed(old, changed);
        Assert.Throws<InputFault>(() => SetupSamples.Read(text));
        Assert.False(Accepts(text));
    }

    [Fact]
    public void Every_schema_is_itself_valid_and_found_by_its_file_name()
    {
        Assert.Contains("handwheel-setup-1.json", SchemaTexts.Names);
        Assert.Contains("handwheel-check-1.json", SchemaTexts.Names);
        foreach (var name in SchemaTexts.Names)
        {
            using var schema = JsonDocument.Parse(SchemaTexts.Find(name)!);
            Assert.True(MetaSchemas.Draft202012.Evaluate(schema.RootElement).IsValid, name);
        }
        Assert.Null(SchemaTexts.Find("other.json"));
    }
}
