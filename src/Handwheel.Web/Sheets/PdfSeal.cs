using System.Globalization;
using System.Security.Cryptography;
using System.Security.Cryptography.Pkcs;
using System.Text;
using Handwheel.Jobs.Records;
using PdfSharp.Pdf;

namespace Handwheel.Web.Sheets;

/// <summary>A file that is carried inside a PDF.</summary>
/// <param name="MediaType">For example <c>application/json</c>.</param>
public sealed record Attachment(string Name, string MediaType, string Description, byte[] Bytes, DateTimeOffset Made);

/// <summary>
/// Attaches files to a PDF and certifies it: a detached CMS signature (RFC 5652) over every byte but its own, which allows
/// no later change (ISO 32000-1, 12.8; DocMDP level 1). ES256, with the certificates up to the root.
/// </summary>
public static class PdfSeal
{
    /// <summary>Hexadecimal digits kept free for the signature.</summary>
    public const int Room = 8192;
    public const string RangeStart = "/ByteRange [0 ";
    public const string ContentsStart = "/Contents <";
    const string RangeRoom = "[0 0000000000 0000000000 0000000000]";

    /// <summary>Adds the attachment and the place for the signature; for <see cref="Flow.Finish"/>.</summary>
    public static void Prepare(PdfDocument document, Attachment attachment, PdfFacts facts, string signer)
    {
        var file = Attach(document, attachment);
        var catalog = document.Internals.Catalog.Elements;
        catalog["/AF"] = new PdfArray(document, file.Reference!);
        var names = new PdfDictionary(document);
        names.Elements["/Names"] = new PdfArray(document, new PdfString(attachment.Name), file.Reference!);
        var trees = new PdfDictionary(document);
        trees.Elements["/EmbeddedFiles"] = names;
        catalog["/Names"] = trees;

        var signature = Signature(document, facts, signer);
        var field = new PdfDictionary(document);
        document.Internals.AddObject(field);
        var page = document.Pages[0];
        field.Elements["/Type"] = new PdfName("/Annot");
        field.Elements["/Subtype"] = new PdfName("/Widget");
        field.Elements["/FT"] = new PdfName("/Sig");
        field.Elements["/T"] = new PdfString("Record signature");
        field.Elements["/F"] = new PdfInteger(132);
        field.Elements["/Rect"] = new PdfLiteral("[0 0 0 0]");
        field.Elements["/P"] = page.Reference!;
        field.Elements["/V"] = signature.Reference!;
        page.Elements["/Annots"] = new PdfArray(document, field.Reference!);
        var form = new PdfDictionary(document);
        form.Elements["/SigFlags"] = new PdfInteger(3);
        form.Elements["/Fields"] = new PdfArray(document, field.Reference!);
        catalog["/AcroForm"] = form;
        var permissions = new PdfDictionary(document);
        permissions.Elements["/DocMDP"] = signature.Reference!;
        catalog["/Perms"] = permissions;
    }

    static PdfDictionary Attach(PdfDocument document, Attachment attachment)
    {
        var embedded = new PdfDictionary(document);
        document.Internals.AddObject(embedded);
        embedded.CreateStream(attachment.Bytes);
        embedded.Elements["/Type"] = new PdfName("/EmbeddedFile");
        embedded.Elements["/Subtype"] = new PdfName("/" + attachment.MediaType);
        embedded.Elements["/Params"] = new PdfLiteral(
            string.Create(
                CultureInfo.InvariantCulture,
                $"<</Size {attachment.Bytes.Length}/CreationDate({PdfBytes.Date(attachment.Made)})/ModDate({PdfBytes.Date(attachment.Made)})>>"
            )
        );
        var file = new PdfDictionary(document);
        document.Internals.AddObject(file);
        var streams = new PdfDictionary(document);
        streams.Elements["/F"] = embedded.Reference!;
        streams.Elements["/UF"] = embedded.Reference!;
        file.Elements["/Type"] = new PdfName("/Filespec");
        file.Elements["/F"] = new PdfString(attachment.Name);
        file.Elements["/UF"] = new PdfString(attachment.Name);
        file.Elements["/Desc"] = new PdfString(attachment.Description);
        file.Elements["/AFRelationship"] = new PdfName("/Source");
        file.Elements["/EF"] = streams;
        return file;
    }

    static PdfDictionary Signature(PdfDocument document, PdfFacts facts, string signer)
    {
        var signature = new PdfDictionary(document);
        document.Internals.AddObject(signature);
        signature.Elements["/Type"] = new PdfName("/Sig");
        signature.Elements["/Filter"] = new PdfName("/Adobe.PPKLite");
        signature.Elements["/SubFilter"] = new PdfName("/ETSI.CAdES.detached");
        signature.Elements["/ByteRange"] = new PdfLiteral(RangeRoom);
        signature.Elements["/Contents"] = new PdfLiteral("<" + new string('0', Room) + ">");
        signature.Elements["/Reference"] = new PdfLiteral(
            "[<</Type/SigRef/TransformMethod/DocMDP/TransformParams<</Type/TransformParams/P 1/V/1.2>>>>]"
        );
        signature.Elements["/Name"] = new PdfString(signer);
        signature.Elements["/M"] = new PdfLiteral($"({PdfBytes.Date(facts.Created)})");
        return signature;
    }

    /// <summary>Signs a file that <see cref="Prepare"/> left room in.</summary>
    public static byte[] Sign(byte[] prepared, RecordSigner signer)
    {
        var file = (byte[])prepared.Clone();
        var open = file.AsSpan().IndexOf(Encoding.ASCII.GetBytes(ContentsStart)) + ContentsStart.Length - 1;
        var close = open + Room + 2;
        var range = file.AsSpan().IndexOf(Encoding.ASCII.GetBytes(RangeRoom));
        var text = string.Create(CultureInfo.InvariantCulture, $"[0 {open:D10} {close:D10} {file.Length - close:D10}]");
        Encoding.ASCII.GetBytes(text).CopyTo(file, range);
        var signature = Cms(Covered(file, open, close), signer);
        if (2 * signature.Length > Room)
            throw new InvalidOperationException("The certificates are too long for the room kept for the signature.");
        Encoding.ASCII.GetBytes(Convert.ToHexStringLower(signature)).CopyTo(file, open + 1);
        return file;
    }

    /// <summary>Everything but the signature and its two brackets.</summary>
    public static byte[] Covered(byte[] file, int open, int close) => [.. file[..open], .. file[close..]];

    static byte[] Cms(byte[] content, RecordSigner signer)
    {
        var cms = new SignedCms(new ContentInfo(content), detached: true);
        var by = new CmsSigner(SubjectIdentifierType.IssuerAndSerialNumber, signer.Chain[0], signer.Key)
        {
            DigestAlgorithm = new Oid(PdfSealCheck.Sha256),
            IncludeOption = System.Security.Cryptography.X509Certificates.X509IncludeOption.None,
        };
        by.Certificates.AddRange(signer.Chain.ToArray());
        by.SignedAttributes.Add(SigningCertificate(signer.Chain[0].RawData));
        cms.ComputeSignature(by, silent: true);
        return cms.Encode();
    }

    /// <summary>Ties the signature to this certificate and no other (RFC 5035, signing-certificate-v2).</summary>
    static AsnEncodedData SigningCertificate(byte[] certificate)
    {
        var value = new System.Formats.Asn1.AsnWriter(System.Formats.Asn1.AsnEncodingRules.DER);
        using (value.PushSequence())
        using (value.PushSequence())
        using (value.PushSequence())
            value.WriteOctetString(SHA256.HashData(certificate));
        return new AsnEncodedData(new Oid("1.2.840.113549.1.9.16.2.47"), value.Encode());
    }
}
