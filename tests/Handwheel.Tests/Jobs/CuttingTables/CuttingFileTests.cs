using System.Text;
using System.Text.Json;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Schemas;
using Handwheel.Jobs.Setups;
using Json.Schema;

namespace Handwheel.Tests.Jobs.CuttingTables;

/// <summary>The cutting table's file: what is read, what is refused, and that schema and reader agree.</summary>
public sealed class CuttingFileTests
{
    static readonly JsonSchema Schema = JsonSchema.FromText(Encoding.UTF8.GetString(SchemaTexts.Cutting));

    const string Small = """
        {
          "format": "handwheel-cutting/1",
          "name": "Our table",
          "sources": [ { "id": "ours", "kind": "shopsOwn", "name": "bay 3, two years of it" } ],
          "materials": [ { "name": "aluminium", "alsoCalled": ["aluminum", "6061"] }, { "name": "bronze", "alsoCalled": ["aluminium bronze"] } ],
          "toolMaterials": [ { "name": "carbide", "alsoCalled": [] } ],
          "rows": [
            { "figure": "cuttingSpeed", "units": "mm", "material": "aluminium", "tools": ["end mill"], "toolMaterial": "carbide",
              "diameterFrom": 3, "diameterTo": 12.5, "least": 200, "most": 400, "source": "ours" },
            { "figure": "depthOfCut", "units": "mm", "tools": ["end mill", "face mill"], "most": 1.5, "source": "ours" }
          ]
        }
        """;

    static CuttingTable Read(string text) => CuttingFile.Read(Encoding.UTF8.GetBytes(text), "ours.json");

    static bool Fits(string text)
    {
        using var document = JsonDocument.Parse(text);
        return Schema.Evaluate(document.RootElement).IsValid;
    }

    [Fact]
    public void What_is_written_is_what_was_read()
    {
        var table = Read(Small);
        var written = CuttingFile.Write(table);
        Assert.Equal(written, CuttingFile.Write(CuttingFile.Read(written, "again.json")));
        Assert.True(Fits(Small));
        Assert.True(Fits(Encoding.UTF8.GetString(written)));
        Assert.Equal((200m, 400m), (table.Rows[0].Least!.Value, table.Rows[0].Most!.Value));
        Assert.Null(table.Rows[1].Material);
        Assert.Null(table.Rows[1].Least);
    }

    [Fact]
    public void The_digest_tells_one_version_from_another_and_not_how_it_was_typed()
    {
        Assert.Equal(Read(Small).Sha256, Read(Small.Replace("12.5", "12.500", StringComparison.Ordinal)).Sha256);
        var table = Read(Small);
        Assert.NotEqual(table.Sha256, (table with { Name = "Another" }).Sha256);
        Assert.NotEqual(Read(Small).Sha256, Read(Small.Replace("400", "410", StringComparison.Ordinal)).Sha256);
    }

    [Theory]
    [InlineData("\"least\": 200", "\"leest\": 200", "rows[0].leest", "did you mean \"least\"")]
    [InlineData("\"most\": 400", "\"most\": 100", "rows[0].most", "not below least")]
    [InlineData("\"most\": 1.5, ", "", "rows[1].most", "required")]
    [InlineData(
        "\"material\": \"aluminium\"",
        "\"material\": \"aluminum\"",
        "rows[0].material",
        "did you mean \"aluminium\""
    )]
    [InlineData("\"toolMaterial\": \"carbide\"", "\"toolMaterial\": \"HSS\"", "rows[0].toolMaterial", "carbide")]
    [InlineData("1.5, \"source\": \"ours\"", "1.5, \"source\": \"theirs\"", "rows[1].source", "ours")]
    [InlineData("\"6061\"]", "\"6061\", \"Aluminium-Bronze\"]", "materials[1].alsoCalled[0]", "not taken")]
    [InlineData("[\"end mill\"]", "[]", "rows[0].tools", "at least one kind")]
    [InlineData("\"diameterTo\": 12.5", "\"diameterTo\": 2", "rows[0].diameterTo", "not below diameterFrom")]
    [InlineData("\"most\": 400", "\"most\": -400", "rows[0].most", "above 0")]
    [InlineData("handwheel-cutting/1", "handwheel-cutting/2", "format", "handwheel-cutting/1")]
    [InlineData("shopsOwn", "mine", "sources[0].kind", "published")]
    public void A_fault_names_file_line_path_and_what_was_expected(
        string old,
        string changed,
        string path,
        string expected
    )
    {
        Assert.Contains(old, Small, StringComparison.Ordinal);
        var fault = Assert.Throws<InputFault>(() => Read(Small.Replace(old, changed, StringComparison.Ordinal)));
        Assert.StartsWith("ours.json, line ", fault.Message, StringComparison.Ordinal);
        Assert.Contains(path, fault.Message, StringComparison.Ordinal);
        Assert.Contains(expected, fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"least\": 200", "\"leest\": 200")]
    [InlineData("\"most\": 1.5, ", "")]
    [InlineData("[\"end mill\"]", "[]")]
    [InlineData("\"most\": 400", "\"most\": 0")]
    [InlineData("shopsOwn", "mine")]
    [InlineData("\"name\": \"Our table\",", "")]
    public void The_schema_refuses_what_the_reader_refuses(string old, string changed)
    {
        var text = Small.Replace(old, changed, StringComparison.Ordinal);
        Assert.Throws<InputFault>(() => Read(text));
        Assert.False(Fits(text));
    }

    [Theory]
    [InlineData("Aluminium 6061-T6", "aluminium")]
    [InlineData("ALUMINUM casting", "aluminium")]
    [InlineData("aluminium bronze", "bronze")]
    [InlineData("aluminium, then bronze bush", "aluminium,bronze")]
    [InlineData("6061T6", "")]
    [InlineData("unobtainium", "")]
    [InlineData("", "")]
    public void A_material_is_found_by_whole_words(string text, string expected) =>
        Assert.Equal(expected, string.Join(',', NameMatch.In(text, Read(Small).Materials)));

    /// <summary>Every figure of the built-in table says where it comes from, and only what has no source is called common practice.</summary>
    [Fact]
    public void The_built_in_table_names_a_source_for_every_row()
    {
        var table = BuiltInCutting.Table;
        Assert.True(Fits(Encoding.UTF8.GetString(BuiltInCutting.Text)));
        // its digest is taken from its text
        Assert.Equal(Encoding.UTF8.GetString(CuttingFile.Write(table)), Encoding.UTF8.GetString(BuiltInCutting.Text));
        Assert.Equal(
            table.Sources.Select(s => s.Id).Order(StringComparer.Ordinal),
            table.Rows.Select(r => r.Source).Distinct().Order(StringComparer.Ordinal)
        );
        Assert.DoesNotContain(table.Sources, s => s.Kind == SourceKind.ShopsOwn);
        Assert.Contains(table.Sources, s => s is { Id: "shop-practice", Kind: SourceKind.CommonPractice });
    }

    /// <summary>
    /// Single figures looked up again in the sources that the rows name: U.S. Navy training manual 14345 (excerpt: aluminium up to 300
    /// ft/min, drills of 1/4 to 1/2 in 0.004 to 0.007 in a turn), the course sheet "Machine tool speeds and feeds" (excerpt: mills in
    /// aluminium up to 500), the quick reference U8M1-MAT-001 (excerpt: carbide in stainless up to 250).
    /// </summary>
    [Theory]
    [InlineData(CuttingFigure.CuttingSpeed, "aluminium", "drill", "high-speed steel", 0, 300)]
    [InlineData(CuttingFigure.CuttingSpeed, "aluminium", "end mill", "high-speed steel", 0, 500)]
    [InlineData(CuttingFigure.CuttingSpeed, "stainless steel", "end mill", "carbide", 40, 250)]
    [InlineData(CuttingFigure.FeedPerRevolution, null, "drill", null, 0.004, 0.007)]
    public void Figures_are_those_of_their_sources(
        CuttingFigure figure,
        string? material,
        string tool,
        string? edge,
        double least,
        double most
    ) =>
        Assert.Contains(
            BuiltInCutting.Table.Rows,
            r =>
                r.Figure == figure
                && r.Material == material
                && r.Tools.Contains(tool)
                && r.ToolMaterial == edge
                && (r.Least ?? 0) == (decimal)least
                && r.Most == (decimal)most
        );
}
