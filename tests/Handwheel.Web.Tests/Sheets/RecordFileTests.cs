using System.Text;
using Handwheel.Jobs.Records;
using Handwheel.Web.Sheets;
using UglyToad.PdfPig;

namespace Handwheel.Web.Tests.Sheets;

public sealed class RecordFileTests(DemoRecord demo) : IClassFixture<DemoRecord>
{
    [Fact]
    public async Task Both_kinds_verify_and_say_who_signed_what()
    {
        foreach (var file in new[] { demo.Pdf, demo.Json })
        {
            var (exit, output, error) = await DemoRecord.Run("verify", file);
            Assert.Equal((0, ""), (exit, error));
            Assert.Contains("Intact; signer not confirmed.", output, StringComparison.Ordinal);
            Assert.Contains("Supervisor reviewed", output, StringComparison.Ordinal);
            Assert.Contains("Root certificate, SHA-256", output, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_trusted_root_confirms_and_another_does_not()
    {
        var own = demo.In("root.pem");
        await File.WriteAllTextAsync(
            own,
            Pem(
                await File.ReadAllBytesAsync(
                    Directory.GetFiles(demo.In("shop"), "root.cer", SearchOption.AllDirectories).Single()
                )
            )
        );
        var other = demo.In("other.pem");
        await File.WriteAllTextAsync(other, Pem(ShopKeys.MakeRoot("another shop", SampleSheet.Printed).Certificate));
        foreach (var file in new[] { demo.Pdf, demo.Json })
        {
            var (exit, output, _) = await DemoRecord.Run("verify", file, "--trust", own);
            Assert.Equal(0, exit);
            Assert.Contains("trusted root", output, StringComparison.Ordinal);
            Assert.Equal(1, (await DemoRecord.Run("verify", file, "--trust", other)).Exit);
        }

        static string Pem(byte[] certificate) =>
            new(System.Security.Cryptography.PemEncoding.Write("CERTIFICATE", certificate));
    }

    [Fact]
    public void Any_one_byte_changed_anywhere_is_found()
    {
        foreach (var path in new[] { demo.Pdf, demo.Json })
        {
            var file = File.ReadAllBytes(path);
            var missed = new List<int>();
            for (var at = 0; at < file.Length; at += file.Length / 150)
            {
                file[at] ^= 0x01;
                if (Verifies(file))
                    missed.Add(at);
                file[at] ^= 0x01;
            }
            Assert.Empty(missed);
        }

        static bool Verifies(byte[] file)
        {
            try
            {
                return RecordFile.Verify(file, "record", null).Intact;
            }
            catch (Handwheel.Jobs.Setups.InputFault)
            {
                return false;
            }
        }
    }

    [Fact]
    public async Task A_changed_record_is_refused_in_words()
    {
        var text = await File.ReadAllTextAsync(demo.Json);
        var forged = demo.In("forged.json");
        await File.WriteAllTextAsync(
            forged,
            text.Replace("\"typed\":\"-20.5150\"", "\"typed\":\"-20.5151\"", StringComparison.Ordinal)
        );
        var (exit, output, _) = await DemoRecord.Run("verify", forged);
        Assert.Equal(1, exit);
        Assert.Matches("First entry that is broken: [0-9]+", output);
        var pdf = await File.ReadAllBytesAsync(demo.Pdf);
        await File.WriteAllBytesAsync(demo.In("longer.pdf"), [.. pdf, .. "\n% more"u8]);
        (exit, output, _) = await DemoRecord.Run("verify", demo.In("longer.pdf"));
        Assert.Equal(1, exit);
        Assert.Contains("added or cut off", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("notes.txt", "hello", "neither a PDF nor a JSON object")]
    [InlineData("empty.pdf", "", "neither a PDF nor a JSON object")]
    public async Task What_is_no_record_is_wrong_input(string name, string content, string says)
    {
        await File.WriteAllTextAsync(demo.In(name), content);
        var (exit, output, error) = await DemoRecord.Run("verify", demo.In(name));
        Assert.Equal((2, ""), (exit, output));
        Assert.Contains(says, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Export_says_what_it_cannot_do()
    {
        Assert.Equal(
            2,
            (await DemoRecord.Run("record", "export", "99", "--shop", demo.In("shop"), "--out", demo.In("x.pdf"))).Exit
        );
        Assert.Equal(
            2,
            (await DemoRecord.Run("record", "export", "1", "--shop", demo.In("shop"), "--out", demo.In("x.doc"))).Exit
        );
        Assert.Equal(
            2,
            (await DemoRecord.Run("record", "export", "1", "--shop", demo.In("none"), "--out", demo.In("x.pdf"))).Exit
        );
        Assert.False(File.Exists(demo.In("x.pdf")));
    }

    [Fact]
    public void The_pages_say_what_the_record_inside_says()
    {
        var bytes = File.ReadAllBytes(demo.Pdf);
        using var pdf = PdfDocument.Open(bytes);
        var words = pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text).ToHashSet();
        Assert.True(pdf.Advanced.TryGetEmbeddedFiles(out var files));
        var record = Assert.Single(files);
        Assert.Equal(RecordPdf.AttachmentName, record.Name);
        using var json = System.Text.Json.JsonDocument.Parse(record.Memory);
        var root = json.RootElement;
        Assert.Contains(root.GetProperty("head").GetProperty("hash").GetString()!, words);
        Assert.Contains("RELEASED", words);
        var typed = root.GetProperty("entries")
            .EnumerateArray()
            .Select(e => e.GetProperty("body").GetProperty("act"))
            .Where(a => a.TryGetProperty("typed", out _))
            .Select(a => a.GetProperty("typed").GetString()!)
            .ToList();
        Assert.True(typed.Count > 20);
        Assert.All(typed, t => Assert.Contains(t, words));
        Assert.Contains("prevent", words);
    }

    [Fact]
    public void Outside_tools_agree()
    {
        var (exit, output) = OutsideTool.Run("qpdf", "--check", demo.Pdf);
        Assert.True(exit == 0, output);
        (exit, output) = OutsideTool.Run("pdfsig", "-nocert", demo.Pdf);
        Assert.True(exit == 0, output);
        Assert.Contains("Signature is Valid.", output, StringComparison.Ordinal);
        var (content, signature) = (demo.In("content.bin"), demo.In("signature.der"));
        var file = File.ReadAllBytes(demo.Pdf);
        var open =
            file.AsSpan().IndexOf(Encoding.ASCII.GetBytes(PdfSeal.ContentsStart)) + PdfSeal.ContentsStart.Length - 1;
        File.WriteAllBytes(content, PdfSeal.Covered(file, open, open + PdfSeal.Room + 2));
        File.WriteAllBytes(signature, Convert.FromHexString(Encoding.ASCII.GetString(file, open + 1, PdfSeal.Room)));
        (exit, output) = OutsideTool.Run(
            "openssl",
            "cms",
            "-verify",
            "-binary",
            "-inform",
            "DER",
            "-in",
            signature,
            "-content",
            content,
            "-noverify",
            "-out",
            demo.In("out.bin")
        );
        Assert.True(exit == 0, output);
    }
}
