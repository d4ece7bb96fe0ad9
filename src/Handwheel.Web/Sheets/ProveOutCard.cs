using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets;

/// <summary>
/// The card that goes to the machine: the raise and empty boxes. A value that a person reads from the control (register,
/// machine position) is never on it; distance-to-go is there to be compared.
/// </summary>
static class ProveOutCard
{
    static readonly Column[] RegisterColumns =
    [
        new("Register", 80, Face: Face.MonoBold, Size: 13),
        new("X shown", 110),
        new("Y shown", 110),
        new("Z shown", 110),
        new("read by, time", 110),
    ];

    public static void Print(Flow flow, SheetInput input)
    {
        var (setup, check) = (input.Setup, input.Check);
        flow.Heading("Prove-out card");
        flow.Words(
            "Write what the control shows, digit by digit, before looking at any other paper. Not as it should be: stop, say so, find out why.",
            Face.SansBold,
            10
        );
        Cautions.Box(
            flow,
            "WARNING",
            "Guards closed whenever axes or spindle can move. A hand or a gauge block under the tool only with the axes on hold, the spindle seen standing still and the control out of automatic, and out again before the next start. The machine builder's manual, local rules and trained, authorised people come first."
        );
        Ready(flow, setup, check);
        Raise(flow, setup, check);
        if (check.AirCut.SuggestedRaise is not null)
            AirCutCards(flow, setup, check);
        Restore(flow, check);
        FirstCut(flow, setup, check);
    }

    static void Ready(Flow flow, Setup setup, CheckResult check)
    {
        flow.Heading("1  Ready", 120);
        flow.Tick("Program in the control is this one: number _________ , line _______ reads _______________________");
        flow.Tick(
            "Holding seated and as tight as the first page says; nothing on the table that the sheet does not show. Tallest: _________ above zero."
        );
        flow.Tick(
            "Referenced and warm, guards and door tried, feed hold and emergency stop tried, single block on, axis lock off."
        );
        flow.Tick(Override(setup, check));
        flow.Space(4);
        flow.Words("Registers before the raise", Face.SansBold, 10);
        Registers(flow, check, true);
        flow.Words("Tools as they stand in the machine", Face.SansBold, 10);
        Column[] columns =
        [
            new("T", 36, Face: Face.MonoBold, Size: 13),
            new("Pocket", 40, Face: Face.MonoBold, Size: 11),
            new("What it is", 150, Size: 9),
            new("H", 30, Align.Right, Face.MonoBold, 12),
            new("  Length shown", 100),
            new("Wear shown", 80),
            new("Seated, stick-out looked at", 60, Align.Centre),
        ];
        new Table(flow, columns, rowHeight: 24).Draw(Used(setup, check).Select(t => LoadedRow(t.Number, t.Tool)));
    }

    static Cell[] LoadedRow(int number, Tool? tool) =>
        [
            Whole(number),
            Figures.Whole(tool?.Pocket),
            tool is null ? "not in the setup" : Name(tool),
            Figures.Whole(tool?.LengthOffset),
            Cell.Blank,
            Cell.Blank,
            Cell.Tick,
        ];

    static string Override(Setup setup, CheckResult check)
    {
        var percent = (setup.AirCut.RapidOverride * 100).ToString("0.#", CultureInfo.InvariantCulture);
        return $"Rapid override at {percent} % or less: it stands at ________ %. {WhileItRuns.SwitchesInShort(check)}";
    }

    static void Registers(Flow flow, CheckResult check, bool withCommon)
    {
        var names = check.WorkOffsets.Select(w => w.Name).ToList();
        if (withCommon)
            names.AddRange(["common", "shifts"]);
        var rows = names.Select(n => new Cell[] { n, Cell.Blank, Cell.Blank, Cell.Blank, "" });
        new Table(flow, RegisterColumns, rowHeight: 26).Draw(rows);
    }

    // "In every register below" and the registers stay on one page.
    const double RaiseText = 110;
    const double RaisedRow = 26;

    static void Raise(Flow flow, Setup setup, CheckResult check)
    {
        var (air, units) = (check.AirCut, setup.Units);
        var offsets = air.Registers.Select(r => r.WorkOffset).Distinct(StringComparer.Ordinal).ToList();
        flow.Heading("2  Raise for the air cut", RaiseText + (RaisedRow * offsets.Count));
        if (air.SuggestedRaise is not { } raise)
        {
            flow.Words("No air cut: " + (air.Why ?? "no raise can be worked out") + ".", Face.SansBold, 12);
            flow.Words(
                "Do not choose a raise by eye. The other way (holding and stock off the table, handwheel through each approach) needs a supervisor's signature."
            );
            flow.Tick("Other way, and who decided it: ____________________________________________");
            return;
        }
        if (raise == 0)
            flow.Words("Nothing needs raising: the program as it stands clears stock and holding.", Face.SansBold, 12);
        else
        {
            flow.Ink.Text("Raise Z by", Face.SansBold, 14, flow.Left, flow.Y + 24);
            var x = flow.Left + Ink.Width("Raise Z by ", Face.SansBold, 14);
            var amount = "+" + Figures.Register(raise, units);
            flow.Ink.Text(amount, Face.MonoBold, 26, x, flow.Y + 26);
            x += Ink.Width(amount + " ", Face.MonoBold, 26);
            flow.Ink.Text($"{Figures.Word(units)} in every register below", Face.SansBold, 14, x - 6, flow.Y + 24);
            flow.Y += 34;
        }
        flow.Words(
            $"Any raise from {Figures.Register(air.MinimumRaise, units)} to {Figures.Register(air.MaximumRaise, units)} {Figures.Word(units)} clears everything and stays inside travel. Never touch off a tool and never set a work offset while raised."
        );
        flow.Space(4);
        Column[] columns =
        [
            new("Register", 80, Face: Face.MonoBold, Size: 13),
            new("Z shown after the raise", 150),
            new("read by, time", 120),
            new("", 190),
        ];
        new Table(flow, columns, rowHeight: RaisedRow).Draw(offsets.Select(n => new Cell[] { n, Cell.Blank, "", "" }));
        AirCutRates.Print(flow, check, units);
    }

    static void AirCutCards(Flow flow, Setup setup, CheckResult check)
    {
        flow.Heading("3  Air cut: one card per tool", 130);
        flow.Words(
            "Hold about an inch (25 mm) before the end of each approach; compare distance-to-go with the air that is really there. Then let it end, read machine Z, slip the gauge block under."
        );
        flow.Space(4);
        foreach (var (number, tool) in Used(setup, check))
            ToolCard.Print(flow, number, tool, setup.Units, check);
        flow.Tick("The program ran to its end in the air. Seen: ____________________________________________");
    }

    static void Restore(Flow flow, CheckResult check)
    {
        flow.Heading("4  Put the offsets back", 130);
        flow.Words(
            "Reset and rewind. Put back every raised register, then read all of them and write what the control shows."
        );
        flow.Space(4);
        Registers(flow, check, true);
        flow.Tick("Dry run off, single block on, lowest rapid: override stands at ________ %.");
        flow.Tick("Block delete, optional stop, coolant and door as for cutting.");
    }

    static void FirstCut(Flow flow, Setup setup, CheckResult check)
    {
        flow.Heading("5  First cut, at true height", 110);
        flow.Words("Only after the read-back above. Single block to each tool's approach, thumb on feed hold.");
        Column[] columns =
        [
            new("T", 36, Face: Face.MonoBold, Size: 13),
            new("H", 36, Face: Face.MonoBold, Size: 12),
            new("Approach", 190, Face: Face.Mono, Size: 8.5),
            new("Machine Z shown at its end", 120),
            new("Agrees", 50, Align.Centre),
            new("Entry seen", 50, Align.Centre),
            new("by", 58),
        ];
        var rows = new List<Cell[]>();
        foreach (var (number, tool) in Used(setup, check))
        {
            var approach = check.Stops.FirstOrDefault(s => s.Tool == number && s.Kind == "approach");
            var where = approach is null
                ? "no approach with a length offset"
                : $"line {Whole(approach.Line)}: {approach.Block}";
            rows.Add([
                Whole(number),
                Figures.Whole(approach?.LengthOffset ?? tool?.LengthOffset),
                where,
                Cell.Blank,
                Cell.Tick,
                Cell.Tick,
                "",
            ]);
        }
        new Table(flow, columns, rowHeight: 26).Draw(rows);
        flow.Tick("First piece cut; nothing heard or seen that was odd, or: ________________________________________");
    }

    static IEnumerable<(int Number, Tool? Tool)> Used(Setup setup, CheckResult check) =>
        check.Tools.Select(t => (t.Tool, setup.Tools.FirstOrDefault(s => s.Number == t.Tool)));

    public static string Name(Tool tool) =>
        string.Join(", ", new[] { tool.Kind, tool.Description }.Where(s => s.Length > 0));

    static string Whole(int value) => value.ToString(CultureInfo.InvariantCulture);
}
