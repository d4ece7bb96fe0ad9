using System.Buffers.Binary;
using System.Text;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Tokens;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>What is true of every file that the paper is printed as, one test a fact.</summary>
public sealed class PdfFactsTests
{
    static byte[] Labels(PaperSize paper) =>
        ToolLabels.Print(
            new()
            {
                Setup = SampleSheet.Setup,
                SetupSha256 = new string('b', 64),
                Printed = SampleSheet.Printed,
                Paper = paper,
            }
        );

    static byte[] Print(string what, PaperSize paper = PaperSize.Letter) =>
        what == "sheet" ? SetupSheet.Print(SampleSheet.Input(paper)) : Labels(paper);

    /// <summary>Letter is 8.5 × 11 in (ANSI/ASME Y14.1 size A), A4 is 210 × 297 mm, ± 1.5 mm for sides to 150 mm and ± 2 mm above (ISO 216).</summary>
    [Theory]
    [InlineData("sheet", PaperSize.Letter, 215.9, 279.4, 0.01)]
    [InlineData("labels", PaperSize.Letter, 215.9, 279.4, 0.01)]
    [InlineData("sheet", PaperSize.A4, 210, 297, 0.2)]
    [InlineData("labels", PaperSize.A4, 210, 297, 0.2)]
    public void Every_page_has_the_size_of_the_paper(
        string what,
        PaperSize paper,
        double width,
        double height,
        double off
    )
    {
        using var pdf = PdfDocument.Open(Print(what, paper));
        Assert.All(
            pdf.GetPages(),
            p =>
            {
                Assert.Equal(width, p.Width / 72 * 25.4, off);
                Assert.Equal(height, p.Height / 72 * 25.4, off);
            }
        );
    }

    [Theory]
    [InlineData("sheet", PaperSize.Letter)]
    [InlineData("sheet", PaperSize.A4)]
    [InlineData("labels", PaperSize.Letter)]
    [InlineData("labels", PaperSize.A4)]
    public void Another_program_finds_nothing_wrong_with_the_file(string what, PaperSize paper)
    {
        var (exit, output) = OutsideTool.Run(
            "qpdf",
            "--check",
            OutsideTool.Keep($"fact-{what}-{paper}.pdf", Print(what, paper))
        );
        Assert.True(exit == 0, output);
        Assert.DoesNotContain("WARNING", output, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("sheet")]
    [InlineData("labels")]
    public void The_same_input_gives_the_same_bytes(string what) => Assert.Equal(Print(what), Print(what));

    [Theory]
    [InlineData("sheet", "Bearing cap, operation 20, revision B")]
    [InlineData("labels", "Labels for tool holders")]
    public void The_text_can_be_taken_out(string what, string sentence)
    {
        using var pdf = PdfDocument.Open(Print(what));
        var text = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains(sentence, text, StringComparison.Ordinal);
        Assert.DoesNotContain('\ufffd', text);
    }

    [Theory]
    [InlineData("sheet")]
    [InlineData("labels")]
    public void Every_typeface_is_in_the_file_and_no_other_is_asked_for(string what)
    {
        using var pdf = PdfDocument.Open(Print(what));
        var descriptors = new List<DictionaryToken>();
        foreach (var reference in pdf.Structure.CrossReferenceTable.ObjectOffsets.Keys)
        {
            if (
                pdf.Structure.GetObject(reference)?.Data is DictionaryToken d
                && d.TryGet(NameToken.Type, out NameToken type)
                && type.Data == "FontDescriptor"
            )
                descriptors.Add(d);
        }
        Assert.NotEmpty(descriptors);
        Assert.All(descriptors, d => Assert.True(d.ContainsKey(NameToken.Create("FontFile2")), d.ToString()));
        var (exit, output) = OutsideTool.Run("pdffonts", OutsideTool.Keep($"fonts-{what}.pdf", Print(what)));
        Assert.True(exit == 0, output);
        var fonts = output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).ToList();
        Assert.NotEmpty(fonts);
        Assert.All(fonts, f => Assert.Matches("IBM ?Plex.* yes +yes +yes ", f));
    }

    [Fact]
    public void Every_figure_of_a_register_is_set_in_the_face_with_the_dotted_zero()
    {
        using var pdf = PdfDocument.Open(Print("sheet"));
        var figures = pdf.GetPages()
            .SelectMany(p => p.GetWords())
            .Where(w => w.Text is "-22.5000" or "-18.1250" or "5.0625" or "-8.3125" or "+4.0000")
            .ToList();
        Assert.True(figures.Count >= 5);
        Assert.All(figures, w => Assert.Contains("Mono", w.Letters[0].FontName, StringComparison.Ordinal));
    }

    /// <summary>A zero with a dot is three outlines, the third small and in the middle; a stroke through it would reach from edge to edge, as Ø has it.</summary>
    [Theory]
    [InlineData(Face.Mono)]
    [InlineData(Face.MonoBold)]
    public void The_zero_has_a_dot_and_no_stroke(Face face)
    {
        var font = PaperFonts.Metrics(face).File;
        var zero = Outlines(font, '0');
        Assert.Equal(3, zero.Count);
        var (whole, dot) = (zero.MaxBy(o => o.Width), zero.MinBy(o => o.Width * o.Height));
        Assert.True(dot.Width < whole.Width * 0.4 && dot.Height < whole.Height * 0.4, $"{dot} in {whole}");
        Assert.InRange(
            (dot.Left + dot.Right) / 2,
            whole.Left + (whole.Width * 0.45),
            whole.Left + (whole.Width * 0.55)
        );
        Assert.InRange((dot.Low + dot.High) / 2, whole.Low + (whole.Height * 0.45), whole.Low + (whole.Height * 0.55));
        Assert.NotEqual(3, Outlines(font, 'O').Count);
    }

    [Theory]
    [InlineData("sheet")]
    [InlineData("labels")]
    public void A_glyph_that_is_missing_is_an_error_that_names_it(string what)
    {
        var setup = SampleSheet.Setup with { Tools = [SampleSheet.Setup.Tools[0] with { Description = "drill 軸" }] };
        var fault = Assert.Throws<InputFault>(() =>
            what == "sheet"
                ? SetupSheet.Print(SampleSheet.Input() with { Setup = setup })
                : ToolLabels.Print(
                    new()
                    {
                        Setup = setup,
                        SetupSha256 = new string('b', 64),
                        Printed = SampleSheet.Printed,
                    }
                )
        );
        Assert.Contains("U+8EF8", fault.Message, StringComparison.Ordinal);
    }

    readonly record struct Outline(int Left, int Right, int Low, int High)
    {
        public int Width => Right - Left;
        public int Height => High - Low;
    }

    /// <summary>The closed outlines of a simple glyph, from the tables cmap (format 4), loca and glyf of ISO/IEC 14496-22.</summary>
    static List<Outline> Outlines(byte[] font, char character)
    {
        int U16(int at) => BinaryPrimitives.ReadUInt16BigEndian(font.AsSpan(at));
        int S16(int at) => BinaryPrimitives.ReadInt16BigEndian(font.AsSpan(at));
        int U32(int at) => (int)BinaryPrimitives.ReadUInt32BigEndian(font.AsSpan(at));
        var tables = Enumerable
            .Range(0, U16(4))
            .Select(i => 12 + (16 * i))
            .ToDictionary(e => Encoding.ASCII.GetString(font, e, 4), e => U32(e + 8));
        var cmap = tables["cmap"];
        var format4 = Enumerable
            .Range(0, U16(cmap + 2))
            .Select(i => cmap + U32(cmap + 8 + (8 * i)))
            .First(t => U16(t) == 4);
        var twice = U16(format4 + 6);
        var glyph = 0;
        for (var s = 0; s < twice && glyph == 0; s += 2)
        {
            var first = U16(format4 + 16 + twice + s);
            if (character < first || character > U16(format4 + 14 + s))
                continue;
            var at = format4 + 16 + (3 * twice) + s;
            var delta = U16(format4 + 16 + (2 * twice) + s);
            glyph =
                U16(at) == 0
                    ? (character + delta) & 0xffff
                    : (U16(at + U16(at) + (2 * (character - first))) + delta) & 0xffff;
        }
        var longOffsets = U16(tables["head"] + 50) == 1;
        var place =
            tables["glyf"] + (longOffsets ? U32(tables["loca"] + (4 * glyph)) : 2 * U16(tables["loca"] + (2 * glyph)));
        var outlines = S16(place);
        Assert.True(outlines > 0, "a simple glyph");
        var ends = Enumerable.Range(0, outlines).Select(i => U16(place + 10 + (2 * i))).ToList();
        var pos = place + 10 + (2 * outlines);
        pos += 2 + U16(pos);
        var flags = new List<byte>();
        while (flags.Count <= ends[^1])
        {
            var flag = font[pos++];
            var repeats = (flag & 8) != 0 ? font[pos++] : 0;
            for (var i = 0; i <= repeats; i++)
                flags.Add(flag);
        }
        var xs = Coordinates(2, 16);
        var ys = Coordinates(4, 32);
        return [.. ends.Select((end, i) => Box(i == 0 ? 0 : ends[i - 1] + 1, end))];

        List<int> Coordinates(int small, int same)
        {
            var (value, values) = (0, new List<int>());
            foreach (var flag in flags)
            {
                if ((flag & small) != 0)
                    value += (flag & same) != 0 ? font[pos++] : -font[pos++];
                else if ((flag & same) == 0)
                {
                    value += S16(pos);
                    pos += 2;
                }
                values.Add(value);
            }
            return values;
        }

        Outline Box(int first, int last)
        {
            var (x, y) = (
                xs.Skip(first).Take(last - first + 1).ToList(),
                ys.Skip(first).Take(last - first + 1).ToList()
            );
            return new(x.Min(), x.Max(), y.Min(), y.Max());
        }
    }
}
