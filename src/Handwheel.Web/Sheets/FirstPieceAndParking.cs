using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Sheets;

static class FirstPieceAndParking
{
    public static void Print(Flow flow, Setup setup)
    {
        FirstPiece(flow, setup);
        flow.Heading("Parking");
        if (setup.Parking.Count == 0)
            flow.Words("The setup gives no parking list: follow the machine's own.");
        foreach (var item in setup.Parking)
            flow.Tick(item);
    }

    static void FirstPiece(Flow flow, Setup setup)
    {
        var units = setup.Units;
        flow.Heading($"First piece, {Figures.Word(units)}", 60);
        flow.Words("Measure before unclamping where it can be done.");
        if (setup.Characteristics.Count == 0)
        {
            flow.Words("The setup lists nothing to measure: follow the drawing.");
            return;
        }
        Column[] columns =
        [
            new("What", 110, Size: 9.5),
            new("Nominal", 66, Align.Right, Face.Mono, 10),
            new("+", 54, Align.Right, Face.Mono, 9),
            new("−", 54, Align.Right, Face.Mono, 9),
            new("  With", 90, Size: 9),
            new("T", 28, Face: Face.MonoBold, Size: 11),
            new("Measured", 100),
            new("Before unclamping", 60, Align.Centre),
        ];
        var rows = setup.Characteristics.Select(c =>
            new Cell[]
            {
                c.Name,
                c.Nominal.ToRegisterText(units),
                c.Plus.ToRegisterText(units),
                c.Minus.ToRegisterText(units),
                "  " + c.Instrument,
                Figures.Whole(c.Tool),
                Cell.Blank,
                Cell.Tick,
            }
        );
        new Table(flow, columns, rowHeight: 26).Draw(rows);
        flow.Words("Edited at the machine: line, old, new, why (none: write none)", Face.SansBold, 9.5);
        for (var i = 0; i < 3; i++)
        {
            flow.Keep(22);
            flow.Y += 20;
            flow.Ink.Line(flow.Left, flow.Y, flow.Right, flow.Y, 0.4);
        }
        flow.Space(6);
    }
}
