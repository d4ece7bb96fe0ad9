using System.Globalization;
using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;

namespace Handwheel.Web.Tests.Sheets;

public sealed class SetupSheetTests
{
    [Fact]
    public void The_first_page_says_what_goes_where()
    {
        var words = Words(SampleSheet.Input())[0];
        Assert.All(
            [
                "Bearing",
                "20",
                "B",
                "Mill",
                "bearing-cap-op20.nc",
                "INCH",
                SampleSheet.Check.Program.Sha256[..4],
                "corner,",
                "1.7–1.9",
                "LEFT",
                "flood",
                "parallels",
                "drawn).",
                "lbf·ft:",
                "OFF.",
                "-22.5000",
                "-9.2500",
                "-18.1250",
                "-18.1305",
                "0.0000",
                "5.0625",
                "5.4370",
                "-1.1000",
                "5:12",
                "12",
                "toe",
                "stud",
                "tallest:",
                "5.2000",
                "3.2000",
                "aluminium",
            ],
            word => Assert.Contains(word, words)
        );
    }

    /// <summary>Capitals and digits of 4.65 mm and more are 16 minutes of arc from one metre (ISO 9241-303, the figure from memory).</summary>
    [Fact]
    public void Headings_units_and_tool_numbers_of_the_first_page_can_be_read_from_a_metre()
    {
        using var pdf = PdfDocument.Open(SetupSheet.Print(SampleSheet.Input()));
        var words = pdf.GetPage(1).GetWords().ToList();
        var least = Math.Tan(16 / 60.0 * Math.PI / 180) * 1000 / 25.4 * 72;
        foreach (var text in new[] { "INCH", "Work", "Tools,", "Stock,", "4", "9" })
            Assert.Contains(
                words.Where(w => w.Text == text),
                w => w.Letters[0].BoundingBox.Height >= least - 0.01 || text == "Stock,"
            );
        Assert.True(words.First(w => w.Text == "INCH").Letters[0].BoundingBox.Height > 20);
    }

    [Fact]
    public void A_page_of_its_own_is_for_the_person_who_runs_it()
    {
        var pages = Words(SampleSheet.Input()).Select(p => string.Join(' ', p)).ToList();
        var run = pages.FindIndex(p => p.Contains("Switches", StringComparison.Ordinal));
        var before = string.Join(' ', pages.Take(run));
        Assert.Contains($"Instructions and restart lines: page {run + 1}.", before, StringComparison.Ordinal);
        Assert.Contains("Tallest thing on the table: stud, Z 1.6000 from G55.", before, StringComparison.Ordinal);
        using var pdf = PdfDocument.Open(SetupSheet.Print(SampleSheet.Input()));
        var page = pdf.GetPage(run + 1);
        foreach (
            var row in new[]
            {
                "Block delete OFF",
                "Optional stop ON",
                "28 M1 1 LOOK AT THE FLOOR",
                "52 M0 1 ",
                "70 M0 1",
                "1 top",
                "4 29 N200 T4 M6",
                "9 53 N450 T9 M6",
            }
        )
            Assert.StartsWith(row, Row(page, row.Split(' ')[0]), StringComparison.Ordinal);
        Assert.Contains("3 blocks with a slash", pages[run], StringComparison.Ordinal);
        Assert.Contains("waits at 1 place with M1", pages[run], StringComparison.Ordinal);
        Assert.Contains("BLOW OUT THE HOLES (comment", pages[run], StringComparison.Ordinal);
        Assert.Contains("No comment beside it", pages[run], StringComparison.Ordinal);
        Assert.Contains("nothing after the line states the work", pages[run], StringComparison.Ordinal);
        Assert.Contains("a shift (G52, G92) is in force here", pages[run], StringComparison.Ordinal);
        Assert.Contains(SampleSheet.Check.Program.Sha256, pages[run], StringComparison.Ordinal);
        var views = string.Join(' ', pages);
        Assert.Contains("From the front left", views, StringComparison.Ordinal);
        Assert.Contains("Side view from the right", views, StringComparison.Ordinal);
        Assert.Contains("In the travel of X and Y", views, StringComparison.Ordinal);
    }

    /// <summary>The words beside the one at the left edge, from left to right.</summary>
    static string Row(Page page, string first)
    {
        var words = page.GetWords().ToList();
        var at = words.First(w => w.Text == first && w.BoundingBox.Left < 45).BoundingBox;
        var middle = (at.Bottom + at.Top) / 2;
        return string.Join(
            ' ',
            words
                .Where(w => w.BoundingBox.Bottom < middle && w.BoundingBox.Top > middle)
                .OrderBy(w => w.BoundingBox.Left)
                .Select(w => w.Text)
        );
    }

    [Fact]
    public void A_switch_that_was_on_and_a_program_without_stops_or_tools_are_said()
    {
        var check = SampleSheet.Check with { BlockDelete = new(true, 0), OperatorStops = [], Restarts = [] };
        var text = string.Join(' ', Words(SampleSheet.Input() with { Check = check }).SelectMany(w => w));
        Assert.Contains("Block delete ON", text, StringComparison.Ordinal);
        Assert.Contains("waits for nobody", text, StringComparison.Ordinal);
        Assert.Contains("brings in no tool", text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_setup_does_not_say_is_said_on_the_first_page()
    {
        var setup = SampleSheet.Setup with
        {
            Zeros = new Dictionary<Handwheel.Nc.WorkOffsetName, ZeroNote>(),
            Holding = [.. SampleSheet.Setup.Holding.Select(h => h with { Torque = "" })],
        };
        var page = string.Join(' ', Words(SampleSheet.Input() with { Setup = setup })[0]);
        Assert.Contains("The setup does not say.", page, StringComparison.Ordinal);
        Assert.Contains("Clamping torque: the setup gives none.", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_page_is_counted_and_says_that_it_may_be_out_of_date()
    {
        using var pdf = PdfDocument.Open(SetupSheet.Print(SampleSheet.Input()));
        Assert.All(
            pdf.GetPages(),
            page =>
            {
                Assert.Contains($"Page {page.Number} of {pdf.NumberOfPages}", page.Text, StringComparison.Ordinal);
                Assert.Contains("May be out of date", page.Text, StringComparison.Ordinal);
            }
        );
    }

    [Fact]
    public void The_card_shows_the_raise_and_no_value_that_is_to_be_read_blind()
    {
        var pages = Words(SampleSheet.Input());
        var card = pages.Skip(1).SelectMany(p => p).ToHashSet();
        Assert.Contains("+4.0000", card);
        Assert.Contains("-8.3125", card);
        Assert.Contains("4.2500", card);
        var check = SampleSheet.Check;
        var secrets = check
            .Stops.SelectMany(s => new[] { s.MachineTo, s.MachineToRaised })
            .SelectMany(v => new[] { v.X, v.Y, v.Z })
            .Concat(check.AirCut.Registers.SelectMany(r => new[] { r.Baseline, r.Raised }))
            .OfType<decimal>()
            .Select(v => v.ToString("F4", CultureInfo.InvariantCulture))
            .Concat(SampleSheet.Setup.Tools.Select(t => t.Length!.Value.ToRegisterText(Handwheel.Nc.Units.Inch)))
            .Concat(["-22.5000", "-9.2500", "-18.1250", "-18.1305"]);
        Assert.All(secrets.Distinct(), secret => Assert.DoesNotContain(secret, card));
    }

    [Fact]
    public void Findings_stand_worst_first_with_word_figures_and_remedy()
    {
        var text = string.Join(' ', Words(SampleSheet.Input()).SelectMany(w => w));
        var order = new[] { "0.3745", "units-not-stated", "listed-tool-unused", "holder contact: T4" };
        var places = order.Select(o => text.IndexOf(o, StringComparison.Ordinal)).ToList();
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
    }

    [Fact]
    public void The_places_to_watch_and_what_each_tool_takes_off_stand_after_the_findings()
    {
        var input = SampleSheet.Input() with
        {
            Check = SampleSheet.Check with
            {
                NearestPasses = [Features.Jobs.SampleCheck.OverClamp],
                Material = [Features.Jobs.SampleCheck.Slot],
            },
        };
        OutsideTool.Keep("setup-sheet-passes.pdf", SetupSheet.Print(input));
        var text = string.Join(' ', Words(input).SelectMany(w => w));
        Assert.Contains("no picture of what the program leaves", text, StringComparison.Ordinal);
        Assert.Contains(
            "Watch: T3 passes 0.2120 in above toe clamp",
            string.Join(' ', Words(WatchedBy(1)).SelectMany(w => w)),
            StringComparison.Ordinal
        );
        var order = new[] { "units-not-stated", "Nearest passes", "0.2120", "takes off", "0.3000", "Not checked" };
        var places = order.Select(o => text.IndexOf(o, StringComparison.Ordinal)).ToList();
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
    }

    static SheetInput WatchedBy(int tool) =>
        SampleSheet.Input() with
        {
            Check = SampleSheet.Check with
            {
                NearestPasses = [Features.Jobs.SampleCheck.OverClamp with { Tool = tool }],
            },
        };

    [Fact]
    public void A_sheet_with_stops_says_so_on_its_first_page_and_names_the_page_of_the_findings()
    {
        var pages = Words(SampleSheet.Input()).Select(p => string.Join(' ', p)).ToList();
        var named = pages.FindIndex(1, p => p.Contains("Findings", StringComparison.Ordinal)) + 1;
        Assert.Contains(
            $"DO NOT PRESS CYCLE START: 1 finding at level stop (page {named})",
            pages[0],
            StringComparison.Ordinal
        );
        Assert.Contains("length-offset-is-not-the-tools, line 42", pages[0], StringComparison.Ordinal);
        Assert.True(named - 1 < pages.FindIndex(p => p.Contains("Prove-out card", StringComparison.Ordinal)));

        var quiet = SampleSheet.Input() with { Check = SampleSheet.Check with { Findings = [] } };
        Assert.DoesNotContain("CYCLE START", string.Join(' ', Words(quiet)[0]), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_window_it_suggests_no_raise_and_says_why()
    {
        var check = SampleSheet.Check with
        {
            AirCut = new()
            {
                Possible = false,
                Why = "T4 needs 6.1000 and travel allows 5.1000",
                Registers = [],
            },
        };
        var text = string.Join(' ', Words(SampleSheet.Input() with { Check = check }).SelectMany(w => w));
        Assert.Contains("No air cut: T4 needs 6.1000 and travel allows 5.1000.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Raise Z by", text, StringComparison.Ordinal);
    }

    /// <summary>612 s and 801 s at the sample's two pairs of rates; T9 takes 62 s and 101 s of them.</summary>
    [Fact]
    public void The_card_says_how_long_each_tools_air_cut_takes_at_each_rate()
    {
        var text = string.Join(' ', Words(SampleSheet.Input()).SelectMany(w => w));
        Assert.Contains("150 in/min cutting, 150 rapid at 50 %", text, StringComparison.Ordinal);
        Assert.Contains("75 in/min cutting, 300 rapid at 50 %", text, StringComparison.Ordinal);
        var words = text.Split(' ');
        Assert.All(["6:40", "8:20", "2:30", "3:20", "1:02", "1:41", "10:12", "13:21"], t => Assert.Contains(t, words));
        Assert.Contains("chosen", text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_checked_stands_together_and_names_the_cutting_table()
    {
        var check = SampleSheet.Check with
        {
            NotChecked =
            [
                "holder contact: T4 has no holder",
                "run time: the machine has no rapid rates",
                "holder contact: T9 has no holder",
            ],
            CuttingData = new("Our table", new string('a', 64)),
        };
        var text = string.Join(' ', Words(SampleSheet.Input() with { Check = check }).SelectMany(w => w));
        Assert.Contains("holder contact: T4, T9 have no holder", text, StringComparison.Ordinal);
        Assert.Contains("“Our table”, version aaaaaaaaaaaa.", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Never_says_that_a_program_is_safe()
    {
        foreach (var check in new[] { SampleSheet.Check, SampleSheet.Check with { Findings = [], NotChecked = [] } })
        {
            var text = string.Join(' ', Words(SampleSheet.Input() with { Check = check }).SelectMany(w => w));
            Assert.DoesNotContain(
                "safe",
                text.Replace("safely", "", StringComparison.Ordinal),
                StringComparison.OrdinalIgnoreCase
            );
        }
    }

    [Fact]
    public void A_character_that_no_typeface_has_stops_the_print_and_is_named()
    {
        var setup = SampleSheet.Setup with { Job = new() { Part = "cap 軸" } };
        var fault = Assert.Throws<InputFault>(() => SetupSheet.Print(SampleSheet.Input() with { Setup = setup }));
        Assert.Contains("U+8EF8", fault.Message, StringComparison.Ordinal);
        Assert.Contains("cap", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Long_words_many_tools_and_many_findings_stay_inside_the_page()
    {
        var tools = Enumerable
            .Range(1, 40)
            .Select(n => SampleSheet.Setup.Tools[0] with { Number = n, Description = new string('w', 120) });
        var findings = Enumerable
            .Range(1, 120)
            .Select(n => SampleSheet.Check.Findings[1] with { Line = n, Message = new string('m', 300) });
        var input = SampleSheet.Input() with
        {
            Setup = SampleSheet.Setup with
            {
                Tools = [.. tools],
                Job = new() { Part = new string('P', 200), Notes = new string('n', 600) },
            },
            Check = SampleSheet.Check with { Findings = [.. findings] },
        };
        using var pdf = PdfDocument.Open(SetupSheet.Print(input));
        var outside = pdf.GetPages()
            .SelectMany(p =>
                p.Letters.Where(l => !Inside(p, l)).Select(l => $"page {p.Number}: {l.Value} at {l.Location}")
            );
        Assert.Empty(outside.Take(3));

        static bool Inside(Page page, Letter letter) =>
            letter.BoundingBox.Left > 30
            && letter.BoundingBox.Right < page.Width - 30
            && letter.BoundingBox.Bottom > 30
            && letter.BoundingBox.Top < page.Height - 30;
    }

    [Theory]
    [InlineData(null)]
    [InlineData("https://handwheel.shop.example/s/7KQ2M4")]
    public void The_code_on_a_printed_page_can_be_read(string? link)
    {
        var bytes = SetupSheet.Print(SampleSheet.Input() with { Scan = link is null ? null : new Uri(link) });
        var file = OutsideTool.Keep(link is null ? "code.pdf" : "code-link.pdf", bytes);
        var (exit, output) = OutsideTool.Run(
            "pdftoppm",
            "-gray",
            "-r",
            "200",
            "-f",
            "2",
            "-l",
            "2",
            "-singlefile",
            file,
            file
        );
        Assert.True(exit == 0, output);
        var sha = SampleSheet.Check.Program.Sha256[..32].ToUpperInvariant();
        Assert.StartsWith(
            link ?? $"HANDWHEEL:SHEET P:{sha} S:",
            PrintedCode.Decode(file + ".pgm"),
            StringComparison.Ordinal
        );
    }

    static List<List<string>> Words(SheetInput input)
    {
        using var pdf = PdfDocument.Open(SetupSheet.Print(input));
        return [.. pdf.GetPages().Select(p => p.GetWords().Select((Word w) => w.Text).ToList())];
    }
}
