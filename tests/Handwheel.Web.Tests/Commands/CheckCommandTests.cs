using System.Text.Json;

namespace Handwheel.Web.Tests.Commands;

public sealed class CheckCommandTests : IDisposable
{
    const string Setup = """
        {
          "format": "handwheel-setup/1",
          "units": "inch",
          "machine": {
            "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] },
            "reference": { "x": 0, "y": 0, "z": 0 },
            "rapid": { "x": 1000, "y": 1000, "z": 800 },
            "rapidPath": "straight",
            "airCutRates": [ { "cut": 150, "rapid": 150 } ]
          },
          "workOffsets": { "G54": { "x": -20, "y": -10, "z": -18.125 } },
          "tools": [
            { "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5.0625 },
            { "tool": 2, "kind": "drill", "diameter": 0.25, "lengthOffset": 2, "length": 4.5 }
          ],
          "stock": { "workOffset": "G54", "min": { "x": 0, "y": 0, "z": -1 }, "max": { "x": 4, "y": 3, "z": 0 } }
        }
        """;

    const string Clean = """
        %
        O7 (SLOT)
        G20 G90 G17 G40 G49 G80
        T1 M6
        G54 G0 X1. Y1. S3000 M3
        G43 H1 Z0.25 M8
        G1 Z-0.1 F10.
        X3. F20.
        G0 Z0.25 M9
        G53 G0 Z0
        M30
        %
        """;

    readonly string folder = Directory.CreateTempSubdirectory("handwheel-check-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    string Write(string name, string text)
    {
        var path = Path.Combine(folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    Task<Ran> Check(string program, params string[] more) =>
        Ran.Command(["check", Write("slot.nc", program), "--setup", Write("slot.setup.json", Setup), .. more]);

    [Fact]
    public async Task A_program_without_a_stop_ends_with_0()
    {
        var ran = await Check(Clean);
        Assert.True(ran.Status == 0, ran.Out + ran.Error);
        Assert.Equal("", ran.Error);
        Assert.StartsWith(
            "slot.nc\n12 lines, 9 blocks executed, followed to its end\n",
            ran.Out,
            StringComparison.Ordinal
        );
        foreach (var heading in new[] { "AIR CUT", "TOOLS", "STOPS", "RUN TIME" })
            Assert.Contains($"\n{heading}\n", ran.Out, StringComparison.Ordinal);
        Assert.Contains("It does not prove the program\nsafe", ran.Out, StringComparison.Ordinal);
        Assert.DoesNotContain('\e', ran.Out);
        Assert.All(ran.Out.Split('\n'), line => Assert.Equal(line.TrimEnd(), line));
    }

    [Fact]
    public async Task A_program_with_a_stop_ends_with_1_and_names_line_and_block()
    {
        var ran = await Check(Clean.Replace("G43 H1 Z0.25 M8", "G43 H2 Z0.25 M8", StringComparison.Ordinal));
        Assert.Equal(1, ran.Status);
        Assert.Contains("STOP (", ran.Out, StringComparison.Ordinal);
        Assert.Contains(
            "line 6  T1  G43 H2 Z0.25 M8  length-offset-is-not-the-tools",
            ran.Out,
            StringComparison.Ordinal
        );
    }

    /// <summary>
    /// Worked out by hand: stock topped at 0, clearance 1, lowest tip -0.1: at least 1.1. Highest machine Z in work coordinates
    /// -18.125 + 5.0625 + 0.25 = -12.8125 under an upper limit of 0: at most 12.8125. The first whole inch is 2.
    /// </summary>
    [Fact]
    public async Task Json_is_one_document_with_the_contracts_names()
    {
        var ran = await Check(Clean, "--json");
        Assert.Equal(0, ran.Status);
        var json = ran.Json;
        Assert.Equal(
            [
                "format",
                "program",
                "tools",
                "workOffsets",
                "airCut",
                "stops",
                "runTime",
                "blockDelete",
                "operatorStops",
                "restarts",
                "nearestPasses",
                "material",
                "cuttingData",
                "notChecked",
                "findings",
            ],
            json.EnumerateObject().Select(p => p.Name)
        );
        Assert.Equal("slot.nc", json.GetProperty("program").GetProperty("name").GetString());
        var air = json.GetProperty("airCut");
        Assert.Equal("1.1", air.GetProperty("minimumRaise").GetRawText());
        Assert.Equal("12.8125", air.GetProperty("maximumRaise").GetRawText());
        Assert.Equal("2", air.GetProperty("suggestedRaise").GetRawText());
        Assert.Equal(JsonValueKind.Null, air.GetProperty("why").ValueKind);
        var register = air.GetProperty("registers")[0];
        Assert.Equal("-16.125", register.GetProperty("raised").GetRawText());
        var approach = json.GetProperty("stops")
            .EnumerateArray()
            .Single(s => s.GetProperty("kind").GetString() == "approach");
        Assert.Equal("-12.8125", approach.GetProperty("machineTo").GetProperty("z").GetRawText());
        Assert.Equal("2.0000 + 0.2500", approach.GetProperty("gauge").GetString());
        Assert.All(
            json.GetProperty("findings").EnumerateArray(),
            f => Assert.NotEqual("stop", f.GetProperty("level").GetString())
        );
    }

    [Fact]
    public async Task Levels_are_written_in_lower_case()
    {
        var ran = await Check(Clean.Replace("H1", "H2", StringComparison.Ordinal), "--json");
        Assert.Equal(1, ran.Status);
        Assert.Contains(
            ran.Json.GetProperty("findings").EnumerateArray(),
            f => f.GetProperty("level").GetString() == "stop"
        );
    }

    [Fact]
    public async Task Sarif_has_a_result_for_each_finding()
    {
        var program = Clean.Replace("H1", "H2", StringComparison.Ordinal);
        var findings = (await Check(program, "--json")).Json.GetProperty("findings");
        var ran = await Check(program, "--sarif");
        Assert.Equal(1, ran.Status);
        Assert.Equal("2.1.0", ran.Json.GetProperty("version").GetString());
        var run = ran.Json.GetProperty("runs")[0];
        var results = run.GetProperty("results");
        Assert.Equal(findings.GetArrayLength(), results.GetArrayLength());
        var rules = run.GetProperty("tool").GetProperty("driver").GetProperty("rules");
        foreach (var result in results.EnumerateArray())
            Assert.Equal(
                result.GetProperty("ruleId").GetString(),
                rules[result.GetProperty("ruleIndex").GetInt32()].GetProperty("id").GetString()
            );
        var wrongOffset = results
            .EnumerateArray()
            .Single(r => r.GetProperty("ruleId").GetString() == "length-offset-is-not-the-tools");
        Assert.Equal("error", wrongOffset.GetProperty("level").GetString());
        var place = wrongOffset.GetProperty("locations")[0].GetProperty("physicalLocation");
        Assert.Equal(6, place.GetProperty("region").GetProperty("startLine").GetInt32());
        Assert.True(
            Uri.IsWellFormedUriString(
                place.GetProperty("artifactLocation").GetProperty("uri").GetString(),
                UriKind.RelativeOrAbsolute
            )
        );
    }

    [Fact]
    public async Task Subprograms_are_found_by_their_number_then_by_their_name()
    {
        Write("subs/pocket.nc", "%\nO0500 (POCKET)\nG1 X2. F20.\nM99\n%\n");
        Write("subs/deep/O0501.nc", "G1 X1. F20.\nM99\n");
        var program = Clean.Replace("X3. F20.", "M98 P500\nM98 P501", StringComparison.Ordinal);
        Assert.Equal(1, (await Check(program)).Status);
        var ran = await Check(program, "--subprograms", Path.Combine(folder, "subs"));
        Assert.True(ran.Status == 0, ran.Out + ran.Error);

        Write("subs/again.nc", "O500\nM99\n");
        Assert.Contains(
            "O500 a second time",
            (await Check(program, "--subprograms", Path.Combine(folder, "subs"))).Refusal(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Block_delete_skips_slashed_blocks()
    {
        var program = Clean.Replace("X3. F20.", "X3. F20.\n/ G0 X1.", StringComparison.Ordinal);
        var on = (await Check(program, "--json", "--block-delete")).Json;
        var off = (await Check(program, "--json")).Json;
        Assert.Equal(9, on.GetProperty("program").GetProperty("blocksExecuted").GetInt32());
        Assert.Equal(10, off.GetProperty("program").GetProperty("blocksExecuted").GetInt32());
    }

    [Theory]
    [InlineData("501=1")]
    [InlineData("#x=1")]
    [InlineData("#501")]
    [InlineData("#501=1,5")]
    public async Task A_parameter_that_is_not_one_is_refused(string setting) =>
        Assert.Contains("--set", (await Check(Clean, "--set", setting)).Refusal(), StringComparison.Ordinal);

    [Fact]
    public async Task Files_that_cannot_be_used_are_refused_by_name()
    {
        Assert.Contains("slot.nc: found an empty file", (await Check("")).Refusal(), StringComparison.Ordinal);
        Assert.Contains("which is not text", (await Check("G0 X1\u0001\u0002")).Refusal(), StringComparison.Ordinal);
        Assert.Contains("no readable block", (await Check("%\n\n%\n")).Refusal(), StringComparison.Ordinal);
        Assert.Contains(
            "at most 100 bytes",
            (await Check(Clean, "--limit", "100B")).Refusal(),
            StringComparison.Ordinal
        );
        Assert.Contains("--limit", (await Check(Clean, "--limit", "much")).Refusal(), StringComparison.Ordinal);
        Assert.Contains(
            "expected one of them",
            (await Check(Clean, "--json", "--sarif")).Refusal(),
            StringComparison.Ordinal
        );

        var setup = Write("a.json", Setup);
        var missing = await Ran.Command("check", Path.Combine(folder, "none.nc"), "--setup", setup);
        Assert.Contains("none.nc: found no such file", missing.Refusal(), StringComparison.Ordinal);
        Assert.Contains(
            "found a folder",
            (await Ran.Command("check", folder, "--setup", setup)).Refusal(),
            StringComparison.Ordinal
        );
        Assert.Contains("--setup", (await Ran.Command("check", setup)).Refusal(), StringComparison.Ordinal);
        Assert.Contains(
            "PROGRAM",
            (await Ran.Command("check", "--setup", setup)).Refusal(),
            StringComparison.OrdinalIgnoreCase
        );
        Assert.Contains(
            "no such folder",
            (await Check(Clean, "--subprograms", Path.Combine(folder, "none"))).Refusal(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task The_shops_cutting_table_is_used_where_it_is_given()
    {
        const string table = """
            { "format": "handwheel-cutting/1", "name": "Bay 3", "sources": [ { "id": "us", "kind": "shopsOwn", "name": "bay 3, two years" } ],
              "materials": [ { "name": "gold" } ], "toolMaterials": [],
              "rows": [ { "figure": "cuttingSpeed", "units": "inch", "tools": ["end mill"], "most": 100, "source": "us" } ] }
            """;
        var setup = Write(
            "gold.json",
            Setup.Replace(
                "\"workOffset\": \"G54\", \"min\"",
                "\"workOffset\": \"G54\", \"material\": \"Gold\", \"min\"",
                StringComparison.Ordinal
            )
        );
        var program = Write("slot.nc", Clean);
        var own = Write("own.json", table);
        var ran = await Ran.Command("check", program, "--setup", setup, "--json", "--cutting-data", own);
        Assert.Equal("Bay 3", ran.Json.GetProperty("cuttingData").GetProperty("name").GetString());
        var finding = ran
            .Json.GetProperty("findings")
            .EnumerateArray()
            .Single(f => f.GetProperty("id").GetString() == "cutting-speed");
        // π × 0.5 in × 3000 rev/min ÷ 12
        Assert.Contains("is 393 ft/min", finding.GetProperty("message").GetString(), StringComparison.Ordinal);
        Assert.Contains("the shop's own: bay 3", finding.GetProperty("message").GetString(), StringComparison.Ordinal);

        var builtIn = await Ran.Command("check", program, "--setup", setup);
        Assert.Contains("no row for 'Gold' in Built-in table", builtIn.Out, StringComparison.Ordinal);

        var bad = Write("bad.json", table.Replace("\"most\": 100", "\"most\": 0", StringComparison.Ordinal));
        Assert.Contains(
            "rows[0].most: found 0, expected a number above 0",
            (await Ran.Command("check", program, "--setup", setup, "--cutting-data", bad)).Refusal(),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "no such file",
            (await Ran.Command("check", program, "--setup", setup, "--cutting-data", own + "x")).Refusal(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_fault_in_the_setup_is_refused_with_line_and_path()
    {
        var setup = Write(
            "bad.json",
            Setup.Replace("\"diameter\": 0.5", "\"diametre\": 0.5", StringComparison.Ordinal)
        );
        var ran = await Ran.Command("check", Write("slot.nc", Clean), "--setup", setup, "--json");
        Assert.Contains(
            "bad.json, line 13, tools[0].diametre: found an unknown field",
            ran.Refusal(),
            StringComparison.Ordinal
        );
        Assert.Contains("did you mean \"diameter\"", ran.Error, StringComparison.Ordinal);
    }
}
