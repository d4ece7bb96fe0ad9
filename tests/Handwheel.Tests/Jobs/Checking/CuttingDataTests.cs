using System.Globalization;
using System.Text;
using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Speeds, chip loads and depths against a cutting table; worked examples from published pages.</summary>
public sealed class CuttingDataTests
{
    static readonly string[] Materials = ["aluminium 6061-T6", "1018 mild steel", "304 stainless", "CZ121 brass"];
    static readonly string[] Edges = ["carbide", "HSS", ""];

    static CuttingTable Table(string rows) =>
        CuttingFile.Read(
            Encoding.UTF8.GetBytes(
                $$"""
                { "format": "handwheel-cutting/1", "name": "test table",
                  "sources": [ { "id": "s", "kind": "shopsOwn", "name": "the test" } ],
                  "materials": [ { "name": "steel", "alsoCalled": ["1018"] } ], "toolMaterials": [ { "name": "carbide", "alsoCalled": [] } ],
                  "rows": [ {{rows}} ] }
                """
            ),
            "table.json"
        );

    static Setup Shop(string units, string tool, string material = "steel", string machine = "\"maxSpindle\": 30000")
    {
        var (low, high, top) = units == "inch" ? ("-2", "2", "0") : ("-50", "50", "0");
        return Setups.From(
            units,
            $$"""[{ "tool": 1, {{tool}}, "lengthOffset": 1, "length": {{(units == "inch" ? "5" : "127")}} }]""",
            machine,
            $$"""
            "stock": { "workOffset": "G54", "material": "{{material}}", "min": { "x": {{low}}, "y": {{low}}, "z": {{low}} },
                       "max": { "x": {{high}}, "y": {{high}}, "z": {{top}} } }
            """
        );
    }

    static string Slot(string units, double speed, double feed, double depth = 0) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{(units == "inch" ? "G20" : "G21")} G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X{(units == "inch" ? -3 : -75)} Y0. S{speed} M3\nG43 H1 Z{(units == "inch" ? 1 : 25)}.\nG0 Z{-(depth > 0 ? depth : units == "inch" ? 0.1 : 2)}\nG1 X0. F{feed}\nG0 Z{(units == "inch" ? 1 : 25)}.\nM30\n"
        );

    static IEnumerable<string> Found(string program, Setup setup, string rows) =>
        Setups
            .Run(program, setup, new CheckOptions { CuttingTable = Table(rows) })
            .Findings.Select(f => f.Id)
            .Where(id => id is "cutting-speed" or "chip-load" or "depth-of-cut");

    /// <summary>
    /// 300 ft/min on 3/8 in is 3056 rev/min, and with 2 teeth of 0.001 in it feeds 6.1 in/min (binghamsite.com, milling procedures,
    /// excerpt); 25 m/min on 12 mm is 663 rev/min, and 2 teeth of 0.065 mm feed 86, 3 teeth 129 mm/min (phantom.eu tips, excerpt).
    /// </summary>
    [Theory]
    [InlineData("inch", 0.375, 2, 300, 0.001, 3056, 6.1)]
    [InlineData("mm", 12, 2, 25, 0.065, 663, 86)]
    [InlineData("mm", 12, 3, 25, 0.065, 663, 129)]
    public void The_published_speed_and_feed_are_just_inside_and_a_tenth_more_or_less_is_outside(
        string units,
        double diameter,
        int flutes,
        double speed,
        double tooth,
        double turns,
        double feed
    )
    {
        var setup = Shop(
            units,
            string.Create(
                CultureInfo.InvariantCulture,
                $"\"kind\": \"end mill\", \"diameter\": {diameter}, \"flutes\": {flutes}"
            )
        );
        var row = $"\"units\": \"{units}\", \"tools\": [\"end mill\"], \"source\": \"s\"";
        var rows = string.Create(
            CultureInfo.InvariantCulture,
            $"{{ \"figure\": \"cuttingSpeed\", \"least\": {speed}, \"most\": {speed}, {row} }}, {{ \"figure\": \"feedPerTooth\", \"least\": {tooth}, \"most\": {tooth}, {row} }}"
        );
        Assert.Empty(Found(Slot(units, turns, feed), setup, rows));
        Assert.Equal(["cutting-speed"], Found(Slot(units, Math.Round(turns * 1.1), feed * 1.1), setup, rows));
        Assert.Equal(["cutting-speed"], Found(Slot(units, Math.Round(turns * 0.9), feed * 0.9), setup, rows));
        Assert.Equal(["chip-load"], Found(Slot(units, turns, feed * 1.1), setup, rows));
        Assert.Equal(["chip-load"], Found(Slot(units, turns, feed * 0.9), setup, rows));
    }

    /// <summary>0.375 in at 130.50 ft/min and 0.002 in a turn: 1329.26 rev/min, 2.6585 in/min (drilling lecture, scribd 439793357, excerpt; its own last digits are rounded).</summary>
    [Theory]
    [InlineData("S1329", "F2.6585", "")]
    [InlineData("S1329", "F5.317", "chip-load")]
    [InlineData("S1600", "F3.2", "cutting-speed")]
    public void A_drill_feeds_by_the_turn_both_lips_together(string speed, string feed, string found)
    {
        var setup = Shop("inch", "\"kind\": \"drill\", \"diameter\": 0.375");
        const string rows = """
            { "figure": "cuttingSpeed", "units": "inch", "tools": ["drill"], "least": 130.5, "most": 130.5, "source": "s" },
            { "figure": "feedPerRevolution", "units": "inch", "tools": ["drill"], "least": 0.002, "most": 0.002, "source": "s" }
            """;
        var program =
            $"G20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. {speed} M3\nG43 H1 Z1.\nG81 X0. Y0. Z-0.75 R0.1 {feed}\nG80\nM30\n";
        Assert.Equal(found, string.Join(',', Found(program, setup, rows)));
    }

    /// <summary>A mill of 1.5 mm goes between the points of the usual grid, which is said; on a grid of 0.25 mm it is judged.</summary>
    [Fact]
    public void A_small_mill_is_judged_on_a_finer_grid()
    {
        const string rows =
            """{ "figure": "feedPerTooth", "units": "mm", "tools": ["end mill"], "most": 0.02, "source": "s" }""";
        var setup = Shop("mm", "\"kind\": \"end mill\", \"diameter\": 1.5, \"flutes\": 2");
        var program = Slot("mm", 10000, 1000, 0.5);
        var usual = Setups.Run(program, setup, new() { CuttingTable = Table(rows) });
        Assert.DoesNotContain(usual.Findings, f => f.Id == "chip-load");
        Assert.Contains(
            "chip load of mills: T1 is too small for the grid of 0.500 mm over the stock, so it is not known what it cuts (rules.materialGrid makes it finer)",
            usual.NotChecked
        );
        var finer = setup with { Rules = setup.Rules with { MaterialGrid = Length.From(0.25m, Units.Millimetre) } };
        Assert.Contains("chip-load", Found(program, finer, rows));
    }

    /// <summary>
    /// Plane geometry: with a cut of x diameters, x below a half, the thickest chip is 2√(x(1−x)) of the feed for each tooth. A cut of a tenth
    /// of the diameter takes 0.6 of it: 1.6 times the table's most is quiet there and too much in a full slot. (The width counts over the whole move, the part in the air as well.)
    /// </summary>
    [Theory]
    [InlineData(0.05, 1.6, false)]
    [InlineData(0.05, 2.2, true)]
    [InlineData(0.5, 1.6, true)]
    public void A_narrow_cut_may_be_fed_faster(double width, double times, bool found)
    {
        var setup = Shop("inch", "\"kind\": \"end mill\", \"diameter\": 0.5, \"flutes\": 4");
        const string rows =
            """{ "figure": "feedPerTooth", "units": "inch", "tools": ["end mill"], "most": 0.005, "source": "s" }""";
        var y = (2.25 - width).ToString("F4", CultureInfo.InvariantCulture);
        var feed = (0.005 * times * 4 * 2000).ToString("F2", CultureInfo.InvariantCulture);
        var program =
            $"G20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X-3. Y{y} S2000 M3\nG43 H1 Z1.\nG0 Z-0.25\nG1 X3. F{feed}\nG0 Z1.\nM30\n";
        Assert.Equal(found ? ["chip-load"] : [], Found(program, setup, rows));
    }

    [Fact]
    public void A_plunge_a_move_in_the_air_and_a_tap_have_no_chip_load()
    {
        const string rows =
            """{ "figure": "feedPerTooth", "units": "inch", "tools": ["end mill", "tap"], "least": 0.002, "source": "s" }""";
        var mill = Shop("inch", "\"kind\": \"end mill\", \"diameter\": 0.5, \"flutes\": 4");
        const string head = "G20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. S2000 M3\nG43 H1 Z1.\n";
        Assert.Empty(Found(head + "G1 Z-0.1 F2.\nG0 Z1.\nM30\n", mill, rows));
        Assert.Empty(Found(head + "G1 X1. F2.\nM30\n", mill, rows));
        Assert.Equal(["chip-load"], Found(head + "G1 Z-0.1 F2.\nX1.\nG0 Z1.\nM30\n", mill, rows));
        var tap = Shop("inch", "\"kind\": \"tap\", \"diameter\": 0.25, \"flutes\": 3, \"pitch\": 0.05");
        Assert.Empty(
            Found(
                head.Replace("S2000", "S500", StringComparison.Ordinal) + "G84 Z-0.3 R0.2 F25.\nG80\nM30\n",
                tap,
                rows
            )
        );
    }

    [Fact]
    public void A_holder_that_gives_way_takes_up_one_per_cent()
    {
        const string head = "G20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. S500 M3\nG43 H1 Z1.\n";
        var rigid = Shop("inch", "\"kind\": \"tap\", \"diameter\": 0.25, \"pitch\": 0.05");
        var floating = Shop("inch", "\"kind\": \"tap\", \"diameter\": 0.25, \"pitch\": 0.05, \"floating\": true");
        bool Found(Setup setup, string feed) =>
            Setups.Run($"{head}G84 Z-0.3 R0.2 F{feed}\nG80\nM30\n", setup).Findings.Any(f => f.Id == "tap-feed");
        Assert.True(Found(rigid, "24.80"));
        Assert.False(Found(floating, "24.80"));
        Assert.True(Found(floating, "24.70"));
    }

    [Theory]
    [InlineData("", "the stock's material is not given")]
    [InlineData("unobtainium", "no row for 'unobtainium' in test table")]
    public void A_material_that_is_not_in_the_table_is_said_once_and_judged_by_nothing(string material, string why)
    {
        var setup = Shop("inch", "\"kind\": \"end mill\", \"diameter\": 0.5, \"flutes\": 4", material);
        const string rows =
            """{ "figure": "cuttingSpeed", "units": "inch", "tools": ["end mill"], "most": 1, "source": "s" }""";
        var check = Setups.Run(Slot("inch", 9000, 10), setup, new CheckOptions { CuttingTable = Table(rows) });
        Assert.DoesNotContain(check.Findings, f => f.Id == "cutting-speed");
        Assert.Equal(
            "cutting speed, chip load, depth of cut: " + why,
            Assert.Single(check.NotChecked, l => l.StartsWith("cutting speed", StringComparison.Ordinal))
        );
        Assert.Equal(material.Length > 0 ? "test table" : null, check.CuttingData?.Name);
    }

    [Fact]
    public void The_check_says_which_table_it_used()
    {
        var setup = Shop("inch", "\"kind\": \"end mill\", \"diameter\": 0.5, \"flutes\": 4", "1018");
        var own = Table(
            """{ "figure": "cuttingSpeed", "units": "inch", "tools": ["end mill"], "most": 9000, "source": "s" }"""
        );
        var check = Setups.Run(Slot("inch", 9000, 10), setup, new CheckOptions { CuttingTable = own });
        Assert.Equal(new CuttingDataUsed("test table", own.Sha256), check.CuttingData);
        Assert.DoesNotContain(check.Findings, f => f.Id == "cutting-speed");
        var builtIn = Setups.Run(Slot("inch", 9000, 10), setup);
        Assert.Equal(BuiltInCutting.Table.Sha256, builtIn.CuttingData!.Sha256);
        Assert.Contains(builtIn.Findings, f => f.Id == "cutting-speed");
    }

    /// <summary>A spindle that cannot turn fast enough for the range is not told to.</summary>
    [Fact]
    public void Too_slow_is_said_only_where_the_spindle_could_turn_faster()
    {
        const string rows =
            """{ "figure": "cuttingSpeed", "units": "inch", "tools": ["end mill"], "least": 1000, "source": "s" }""";
        var tool = "\"kind\": \"end mill\", \"diameter\": 0.125, \"flutes\": 2";
        Assert.Empty(Found(Slot("inch", 8000, 10), Shop("inch", tool, machine: "\"maxSpindle\": 8000"), rows));
        Assert.Equal(
            ["cutting-speed"],
            Found(Slot("inch", 8000, 10), Shop("inch", tool, machine: "\"maxSpindle\": 12000"), rows)
        );
    }

    /// <summary>A ball that is in by depth a cuts with a circle of 2√(a(d − a)) (plane geometry): 0.01 deep, a half-inch ball cuts with 0.14 in.</summary>
    [Theory]
    [InlineData(0.01, false)]
    [InlineData(0.25, true)]
    public void A_ball_is_judged_by_the_circle_that_cuts(double depth, bool found)
    {
        const string rows =
            """{ "figure": "cuttingSpeed", "units": "inch", "tools": ["ball end mill"], "most": 500, "source": "s" }""";
        var setup = Shop("inch", "\"kind\": \"ball end mill\", \"diameter\": 0.5, \"flutes\": 2");
        Assert.Equal(found ? ["cutting-speed"] : [], Found(Slot("inch", 8000, 40, depth), setup, rows));
    }

    [Fact]
    public void A_hole_deeper_than_the_flutes_is_said_pecked_or_not()
    {
        var setup = Shop("inch", "\"kind\": \"drill\", \"diameter\": 0.25, \"fluteLength\": 1.0");
        IEnumerable<Finding> Deep(string cycle) =>
            Setups
                .Run(
                    $"G20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. S900 M3\nG43 H1 Z1.\n{cycle}\nG80\nM30\n",
                    setup,
                    new CheckOptions { CuttingTable = Table("") }
                )
                .Findings.Where(f => f.Id == "depth-of-cut");
        Assert.Empty(Deep("G81 Z-1. R0.1 F4."));
        Assert.Contains("1.2000 in deep", Assert.Single(Deep("G81 Z-1.2 R0.1 F4.")).Message, StringComparison.Ordinal);
        Assert.Single(Deep("G83 Z-1.2 R0.1 Q0.2 F4."));
        // from a lower R, as in a pocket, the hole counts from there
        Assert.Empty(Deep("G81 Z-1.2 R-0.3 F4."));
    }

    /// <summary>
    /// A tool whose speed and feed are inside the built-in table's own rows is quiet, whatever it is and whatever it cuts; at four times the
    /// speed, or four times the feed, it is not.
    /// </summary>
    [Fact]
    public void Inside_the_built_in_rows_nothing_is_said() =>
        Gen.Select(
                Gen.Int[0, 3].Select(i => Materials[i]),
                Gen.Int[0, 2].Select(i => Edges[i]),
                Gen.Int[4, 16],
                Gen.Double[0, 1],
                Gen.Double[0, 1]
            )
            .Sample(
                (material, edge, sixteenths, speedShare, feedShare) =>
                {
                    var diameter = sixteenths / 16.0;
                    var setup = Shop(
                        "inch",
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"\"kind\": \"end mill\", \"material\": \"{edge}\", \"diameter\": {diameter}, \"flutes\": 4"
                        ),
                        material
                    );
                    var rows = BuiltInCutting
                        .Table.Rows.Where(r =>
                            r.Tools.Contains("end mill")
                            && (
                                r.Material is null
                                || material.Contains(r.Material.Split(' ')[0], StringComparison.Ordinal)
                                || (
                                    r.Material == "low carbon steel"
                                    && material.Contains("mild", StringComparison.Ordinal)
                                )
                            )
                            && (
                                edge.Length == 0
                                || r.ToolMaterial is null
                                || (r.ToolMaterial == "carbide") == (edge == "carbide")
                            )
                        )
                        .ToList();
                    var fastest = (double)
                        rows.Where(r => r.Figure == CuttingFigure.CuttingSpeed).Max(r => r.Most)!.Value;
                    var thickest = (double)
                        rows.Where(r => r.Figure == CuttingFigure.FeedPerTooth).Max(r => r.Most)!.Value;
                    var turns = Math.Round(fastest * (0.7 + 0.3 * speedShare) * 12 / (Math.PI * diameter));
                    var feed = (0.0006 + (thickest - 0.0006) * feedShare) * 4 * turns;
                    IEnumerable<string> Said(double s, double f) =>
                        Setups
                            .Run(Slot("inch", s, Math.Round(f, 2)), setup)
                            .Findings.Select(x => x.Id)
                            .Where(id => id is "cutting-speed" or "chip-load" or "depth-of-cut");
                    Assert.Empty(Said(turns, feed));
                    Assert.Contains("cutting-speed", Said(turns * 4, feed * 4));
                    Assert.Contains("chip-load", Said(turns, thickest * 16 * turns));
                },
                iter: 200
            );

    /// <summary>Whatever S and F are, both units say the same.</summary>
    [Fact]
    public void The_unit_makes_no_difference() =>
        Gen.Select(Gen.Int[200, 9000], Gen.Int[1, 300])
            .Sample(
                (speed, feed) =>
                {
                    const string rows = """
                        { "figure": "cuttingSpeed", "units": "inch", "tools": ["end mill"], "least": 200, "most": 600, "source": "s" },
                        { "figure": "feedPerTooth", "units": "inch", "tools": ["end mill"], "least": 0.001, "most": 0.006, "source": "s" }
                        """;
                    const string mill = "\"kind\": \"end mill\", \"flutes\": 4, \"diameter\": ";
                    var inch = Found(Slot("inch", speed, feed, 0.1), Shop("inch", mill + "0.5"), rows);
                    var mm = Found(Slot("mm", speed, feed * 25.4, 2.54), Shop("mm", mill + "12.7"), rows);
                    Assert.Equal(inch, mm);
                },
                iter: 100
            );
}
