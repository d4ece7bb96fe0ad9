using System.Text;
using Bunit;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;
using Handwheel.Web.Features.Jobs;

namespace Handwheel.Web.Tests.Features.Jobs;

public sealed class JobComponentsTests : BunitContext
{
    static string Link(int line) => $"/jobs/7#L{line}";

    static ProgramListing Listing(params string[] lines) => new(Encoding.UTF8.GetBytes(string.Join('\n', lines)));

    [Fact]
    public void A_number_that_a_mark_turns_round_is_shown_with_the_mark()
    {
        var text = Render<ProgramText>(p => p.Add(x => x.Program, Listing("(X\u202E01.)")).Add(x => x.LineLink, Link));

        Assert.Contains("⟨U+202E⟩", text.Find("code").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_nearest_pass_leads_to_its_line_in_the_listing_and_to_a_file_by_name()
    {
        var table = Render<NearestPassesTable>(p =>
            p.Add(
                    x => x.Passes,
                    [SampleCheck.OverClamp, SampleCheck.OverClamp with { File = "O50.nc", Part = "holder" }]
                )
                .Add(x => x.Units, Units.Inch)
                .Add(x => x.LineLink, Link)
        );

        Assert.Equal("/jobs/7#L84", Assert.Single(table.FindAll("a")).GetAttribute("href"));
        var rows = table.FindAll("tbody tr").Select(r => r.TextContent).ToList();
        Assert.All(
            ["toe clamp, left", "0.2120", "above it", "T3"],
            w => Assert.Contains(w, rows[0], StringComparison.Ordinal)
        );
        Assert.Contains("O50.nc, 84", rows[1], StringComparison.Ordinal);
        Assert.Contains("holder", rows[1], StringComparison.Ordinal);
    }

    [Fact]
    public void What_a_tool_takes_off_is_shown_and_what_is_not_known_is_a_dash()
    {
        var table = Render<MaterialTable>(p =>
            p.Add(x => x.Material, [SampleCheck.Slot]).Add(x => x.Units, Units.Inch)
        );

        Assert.Equal(["0.3000", "—", "1.25", "0.63"], table.FindAll("tbody td").Select(c => c.TextContent.Trim()));
        Assert.Empty(
            Render<MaterialTable>(p => p.Add(x => x.Material, []).Add(x => x.Units, Units.Inch)).FindAll("table")
        );
    }

    [Fact]
    public void A_finding_stands_beside_the_line_that_caused_it()
    {
        var text = Render<ProgramText>(p =>
            p.Add(x => x.Program, Listing("%", "O1", "G1 X1.", "M30"))
                .Add(x => x.Findings, [SampleCheck.Finding(Level.Stop, 3)])
                .Add(x => x.LineLink, Link)
        );

        Assert.Contains("what is so at line 3", text.Find("#L3").TextContent, StringComparison.Ordinal);
        Assert.Contains("has-stop", text.Find("#L3").ClassName!, StringComparison.Ordinal);
        Assert.Empty(text.FindAll("#L2 .finding"));
        Assert.Equal("/jobs/7#L3", text.Find("#L3 .line-number").GetAttribute("href"));
    }

    [Fact]
    public void A_long_program_is_shown_in_parts_and_the_part_with_the_asked_line_first()
    {
        var lines = Enumerable.Range(1, 4500).Select(i => $"N{i} X{i}.").ToArray();
        var text = Render<ProgramText>(p =>
            p.Add(x => x.Program, Listing(lines)).Add(x => x.Line, 4321).Add(x => x.LineLink, Link)
        );

        Assert.Contains("asked", text.Find("#L4321").ClassName!, StringComparison.Ordinal);
        Assert.Empty(text.FindAll("#L1"));
        Assert.Equal(3, text.FindAll(".pager a").Count);
    }

    [Fact]
    public void Findings_are_listed_worst_first_with_what_to_do()
    {
        var list = Render<FindingsList>(p =>
            p.Add(
                    x => x.Findings,
                    [
                        SampleCheck.Finding(Level.Note, 1),
                        SampleCheck.Finding(Level.Stop, 9),
                        SampleCheck.Finding(Level.Check, 4),
                    ]
                )
                .Add(x => x.LineLink, Link)
        );

        Assert.Equal(
            ["1 that stops the job", "1 to look at before the air cut", "1 worth knowing"],
            list.FindAll("h3").Select(h => h.TextContent)
        );
        Assert.Contains("what to do at line 9", list.Find(".finding").TextContent, StringComparison.Ordinal);
        Assert.Equal("/findings/no-feed", list.Find(".finding a").GetAttribute("href"));
    }

    [Fact]
    public void The_stop_list_shows_distance_to_go_and_never_machine_z_which_is_read_blind()
    {
        var table = Render<StopsTable>(p =>
            p.Add(x => x.Stops, [SampleCheck.Approach with { DistanceToGo = new(null, null, -4.8m) }])
                .Add(x => x.Units, Units.Inch)
                .Add(x => x.LineLink, Link)
        );

        Assert.Contains("-4.8000", table.Markup, StringComparison.Ordinal);
        Assert.Contains("3.0000 + 0.2000", table.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("-12.8125", table.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("-9.8125", table.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_way_to_go_with_the_digits_of_a_blind_machine_z_is_given_roughly_in_both_columns()
    {
        var fromMachineZero = SampleCheck.Approach with
        {
            DistanceToGo = new(null, null, -12.8125m),
            DistanceToGoRaised = new(null, null, -9.8125m),
        };
        var table = Render<StopsTable>(p =>
            p.Add(x => x.Stops, [fromMachineZero]).Add(x => x.Units, Units.Inch).Add(x => x.LineLink, Link)
        );

        Assert.DoesNotContain("12.8125", table.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("9.8125", table.Markup, StringComparison.Ordinal);
        Assert.Contains("about -12.8", table.Markup, StringComparison.Ordinal);
        Assert.Contains("about -9.8", table.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void The_raised_value_of_a_register_is_not_on_the_page_since_it_is_read_blind()
    {
        var figures = Render<AirCutFigures>(p =>
            p.Add(
                    x => x.AirCut,
                    new AirCut
                    {
                        Possible = true,
                        MinimumRaise = 2.85m,
                        MaximumRaise = 3.2m,
                        SuggestedRaise = 3m,
                        Registers = [new("G55", "z", -18.125m, -15.125m)],
                    }
                )
                .Add(x => x.Units, Units.Inch)
        );

        Assert.Contains("3.0000", figures.Markup, StringComparison.Ordinal);
        Assert.Contains("-18.1250", figures.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("15.125", figures.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_window_the_page_warns_with_the_reason_and_suggests_nothing()
    {
        var figures = Render<AirCutFigures>(p =>
            p.Add(
                    x => x.AirCut,
                    new AirCut
                    {
                        MinimumRaise = 4m,
                        MaximumRaise = 3m,
                        Why = "T3 at line 40 needs more than travel allows",
                        Registers = [],
                    }
                )
                .Add(x => x.Units, Units.Inch)
        );

        Assert.Contains("T3 at line 40", figures.Find(".hazard-warning").TextContent, StringComparison.Ordinal);
        Assert.Empty(figures.FindAll(".big-value"));
    }

    [Fact]
    public void What_is_not_known_is_a_dash_and_never_a_zero() =>
        Assert.Equal(
            Handwheel.Web.Shell.Shown.NotKnown,
            Render<RunTimes>(p => p.Add(x => x.RunTime, new RunTime(null, [])).Add(x => x.Units, Units.Inch))
                .Find("dd")
                .TextContent
        );

    [Fact]
    public void Each_tool_has_its_air_cut_time_at_each_rate()
    {
        var times = new RunTime(
            90,
            [
                new(150, 150, 0.5m, 612) { Tools = [new(1, 500), new(3, 112)] },
                new(75, 300, 0.5m, null) { Tools = [new(1, 801), new(3, null)] },
            ]
        );
        var shown = Render<RunTimes>(p => p.Add(x => x.RunTime, times).Add(x => x.Units, Units.Inch));
        var cells = shown.FindAll("tbody td, tfoot td").Select(c => c.TextContent);
        Assert.Equal(
            [
                "8 min 20 s",
                "13 min 21 s",
                "1 min 52 s",
                Handwheel.Web.Shell.Shown.NotKnown,
                "10 min 12 s",
                Handwheel.Web.Shell.Shown.NotKnown,
            ],
            cells
        );
        Assert.Equal(["T1", "T3", "Total"], shown.FindAll("th[scope=row]").Select(c => c.TextContent));
    }
}
