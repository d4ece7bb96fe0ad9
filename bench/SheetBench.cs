using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;
using PdfSharp.Pdf.IO;

namespace Handwheel.Bench;

/// <summary>The setup sheet of the demo's first job, warm: two fixtures, six tools, the stock as cut, all views.</summary>
static class SheetBench
{
    /// <summary>Milliseconds for six pages.</summary>
    const double Limit = 100;

    const int Pages = 6;

    public static void Measure(Bars bars)
    {
        var folder = Path.Combine(AppContext.BaseDirectory, "sheet");
        var program = File.ReadAllBytes(Path.Combine(folder, "bearing-cap-op10.nc"));
        var setup = SetupFile.Read(
            File.ReadAllBytes(Path.Combine(folder, "bearing-cap-op10.setup.json")),
            "bearing-cap-op10.setup.json"
        );
        var input = new SheetInput
        {
            Setup = setup,
            SetupSha256 = new string('0', 64),
            Check = Check.Run(program, "bearing-cap-op10.nc", setup),
            Path = TipPath.Of(program, setup),
            Printed = new(2026, 1, 1, 12, 0, 0, TimeSpan.Zero),
        };
        using var sheet = PdfReader.Open(new MemoryStream(SetupSheet.Print(input)), PdfDocumentOpenMode.Import);
        var milliseconds = Timing.Median(() => GC.KeepAlive(SetupSheet.Print(input)), 15, 20);
        Console.WriteLine(
            FormattableString.Invariant(
                $"{"demo job", -20} {$"setup sheet, {sheet.PageCount} pages", -23} {milliseconds, 8:F2}"
            )
        );
        bars.AtMost("milliseconds-for-six-pages-of-sheet", milliseconds * Pages / sheet.PageCount, Limit);
    }
}
