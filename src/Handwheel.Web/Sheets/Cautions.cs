using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>The usual cautions. The signal words are used as ANSI Z535.4 defines them.</summary>
static class Cautions
{
    static readonly (string Word, string Text)[] Usual =
    [
        (
            "WARNING",
            "Rotating tools and moving axes can kill or maim. Guards and doors closed for automatic running; nobody reaches in. Setting with a guard open only in the machine's own setting mode, as its builder's manual says."
        ),
        (
            "WARNING",
            "Chips fly and edges cut. Eye protection; no loose clothes, long hair or gloves near a turning spindle; chips away with a brush or hook, never by hand."
        ),
        (
            "WARNING",
            "Before anyone works inside with a guard removed or bypassed: power isolated and locked out as the site requires. Lockout does not end at a shift change; hand it over person to person."
        ),
        (
            "CAUTION",
            "Feed hold is ignored in tapping and during tool changes. Keep a hand at the emergency stop there."
        ),
        (
            "CAUTION",
            "Tools and workpieces are sharp and may be hot; holders are heavy. Lift them as the site's rules say."
        ),
        (
            "NOTICE",
            "A raise does not protect moves in machine coordinates, the end of a reference return, or a program that writes its own offsets."
        ),
        ("NOTICE", "A tool touched off while an offset is raised goes too deep by the raise once the offset is back."),
    ];

    public static void Print(Flow flow)
    {
        flow.Heading("Cautions", 80);
        flow.Words(
            "The machine builder's manual, the local rules and trained, authorised people always come first. Who is in doubt does not press cycle start, and asks.",
            Face.SansBold,
            10
        );
        flow.Space(4);
        foreach (var (word, text) in Usual)
            Box(flow, word, text);
    }

    public static void Box(Flow flow, string word, string text)
    {
        const double side = 92;
        const double size = 9;
        var lines = Ink.Wrap(text, Face.Sans, size, flow.Width - side - 14);
        var height = Math.Max(22, (lines.Count * size * 1.28) + 8);
        flow.Keep(height + 4);
        var (ink, top) = (flow.Ink, flow.Y);
        ink.Box(flow.Left, top, flow.Width, height, 1);
        ink.Line(flow.Left + side, top, flow.Left + side, top + height, 1);
        LevelMarks.Hazard(ink, word, flow.Left + 14, top + (height / 2), 7);
        ink.Text(word, Face.SansBold, 11, flow.Left + 28, top + (height / 2) + 4);
        var y = top + ((height - (lines.Count * size * 1.28)) / 2) + (size * 0.98);
        foreach (var line in lines)
        {
            ink.Text(line, Face.Sans, size, flow.Left + side + 8, y);
            y += size * 1.28;
        }
        flow.Y = top + height + 4;
    }
}
