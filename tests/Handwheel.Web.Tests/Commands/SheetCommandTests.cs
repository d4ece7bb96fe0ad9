using Handwheel.Web.Tests.Sheets;
using UglyToad.PdfPig;

namespace Handwheel.Web.Tests.Commands;

/// <summary>The demo shop's sheets as the command prints them, pictures of the stock as cut and all.</summary>
public sealed class SheetCommandTests
{
    [Theory]
    [InlineData("bearing-cap-op10")]
    [InlineData("pump-cover-op20")]
    public async Task Is_a_clean_pdf_with_its_pictures(string job)
    {
        string Of(string name) => Path.Combine(AppContext.BaseDirectory, "jobs", name);
        var paper = OutsideTool.Keep($"{job}.pdf", []);
        var ran = await Ran.Command("sheet", Of(job + ".setup.json"), "--program", Of(job + ".nc"), "--out", paper);
        Assert.True(ran.Status == 0, ran.Error);
        using (var pdf = PdfDocument.Open(paper))
            Assert.Contains(
                pdf.GetPages(),
                p => p.Text.Contains("As cut, from above", StringComparison.Ordinal) && p.GetImages().Any()
            );
        var (exit, output) = OutsideTool.Run("qpdf", "--check", paper);
        Assert.True(exit == 0, output);
    }
}
