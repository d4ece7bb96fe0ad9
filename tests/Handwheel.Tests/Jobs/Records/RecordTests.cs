using System.Security.Cryptography.X509Certificates;
using System.Text;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Tests.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Records;

public class RecordTests
{
    static readonly DateTimeOffset Made = new(2026, 3, 2, 16, 0, 0, TimeSpan.Zero);
    static readonly KeyAndCertificate Root = ShopKeys.MakeRoot("Our shop", Made.AddYears(-1));
    static readonly KeyAndCertificate Leaf = ShopKeys.MakeLeaf(Root, "Handwheel server 1", Made.AddMonths(-1));
    static readonly RecordOf About = new("Our shop", "bracket, op 10", "bracket", "10", "B", "0 stop, 0 check");

    static ProveOut Released(int notes = 0)
    {
        var walk = new Walk().Begin();
        for (var i = 0; i < notes; i++)
            walk.Do(new Note($"note {i}"));
        return walk.Until().ProveOut;
    }

    static byte[] Record(ProveOut proveOut, KeyAndCertificate? leaf = null, KeyAndCertificate? root = null) =>
        RecordDocument.Make(
            proveOut,
            [.. proveOut.Entries.Select(EntryJson.Write)],
            About,
            Made,
            ShopKeys.Signer(leaf ?? Leaf, (root ?? Root).Certificate)
        );

    static X509Certificate2 Certificate(KeyAndCertificate of) => X509CertificateLoader.LoadCertificate(of.Certificate);

    [Fact]
    public void A_record_verifies_and_says_who_signed_what()
    {
        var proveOut = Released();
        var result = RecordVerifier.Verify(Record(proveOut), Certificate(Root));
        Assert.True(result.Intact, result.Fault);
        Assert.Equal((true, "Handwheel server 1", Made), (result.SignerConfirmed, result.SignedBy, result.Made));
        var last = result.Signatures[^1];
        Assert.Equal(("supervisor", "reviewed", proveOut.Last), (last.Name, last.Meaning, last.Entry));
        Assert.Contains("releases the job", last.What, StringComparison.Ordinal);
    }

    [Fact]
    public void The_first_piece_stands_in_the_record_with_limits_outcome_and_correction()
    {
        var walk = new Walk().Begin().Until("first-piece.2");
        walk.Do(new FirstPieceMeasured("first-piece.2", "0.2400", "depth gauge"))
            .Do(new CorrectionEntered("first-piece.2", "H2", "5.1350"))
            .Do(new CorrectionEntered("first-piece.2", "H2", "5.1150"));
        var record = JsonNode.Parse(Record(walk.Until().ProveOut))!;
        var rows = record["firstPiece"]!.AsArray().Skip(1).Select(r => r!).ToList();
        string[] limits = ["nominal", "plus", "minus", "unit"];
        Assert.Equal(["0.2500", "0.0020", "0.0020", "in"], limits.Select(l => (string?)rows[0][l]));
        Assert.Equal(("0.2400", "depth gauge"), ((string?)rows[0]["measured"], (string?)rows[0]["instrument"]));
        Assert.False((bool)rows[0]["in"]!);
        Assert.Contains("H2 smaller", (string?)rows[0]["correction"], StringComparison.Ordinal);
        Assert.Equal("5.1150", (string?)rows[0]["workedOut"]);
        Assert.Equal(
            [("5.1350", false), ("5.1150", true)],
            rows.Skip(1).Take(2).Select(r => ((string)r["value"]!, (bool)r["asWorkedOut"]!))
        );
        Assert.True((bool)rows[3]["in"]!);
        var step = record["steps"]!.AsArray().First(s => (string?)s!["step"] == "first-piece.2")!;
        Assert.Equal("0.2500 ± 0.0020 in", (string?)step["limits"]);
    }

    [Fact]
    public void Without_a_trusted_root_the_signer_is_not_confirmed()
    {
        var result = RecordVerifier.Verify(Record(Released()), null);
        Assert.Equal(
            (true, (bool?)null, "Intact; signer not confirmed."),
            (result.Intact, result.SignerConfirmed, result.Verdict)
        );
        Assert.Equal(ShopKeys.Fingerprint(Root.Certificate), result.RootFingerprint);
        var other = ShopKeys.MakeRoot("Our shop", Made.AddYears(-1));
        Assert.False(RecordVerifier.Verify(Record(Released()), Certificate(other)).SignerConfirmed);
    }

    [Fact]
    public void Every_byte_that_is_changed_is_found()
    {
        var record = Record(Released(150));
        Assert.True(RecordVerifier.Verify(record, null).Intact);
        var step = Math.Max(1, record.Length / 400);
        for (var at = 0; at < record.Length; at += step)
        {
            var changed = (byte[])record.Clone();
            changed[at] ^= (byte)(1 << (at % 7));
            Assert.False(RecordVerifier.Verify(changed, null).Intact, $"byte {at}");
        }
    }

    [Fact]
    public void Every_byte_of_the_signature_that_is_changed_is_found()
    {
        var record = Record(Released());
        var signature = Encoding.UTF8.GetString(record).IndexOf("\"signature\":\"", StringComparison.Ordinal) + 13;
        var end = Array.IndexOf(record, (byte)'"', signature);
        foreach (var at in Enumerable.Range(signature, end - signature).Where(i => i % 9 == 0 || i > end - 90))
        {
            var changed = (byte[])record.Clone();
            changed[at] = changed[at] == (byte)'A' ? (byte)'B' : (byte)'A';
            Assert.False(RecordVerifier.Verify(changed, null).Intact, $"byte {at}");
        }
    }

    [Fact]
    public void Deleted_inserted_swapped_and_cut_off_entries_are_named()
    {
        AssertBroken(7, e => e.RemoveAt(6));
        AssertBroken(8, e => e.Insert(6, e[6]!.DeepClone()));
        AssertBroken(
            7,
            e =>
            {
                var (a, b) = (e[6]!.DeepClone(), e[7]!.DeepClone());
                (e[6], e[7]) = (b, a);
            }
        );
        AssertBroken(null, e => e.RemoveAt(e.Count - 1));
        AssertBroken(9, e => e[8]!["body"]!["tablet"] = "tablet 9");
        AssertBroken(9, e => e[8]!["hash"] = new string('0', 64));
    }

    static void AssertBroken(long? first, Action<JsonArray> change)
    {
        var proveOut = Released();
        var record = JsonNode.Parse(Record(proveOut))!;
        change((JsonArray)record["entries"]!);
        var result = RecordVerifier.Verify(CanonicalJson.Of(Encoding.UTF8.GetBytes(record.ToJsonString())), null);
        Assert.False(result.Intact);
        Assert.Equal(first ?? proveOut.Last, result.FirstBrokenEntry);
        Assert.NotNull(result.Fault);
    }

    [Fact]
    public void A_history_written_anew_with_another_key_is_not_confirmed_and_has_another_head()
    {
        var genuine = RecordVerifier.Verify(Record(Released()), Certificate(Root));
        var forger = ShopKeys.MakeRoot("Our shop", Made.AddYears(-1));
        var forged = RecordVerifier.Verify(
            Record(Released(1), ShopKeys.MakeLeaf(forger, "Handwheel server 1", Made.AddDays(-1)), forger),
            Certificate(Root)
        );
        Assert.False(forged.SignerConfirmed);
        Assert.NotEqual(genuine.Head, forged.Head);
        Assert.NotEqual(genuine.RootFingerprint, forged.RootFingerprint);
    }

    [Fact]
    public void Records_of_every_rotation_still_verify()
    {
        for (var rotation = 0; rotation < 5; rotation++)
        {
            var leaf = ShopKeys.MakeLeaf(Root, $"Handwheel server {rotation}", Made.AddDays(-1));
            Assert.True(RecordVerifier.Verify(Record(Released(), leaf), Certificate(Root)).SignerConfirmed);
        }
    }

    [Fact]
    public void Something_else_is_not_a_record()
    {
        foreach (
            var text in new[]
            {
                "",
                "%PDF-1.7",
                "[]",
                "{}",
                """{"format":"handwheel-record/2"}""",
                "{\"format\":\"handwheel-record/1\"}",
            }
        )
        {
            var result = RecordVerifier.Verify(Encoding.UTF8.GetBytes(text), null);
            Assert.False(result.Intact);
            Assert.NotNull(result.Fault);
        }
    }
}
