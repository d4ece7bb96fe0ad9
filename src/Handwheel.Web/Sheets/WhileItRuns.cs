using System.Globalization;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets;

/// <summary>What the person at the machine needs while the program runs: switches, stops, where a tool can be started again, which files.</summary>
static class WhileItRuns
{
    public static void Print(Flow flow, SheetInput input)
    {
        Switches(flow, input);
        Stops(flow, input.Check);
        Restarts(flow, input.Check);
        Programs(flow, input.Check.Program);
    }

    /// <summary>One line for the first page.</summary>
    public static string InShort(CheckResult check, int page) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{SwitchesInShort(check)} Stops for you: {check.OperatorStops.Count}. Instructions and restart lines: page {page}."
        );

    public static string SwitchesInShort(CheckResult check) =>
        $"Block delete {Position(check.BlockDelete.On)}. {OptionalStop(check)}";

    static string OptionalStop(CheckResult check) =>
        check.OperatorStops.Any(s => s.Kind == "M1") ? "Optional stop ON." : "No M1 in the program.";

    static string Position(bool on) => on ? "ON" : "OFF";

    static void Switches(Flow flow, SheetInput input)
    {
        var check = input.Check;
        flow.Heading("Switches", size: Flow.FromAMetre);
        var optional = check.OperatorStops.Count(s => s.Kind == "M1");
        var percent = (input.Setup.AirCut.RapidOverride * 100).ToString("0.#", CultureInfo.InvariantCulture);
        Column[] columns =
        [
            new("Switch", 110, Size: 10),
            new("Stands", 80, Face: Face.SansBold, Size: 12),
            new("", 350),
        ];
        Cell[][] rows =
        [
            ["Block delete", Position(check.BlockDelete.On), Slashes(check.BlockDelete)],
            [
                "Optional stop",
                optional > 0 ? "ON" : "–",
                optional > 0
                    ? $"The program waits at {Many(optional, "place")} with M1. OFF only when nothing is left to look at there."
                    : "The program has no M1.",
            ],
            ["Single block", "ON", "In the air cut and to each tool's approach in the first cut."],
            ["Rapid override", percent + " %", "Or less, until the first piece is good."],
        ];
        new Table(flow, columns, rowHeight: 19).Draw(rows);
    }

    static string Slashes(BlockDeleteSwitch taken) =>
        taken switch
        {
            { On: true } => "This sheet is for the switch ON: blocks that begin with a slash are passed over.",
            { Blocks: 0 } => "No block that is executed begins with a slash.",
            _ =>
                $"{Many(taken.Blocks, "block")} with a slash: this sheet is for the switch OFF, they are executed. ON is another program.",
        };

    static void Stops(Flow flow, CheckResult check)
    {
        flow.Heading("Stops for the operator", size: Flow.FromAMetre);
        if (check.OperatorStops.Count == 0)
        {
            flow.Words("The program has no M0 and no M1: it waits for nobody.", size: 10);
            return;
        }
        Column[] columns =
        [
            new("Line", 60, Face: Face.MonoBold, Size: 12),
            new("Stop", 40, Face: Face.MonoBold, Size: 12),
            new("T", 36, Face: Face.MonoBold, Size: 12),
            new("What is to be done", 260, Size: 10),
            new("Block", 150, Face: Face.Mono, Size: 8.5),
        ];
        new Table(flow, columns, rowHeight: 19).Draw(
            check.OperatorStops.Select(s =>
                new Cell[]
                {
                    Line(s.Line, s.File),
                    s.Kind,
                    s.Tool == 0 ? "–" : Whole(s.Tool),
                    Printed(OperatorWords.Instruction(s)),
                    Printed(s.Block),
                }
            )
        );
    }

    static void Restarts(Flow flow, CheckResult check)
    {
        flow.Heading("To start a tool again", 70, Flow.FromAMetre);
        flow.Words(
            "After a break: axes up and clear, reset, read every register again; a replaced tool is a new tool. Then from the line that brings the tool in: single block, lowest rapid, thumb on feed hold."
        );
        if (check.Restarts.Count == 0)
        {
            flow.Words("The program brings in no tool: start it only from its beginning.", Face.SansBold, 10);
            return;
        }
        Column[] columns =
        [
            new("T", 36, Face: Face.MonoBold, Size: 13),
            new("Line", 54, Face: Face.MonoBold, Size: 12),
            new("Block", 88, Face: Face.Mono, Size: 8.5),
            new("The control must show", 150, Face: Face.Mono, Size: 8),
            new("Do not rely on", 212, Size: 9),
        ];
        new Table(flow, columns, rowHeight: 19).Draw(check.Restarts.Select(Row));
        flow.Words(OperatorWords.AtNoLine, size: 8.5);
    }

    static Cell[] Row(Restart restart) =>
        [
            Whole(restart.Tool),
            restart.FromTheTop ? "top" : Line(restart.Line, restart.File),
            restart.FromTheTop ? "the program's beginning" : Printed(restart.Block),
            string.Join(' ', restart.InForce),
            Printed(OperatorWords.DoNotRelyOn(restart)),
        ];

    static void Programs(Flow flow, ProgramFacts program)
    {
        flow.Heading("Programs", size: Flow.FromAMetre);
        Column[] columns =
        [
            new("Called", 66, Face: Face.MonoBold, Size: 9.5),
            new("File", 150, Size: 9.5),
            new("sha256", 324, Face: Face.Mono, Size: 7),
        ];
        var rows = program
            .Subprograms.Select(s => new Cell[] { Printed(s.Called), Printed(s.File), s.Sha256 })
            .Prepend(["main", program.Name, program.Sha256]);
        new Table(flow, columns).Draw(rows);
    }

    static string Line(int line, string? file) => file is null ? Whole(line) : $"{Whole(line)} of {Printed(file)}";

    /// <summary>What stands in a program is printed whatever it has.</summary>
    static string Printed(string text) => Ink.Printable(text);

    static string Many(int count, string what) => $"{Whole(count)} {what}{(count == 1 ? "" : "s")}";

    static string Whole(int value) => value.ToString(CultureInfo.InvariantCulture);
}
