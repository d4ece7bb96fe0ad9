using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;
using Handwheel.Web.Tests.Commands;
using UglyToad.PdfPig;

namespace Handwheel.Web.Tests.Sheets;

public sealed class ToolLabelsTests
{
    static LabelsInput Input(Setup setup, PaperSize paper = PaperSize.Letter) =>
        new()
        {
            Setup = setup,
            SetupSha256 = new string('c', 64),
            Printed = SampleSheet.Printed,
            Paper = paper,
        };

    static List<string> Words(byte[] bytes)
    {
        using var pdf = PdfDocument.Open(bytes);
        return [.. pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text)];
    }

    [Fact]
    public void Each_tool_has_a_label_with_number_registers_description_and_a_line_for_its_length()
    {
        var bytes = ToolLabels.Print(Input(SampleSheet.Setup));
        OutsideTool.Keep("labels.pdf", bytes);
        var words = Words(bytes);
        Assert.All(["T1", "H1", "D1", "T4", "H4", "T9", "H9"], w => Assert.Contains(w, words));
        var text = string.Join(' ', words);
        Assert.Contains("end mill, 1/2 4FL carbide", text, StringComparison.Ordinal);
        Assert.Contains("LEFT HAND", text, StringComparison.Ordinal);
        Assert.Contains("May be out of date", text, StringComparison.Ordinal);
        Assert.Equal(3, words.Count(w => w == "by,"));
    }

    /// <summary>The length is measured at the machine: a figure that is already there would be copied.</summary>
    [Fact]
    public void No_length_of_the_setup_is_on_a_label()
    {
        var words = Words(ToolLabels.Print(Input(SampleSheet.Setup)));
        Assert.All(
            SampleSheet.Setup.Tools,
            t => Assert.DoesNotContain(t.Length!.Value.ToRegisterText(Handwheel.Nc.Units.Inch), words)
        );
    }

    [Theory]
    [InlineData(PaperSize.Letter)]
    [InlineData(PaperSize.A4)]
    public void Forty_tools_with_long_names_stay_on_their_labels(PaperSize paper)
    {
        var tools = Enumerable
            .Range(1, 40)
            .Select(n => SampleSheet.Setup.Tools[0] with { Number = n, Description = new string('w', 150) });
        var bytes = ToolLabels.Print(Input(SampleSheet.Setup with { Tools = [.. tools] }, paper));
        using var pdf = PdfDocument.Open(bytes);
        Assert.Equal(3, pdf.NumberOfPages);
        Assert.All(
            pdf.GetPages(),
            page => Assert.All(page.Letters, l => Assert.InRange(l.BoundingBox.Right, 30, page.Width - 30))
        );
    }

    [Fact]
    public void A_setup_without_tools_is_refused() =>
        Assert.Throws<InputFault>(() => ToolLabels.Print(Input(SampleSheet.Setup with { Tools = [] })));

    [Fact]
    public async Task The_command_writes_them_and_says_how_many()
    {
        var setup = Path.Combine(AppContext.BaseDirectory, "jobs", "pump-cover-op20.setup.json");
        var file = OutsideTool.Keep("pump-labels.pdf", []);
        var ran = await Ran.Command("labels", setup, "--out", file);
        Assert.True(ran.Status == 0, ran.Error);
        Assert.Contains("6 labels", ran.Out, StringComparison.Ordinal);
        using var pdf = PdfDocument.Open(file);
        // millimetres: on A4 unless another paper is asked for
        Assert.Equal(297, pdf.GetPage(1).Height / 72 * 25.4, 0.2);
    }
}
