using System.Security.Cryptography.X509Certificates;
using Handwheel.Jobs.Records;
using Handwheel.Jobs.Setups;
using PdfSharp.Pdf;
using PdfSharp.Pdf.Advanced;
using PdfSharp.Pdf.IO;

namespace Handwheel.Web.Sheets;

/// <summary>Verifies a record file, JSON or PDF, with neither database nor network.</summary>
public static class RecordFile
{
    /// <param name="name">For messages.</param>
    /// <exception cref="InputFault">The file is neither JSON nor PDF.</exception>
    public static VerifyResult Verify(byte[] file, string name, X509Certificate2? trustedRoot)
    {
        if (file.AsSpan().StartsWith("%PDF-"u8))
            return Pdf(file, trustedRoot);
        var text = file.AsSpan().TrimStart(" \t\r\n"u8);
        if (text.Length == 0 || text[0] != (byte)'{')
            throw new InputFault(
                name,
                null,
                null,
                "neither a PDF nor a JSON object",
                "a record that handwheel exported"
            );
        return RecordVerifier.Verify(file, trustedRoot);
    }

    static VerifyResult Pdf(byte[] file, X509Certificate2? trustedRoot)
    {
        var seal = PdfSealCheck.Check(file);
        if (seal.Fault is { } fault)
            return Fault("The PDF is not as it was signed. " + fault, []);
        var passed = new List<string> { "Every byte of the PDF is as it was signed, and nothing follows it." };
        if (Attached(file) is not { } record)
            return Fault("The PDF carries no record.", passed);
        var inside = RecordVerifier.Verify(record, trustedRoot);
        if (!inside.Intact)
            return inside with { Passed = [.. passed, .. inside.Passed] };
        var root = ShopKeys.Fingerprint(seal.Chain[^1].RawData);
        if (trustedRoot is not null && !seal.Chain[^1].RawData.AsSpan().SequenceEqual(trustedRoot.RawData))
            return inside with
            {
                SignerConfirmed = false,
                Passed = [.. passed, .. inside.Passed],
                Fault = "The PDF's signer does not come from the trusted root.",
            };
        if (root != inside.RootFingerprint)
            return Fault("The PDF and the record in it were signed under different roots.", passed);
        passed.Add("The record in the PDF was signed under the same root as the PDF.");
        return inside with { Passed = [.. passed, .. inside.Passed] };
    }

    static VerifyResult Fault(string fault, List<string> passed) =>
        new(false, null, passed, fault, null, [], null, null, null, null);

    static byte[]? Attached(byte[] file)
    {
        using var stream = new MemoryStream(file);
        using var document = PdfReader.Open(stream, PdfDocumentOpenMode.Import);
        var names = document.Internals.Catalog.Elements.GetDictionary("/Names");
        var list = names?.Elements.GetDictionary("/EmbeddedFiles")?.Elements.GetArray("/Names");
        if (list is not { Elements.Count: 2 } || list.Elements.GetString(0) != RecordPdf.AttachmentName)
            return null;
        var embedded = list.Elements.GetDictionary(1)?.Elements.GetDictionary("/EF")?.Elements["/F"];
        var content = embedded is PdfReference reference ? reference.Value as PdfDictionary : embedded as PdfDictionary;
        return content?.Stream?.UnfilteredValue;
    }
}
