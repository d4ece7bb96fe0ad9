using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.PathView;
using Handwheel.Web.Tests.Data;
using Handwheel.Web.Tests.Journeys;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Features.PathView;

/// <summary>The page, and what its script asks the server for.</summary>
public sealed partial class PathPageTests(PathPageTests.Shop shop) : IClassFixture<PathPageTests.Shop>
{
    public sealed class Shop : ShopApp, IAsyncLifetime
    {
        internal SampleShop Sample { get; private set; } = null!;
        public int Plate { get; private set; }
        public int Unfollowed { get; private set; }

        public async ValueTask InitializeAsync()
        {
            Sample = await SampleShop.In(Services);
            var by = new Actor(Sample.Administrator, "administrator", Roles.Administrator | Roles.Supervisor);
            var mill = (
                await Services.GetRequiredService<AddMachine>().Run(by, SpacerPlate.Machine, SpacerPlate.Facts)
            ).Must;
            Plate = await Make(by, mill.Id, SpacerPlate.ProgramBytes);
            var odd = string.Join('\n', SpacerPlate.Program).Replace("N140", "M777\nN140", StringComparison.Ordinal);
            Unfollowed = await Make(by, mill.Id, Encoding.UTF8.GetBytes(odd));
        }

        async Task<int> Make(Actor by, Guid mill, byte[] program) =>
            (
                await Services
                    .GetRequiredService<MakeJob>()
                    .Run(by, mill, new("plate.nc", program), new("plate.setup.json", SpacerPlate.SetupBytes), [])
            )
                .Must
                .Number;
    }

    async Task<HttpClient> Browser()
    {
        var browser = shop.CreateClient();
        await shop.Sample.SignIn(browser);
        return browser;
    }

    static async Task<string> Base(HttpClient browser, int job) =>
        BaseOf().Match(await browser.GetStringAsync($"/jobs/{job}/path")).Groups["base"].Value;

    [GeneratedRegex("data-base=\"(?<base>[^\"]+)\"", RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking)]
    private static partial Regex BaseOf();

    static async Task<BlockShown> Block(HttpClient browser, string address) =>
        JsonSerializer.Deserialize<BlockShown>(await browser.GetStringAsync(address), JsonSerializerOptions.Web)!;

    [Fact]
    public async Task The_page_has_scrubber_jumps_tools_and_the_flat_views_for_who_has_no_script()
    {
        using var browser = await Browser();
        var page = await browser.GetStringAsync($"/jobs/{shop.Plate}/path?block=7");
        Assert.Matches("<input id=\"path-block\" type=\"range\" min=\"1\" max=\"20\" step=\"1\" value=\"7\"", page);
        Assert.Contains("Stop 1: position, T1", page, StringComparison.Ordinal);
        Assert.Contains("needs its script", page, StringComparison.Ordinal);
        Assert.Contains($"<img src=\"/jobs/{shop.Plate}/path/front.svg\"", page, StringComparison.Ordinal);
        Assert.DoesNotContain("G43 H1 Z1.0 M8\n", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("top")]
    [InlineData("front")]
    [InlineData("side")]
    [InlineData("isometric")]
    [InlineData("travel")]
    public async Task A_flat_view_is_the_drawing_models(string view)
    {
        using var browser = await Browser();
        var answer = await browser.GetAsync($"/jobs/{shop.Plate}/path/{view}.svg");
        Assert.Equal("image/svg+xml", answer.Content.Headers.ContentType!.MediaType);
        Assert.StartsWith("<svg", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_block_is_shown_with_tip_way_and_modal_words()
    {
        using var browser = await Browser();
        var at = await Base(browser, shop.Plate);
        var shown = await Block(browser, at + "/block.json?line=8");
        Assert.Equal((8, 1, "G54", null), (shown.Line, shown.Tool, shown.WorkOffset, shown.File));
        Assert.Equal(["-0.5000", "0.5000", "-0.2500"], shown.At);
        Assert.Equal(["0.0000", "0.0000", "-1.2500"], shown.ToGo);
        Assert.Contains("F 30 in/min", shown.Modal);
        Assert.Contains("Z -0.2500 from G54", shown.Words, StringComparison.Ordinal);
        Assert.Equal(shown.Block, (await Block(browser, at + "/block.json?block=" + shown.Block)).Block);
    }

    [Fact]
    public async Task A_line_without_a_block_leads_to_the_next_one_and_the_last_to_none()
    {
        using var browser = await Browser();
        var at = await Base(browser, shop.Plate);
        Assert.Equal(3, (await Block(browser, at + "/block.json?line=1")).Line);
        var answer = await browser.GetAsync(at + "/block.json?line=23");
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("never executed", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.GetAsync(at + "/block.json?block=21")).StatusCode);
    }

    /// <summary>A reading that is typed blind must stand nowhere on the way to it.</summary>
    [Fact]
    public async Task No_block_shows_a_machine_Z()
    {
        using var browser = await Browser();
        foreach (var job in new[] { shop.Plate, shop.Sample.Job.Number })
        {
            var open = (await shop.Services.GetRequiredService<JobReader>().OpenNumber(job))!;
            var at = await Base(browser, job);
            var blind = open
                .Check.Stops.SelectMany(s => new[] { s.MachineTo.Z, s.MachineToRaised.Z })
                .OfType<decimal>()
                .Where(z => z != 0)
                .Select(z => Math.Abs(z).ToString("0.0000", CultureInfo.InvariantCulture))
                .ToHashSet(StringComparer.Ordinal);
            Assert.NotEmpty(blind);
            for (var block = 1; block <= open.Check.Program.BlocksExecuted; block++)
            {
                var shown = await Block(browser, $"{at}/block.json?block={block}");
                string[] ofZ = [shown.At[2], shown.ToGo[2], shown.ToGoRaised];
                Assert.DoesNotContain(ofZ, v => blind.Contains(v.TrimStart('-')));
            }
        }
    }

    [Fact]
    public async Task Lines_come_a_few_at_a_time_and_never_beyond_the_end()
    {
        using var browser = await Browser();
        var at = await Base(browser, shop.Plate);
        using var some = JsonDocument.Parse(await browser.GetStringAsync(at + "/lines.json?from=7&count=2"));
        var lines = some.RootElement.GetProperty("lines").EnumerateArray().ToList();
        Assert.Equal(
            (2, 23, 7),
            (
                lines.Count,
                some.RootElement.GetProperty("of").GetInt32(),
                some.RootElement.GetProperty("from").GetInt32()
            )
        );
        Assert.Equal(
            SpacerPlate.Program[6],
            string.Concat(lines[0].EnumerateArray().Select(piece => piece[1].GetString()))
        );
        using var end = JsonDocument.Parse(await browser.GetStringAsync(at + "/lines.json?from=23&count=90000"));
        Assert.Single(end.RootElement.GetProperty("lines").EnumerateArray());
    }

    [Fact]
    public async Task The_picture_of_another_program_is_refused_in_words()
    {
        using var browser = await Browser();
        foreach (
            var file in new[]
            {
                "whole.bin",
                "near.bin?block=1",
                "as-cut.bin",
                "block.json?block=1",
                "lines.json?from=1&count=1",
            }
        )
        {
            var answer = await browser.GetAsync($"/jobs/{shop.Plate}/path/0123456789abcdef0123/{file}");
            Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
            Assert.Contains("Load the page again", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    /// <summary>The slot of T1 is 0.25 deep in stock of 0.75, the two drilled holes 0.5.</summary>
    [Fact]
    public async Task The_stock_as_cut_comes_as_heights_and_where_it_is_not_known_the_page_says_why()
    {
        using var browser = await Browser();
        var bytes = await browser.GetByteArrayAsync(await Base(browser, shop.Plate) + "/as-cut.bin");
        Assert.Equal("HWC1", Encoding.ASCII.GetString(bytes, 0, 4));
        Assert.Equal(1, BitConverter.ToInt32(bytes, 4));
        var (columns, rows) = (BitConverter.ToInt32(bytes, 8), BitConverter.ToInt32(bytes, 12));
        Assert.Equal(4 * (2 + 7 + (columns * rows)), bytes.Length);
        float Word(int at) => BitConverter.ToSingle(bytes, 4 * at);
        // G54 lies at X-20.1234 Y-10.4321 Z-18.0625, the stock from X0 Y0 Z-0.75 to X4 Y2
        Assert.Equal([-20.1234f, -16.1234f, -10.4321f, -8.4321f, -18.8125f], Enumerable.Range(4, 5).Select(Word));
        float At(double x, double y) => Word(9 + ((int)(y / 2 * rows) * columns) + (int)(x / 4 * columns));
        Assert.Equal([0.5f, 0.75f], new[] { At(2, 0.5), At(2, 1.5) });
        // a cell at the middle of the hole stands on the drill's point, no more than a grid point from its tip
        Assert.InRange(At(3, 1), 0.25f, 0.27f);

        var unknown = await browser.GetStringAsync($"/jobs/{shop.Unfollowed}/path");
        Assert.Contains("The stock as cut is not shown: ", unknown, StringComparison.Ordinal);
        Assert.DoesNotContain("data-show=\"ascut\"", unknown, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_the_check_stopped_knowing_the_page_the_bytes_and_the_block_say_so()
    {
        using var browser = await Browser();
        var page = await browser.GetStringAsync($"/jobs/{shop.Unfollowed}/path");
        Assert.Contains("From line 9 on the check did not know", page, StringComparison.Ordinal);
        var at = await Base(browser, shop.Unfollowed);
        Assert.Contains("guess", (await Block(browser, at + "/block.json?line=10")).Words, StringComparison.Ordinal);
        Assert.DoesNotContain(
            "guess",
            (await Block(browser, at + "/block.json?line=8")).Words,
            StringComparison.Ordinal
        );
        var bytes = await browser.GetByteArrayAsync(at + "/whole.bin");
        Assert.Equal((await Block(browser, at + "/block.json?line=9")).Block, BitConverter.ToInt32(bytes, 4 * 7));
    }

    [Fact]
    public async Task Findings_and_stops_of_the_picture_have_the_block_of_their_line()
    {
        using var browser = await Browser();
        var page = await browser.GetStringAsync($"/jobs/{shop.Sample.Job.Number}/path");
        var start = page.IndexOf("id=\"path-scene\">", StringComparison.Ordinal) + "id=\"path-scene\">".Length;
        using var scene = JsonDocument.Parse(page[start..page.IndexOf("</script>", start, StringComparison.Ordinal)]);
        var at = await Base(browser, shop.Sample.Job.Number);
        var findings = scene.RootElement.GetProperty("findings").EnumerateArray().ToList();
        Assert.NotEmpty(findings);
        foreach (var finding in findings.Where(f => f.GetProperty("block").ValueKind == JsonValueKind.Number))
            Assert.Equal(
                finding.GetProperty("line").GetInt32(),
                (await Block(browser, $"{at}/block.json?block={finding.GetProperty("block").GetInt32()}")).Line
            );
        Assert.Equal(30, scene.RootElement.GetProperty("stops").GetArrayLength());
        Assert.Equal(
            ["#0072b2", "#d55e00"],
            scene
                .RootElement.GetProperty("tools")
                .EnumerateArray()
                .Take(2)
                .Select(t => t.GetProperty("colour").GetString())
        );
    }
}
