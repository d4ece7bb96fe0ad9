using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using Handwheel.Jobs.Records;
using Handwheel.Web.Sheets;
using UglyToad.PdfPig;

namespace Handwheel.Web.Tests.Sheets;

public sealed class PdfSealTests
{
    static readonly RecordSigner Signer = MakeSigner();

    static RecordSigner MakeSigner()
    {
        var from = new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
        using var rootKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var root = new CertificateRequest("CN=Shop root", rootKey, HashAlgorithmName.SHA256);
        root.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        var rootCertificate = root.CreateSelfSigned(from, from.AddYears(30));
        var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var leaf = new CertificateRequest("CN=Shop records", key, HashAlgorithmName.SHA256);
        leaf.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        var leafCertificate = leaf.Create(rootCertificate, from, from.AddYears(3), [1, 2, 3, 4]);
        return new(key, [leafCertificate, X509CertificateLoader.LoadCertificate(rootCertificate.RawData)]);
    }

    static byte[] Sealed { get; } = Make("{\"format\":\"x\"}");

    static byte[] Make(string json)
    {
        var facts = new PdfFacts("Record", SampleSheet.Printed);
        using var flow = new Flow(PaperSize.A4, new("Record", "", [], "HANDWHEEL:RECORD"));
        flow.Words("A page.");
        var file = new Attachment(
            "record.json",
            "application/json",
            "The record",
            Encoding.UTF8.GetBytes(json),
            SampleSheet.Printed
        );
        return PdfSeal.Sign(flow.Finish(facts, d => PdfSeal.Prepare(d, file, facts, "Shop records")), Signer);
    }

    [Fact]
    public void What_was_signed_is_found_as_it_was_signed()
    {
        var result = PdfSealCheck.Check(Sealed);
        Assert.Null(result.Fault);
        Assert.Equal(Signer.Chain.Select(c => c.Thumbprint), result.Chain.Select(c => c.Thumbprint));
    }

    [Fact]
    public void Any_one_byte_changed_anywhere_is_found()
    {
        var changed = (byte[])Sealed.Clone();
        var step = Environment.GetEnvironmentVariable("HANDWHEEL_EVERY_BYTE") is null ? 23 : 1;
        var missed = new List<int>();
        for (var at = 0; at < changed.Length; at += step)
        {
            foreach (var bits in new byte[] { 0x01, 0x20 })
            {
                changed[at] ^= bits;
                if (PdfSealCheck.Check(changed).Fault is null)
                    missed.Add(at);
                changed[at] ^= bits;
            }
        }
        Assert.Empty(missed);
    }

    [Fact]
    public void Any_one_byte_of_the_signature_itself_changed_is_found()
    {
        var changed = (byte[])Sealed.Clone();
        var open = changed.AsSpan().IndexOf("/Contents <"u8);
        var missed = new List<int>();
        for (var at = open; at < open + 2600; at++)
        {
            foreach (var bits in new byte[] { 0x01, 0x02, 0x20 })
            {
                changed[at] ^= bits;
                if (PdfSealCheck.Check(changed).Fault is null)
                    missed.Add(at);
                changed[at] ^= bits;
            }
        }
        Assert.Empty(missed);
    }

    [Fact]
    public void Something_added_or_cut_off_is_found()
    {
        Assert.Contains("to its end", PdfSealCheck.Check([.. Sealed, (byte)'\n']).Fault, StringComparison.Ordinal);
        Assert.NotNull(PdfSealCheck.Check(Sealed[..^1]).Fault);
        Assert.NotNull(PdfSealCheck.Check([]).Fault);
        Assert.NotNull(PdfSealCheck.Check("%PDF-1.7 nothing"u8.ToArray()).Fault);
    }

    [Fact]
    public void The_attachment_is_found_by_a_reader_of_pdf()
    {
        using var pdf = PdfDocument.Open(Sealed);
        Assert.True(pdf.Advanced.TryGetEmbeddedFiles(out var files));
        Assert.Equal("{\"format\":\"x\"}", Encoding.UTF8.GetString(Assert.Single(files).Memory.Span));
    }

    [Fact]
    public void Outside_tools_agree()
    {
        var path = OutsideTool.Keep("sealed.pdf", Sealed);
        var (exit, output) = OutsideTool.Run("qpdf", "--check", path);
        Assert.True(exit == 0, output);
        (exit, output) = OutsideTool.Run("pdfsig", "-nocert", path);
        Assert.True(exit == 0, output);
        Assert.Contains("Signature is Valid.", output, StringComparison.Ordinal);
        Assert.Contains("Total document signed", output, StringComparison.Ordinal);
    }
}
