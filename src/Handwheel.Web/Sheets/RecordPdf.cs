using System.Globalization;
using System.Security.Cryptography.X509Certificates;
using System.Text.Json;
using Handwheel.Jobs.Records;
using Handwheel.Web.Features.Paper;

namespace Handwheel.Web.Sheets;

/// <summary>A record as paper: the pages are printed from the signed JSON, which the file carries, and the whole is certified.</summary>
public static class RecordPdf
{
    public const string AttachmentName = "handwheel-record.json";

    /// <param name="record">The document <c>handwheel-record/1</c> as <see cref="RecordDocument.Make"/> gave it.</param>
    /// <param name="here">What a link to this server begins with; null: a command prints, and no browser said how the server is reached.</param>
    public static byte[] Make(byte[] record, RecordSigner signer, PaperSize paper, string? here = null)
    {
        using var json = JsonDocument.Parse(record);
        var root = json.RootElement;
        var made = DateTimeOffset.Parse(
            root.Text("made"),
            CultureInfo.InvariantCulture,
            DateTimeStyles.AssumeUniversal
        );
        var name = SetupSheet.JobName(
            new()
            {
                Part = root.Text("part"),
                Operation = root.Text("operation"),
                Revision = root.Text("revision"),
            },
            "job " + root.Text("job")
        );
        var facts = new PdfFacts("Prove-out record: " + name, made);
        using var flow = new Flow(paper, Edge(root, name, here));
        RecordPages.Print(flow, root);
        var attachment = new Attachment(
            AttachmentName,
            "application/json",
            "The record itself: every entry, the chain and its signature (handwheel-record/1)",
            record,
            made
        );
        var signedBy = signer.Chain[0].GetNameInfo(X509NameType.SimpleName, false);
        return PdfSeal.Sign(flow.Finish(facts, d => PdfSeal.Prepare(d, attachment, facts, signedBy)), signer);
    }

    static PageEdge Edge(JsonElement root, string name, string? here)
    {
        var head = root.Part("head");
        var (number, hash) = (head.Text("number"), head.Text("hash"));
        string[] foot =
        [
            $"record {root.Text("log")}   entry {number}, head {SetupSheet.Grouped(hash)}",
            $"made {RecordText.When(DateTimeOffset.Parse(root.Text("made"), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal), "")}; the file itself is signed: handwheel verify FILE says whether it is as it was signed",
            "Shows what people confirmed; it does not say that a program or a setup can be run without danger.",
        ];
        var code = here is null
            ? $"HANDWHEEL:RECORD {root.Text("log")} {number} {hash[..Math.Min(32, hash.Length)]}".ToUpperInvariant()
            : here
                + PaperCode.PathFor(
                    Guid.Parse(root.Text("log")),
                    long.Parse(number, NumberStyles.None, CultureInfo.InvariantCulture),
                    hash
                );
        return new($"Prove-out record   ·   {name}   ·   {root.Text("machine")}", root.Text("standing"), foot, code);
    }
}
