using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Jobs.Records;

/// <summary>Names and figures of a record that are not in the prove-out itself.</summary>
/// <param name="CheckSummary">The check's result in a line: <c>0 stop, 2 check, 5 note; raise 3.0000 in</c>.</param>
public sealed record RecordOf(
    string Shop,
    string Job,
    string Part,
    string Operation,
    string Revision,
    string CheckSummary
);

/// <summary>
/// Makes the document <c>handwheel-record/1</c>: canonical JSON with every entry and its hash, a summary for people, the
/// digest of all of it, and the signed head.
/// </summary>
public static class RecordDocument
{
    public const string Format = "handwheel-record/1";

    /// <param name="bodies">The entries' bodies exactly as stored, oldest first.</param>
    /// <param name="made">When the record was made, UTC.</param>
    /// <exception cref="FormatException">A body is not the canonical JSON of its entry.</exception>
    public static byte[] Make(
        ProveOut proveOut,
        IReadOnlyList<byte[]> bodies,
        RecordOf about,
        DateTimeOffset made,
        RecordSigner signer
    )
    {
        var log = proveOut.Plan.Subject.ProveOut;
        var (entries, head) = Chained(log, bodies);
        var record = new JsonObject
        {
            ["format"] = Format,
            ["log"] = log.ToString(),
            ["made"] = Time(made),
            ["shop"] = about.Shop,
            ["job"] = about.Job,
            ["part"] = about.Part,
            ["operation"] = about.Operation,
            ["revision"] = about.Revision,
            ["machine"] = proveOut.Plan.MachineName,
            ["units"] = proveOut.Plan.Units.Symbol(),
            ["standing"] = RecordSummary.Text(proveOut.Standing),
            ["proved"] = RecordSummary.Proved(proveOut, about),
            ["people"] = RecordSummary.People(proveOut.Entries),
            ["steps"] = RecordSummary.Steps(proveOut),
            ["deviations"] = RecordSummary.Deviations(proveOut),
            ["edits"] = RecordSummary.Edits(proveOut.Entries),
            ["changes"] = RecordSummary.Changes(proveOut.Entries),
            ["happenings"] = RecordHappenings.Of(proveOut.Entries),
            ["firstPiece"] = RecordSummary.FirstPiece(proveOut),
            ["handoffs"] = RecordSummary.Handoffs(proveOut.Entries),
            ["signatures"] = RecordSummary.Signatures(proveOut.Entries),
            ["entries"] = entries,
            ["head"] = head.DeepClone(),
        };
        var content = Digest(Canonical(record));
        var signed = new JsonObject
        {
            ["format"] = Format,
            ["log"] = log.ToString(),
            ["made"] = Time(made),
            ["head"] = head,
            ["content"] = content,
        };
        record["content"] = content;
        record["signature"] = signer.Sign(Canonical(signed));
        return Canonical(record);
    }

    internal static string Time(DateTimeOffset at) =>
        at.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ss.fffffffZ", System.Globalization.CultureInfo.InvariantCulture);

    internal static byte[] Canonical(JsonNode node) => CanonicalJson.Of(Encoding.UTF8.GetBytes(node.ToJsonString()));

    internal static string Digest(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    static (JsonArray Entries, JsonObject Head) Chained(Guid log, IReadOnlyList<byte[]> bodies)
    {
        var entries = new JsonArray();
        var hash = RecordChain.Start;
        for (var i = 0; i < bodies.Count; i++)
        {
            if (!CanonicalJson.Of(bodies[i]).AsSpan().SequenceEqual(bodies[i]))
                throw new FormatException($"Entry {i + 1} is not stored in the form that was hashed.");
            hash = RecordChain.Next(log, i + 1, hash, bodies[i]);
            entries.Add(
                (JsonNode)
                    new JsonObject { ["body"] = JsonNode.Parse(bodies[i]), ["hash"] = Convert.ToHexStringLower(hash) }
            );
        }
        return (entries, new() { ["number"] = bodies.Count, ["hash"] = Convert.ToHexStringLower(hash) });
    }
}
