using System.Security.Cryptography.X509Certificates;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Tests.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Records;

/// <summary>Old records, and keys that were renewed, lost or stolen. What a stolen key can do, and what finds it, is said here as it is.</summary>
public class KeyTests
{
    static readonly DateTimeOffset Then = new(2016, 3, 2, 16, 0, 0, TimeSpan.Zero);

    static X509Certificate2 Certificate(KeyAndCertificate of) => X509CertificateLoader.LoadCertificate(of.Certificate);

    static byte[] Record(KeyAndCertificate leaf, KeyAndCertificate root, DateTimeOffset made, string note = "as it was")
    {
        var proveOut = new Walk().Begin().Do(new Note(note)).ProveOut;
        return RecordDocument.Make(
            proveOut,
            [.. proveOut.Entries.Select(EntryJson.Write)],
            new("Our shop", "bracket", "bracket", "10", "B", "0 stop"),
            made,
            ShopKeys.Signer(leaf, root.Certificate)
        );
    }

    [Fact]
    public void A_record_of_ten_years_ago_verifies_long_after_its_key_has_ended()
    {
        var root = ShopKeys.MakeRoot("Our shop", Then.AddDays(-1));
        var leaf = ShopKeys.MakeLeaf(root, "server 1", Then.AddDays(-1));
        var result = RecordVerifier.Verify(Record(leaf, root, Then), Certificate(root));
        Assert.True(Certificate(leaf).NotAfter < Then.AddYears(4).UtcDateTime);
        Assert.True(result.Intact, result.Fault);
        Assert.Equal((true, Then), (result.SignerConfirmed, result.Made));
    }

    [Fact]
    public void A_signature_dated_outside_its_keys_years_is_not_confirmed()
    {
        var root = ShopKeys.MakeRoot("Our shop", Then.AddDays(-1));
        var leaf = ShopKeys.MakeLeaf(root, "server 1", Then.AddDays(-1));
        foreach (var made in new[] { Then.AddYears(-1), Then.AddYears(4) })
            Assert.NotEqual(
                (true, (bool?)true),
                (
                    RecordVerifier.Verify(Record(leaf, root, made), Certificate(root)).Intact,
                    RecordVerifier.Verify(Record(leaf, root, made), Certificate(root)).SignerConfirmed
                )
            );
    }

    [Fact]
    public void After_five_rotations_each_record_still_verifies_under_the_one_root()
    {
        var root = ShopKeys.MakeRoot("Our shop", Then.AddDays(-1));
        for (var rotation = 0; rotation < 5; rotation++)
        {
            var made = Then.AddYears(3 * rotation);
            var leaf = ShopKeys.MakeLeaf(root, $"server {rotation}", made.AddDays(-1));
            Assert.True(RecordVerifier.Verify(Record(leaf, root, made), Certificate(root)).SignerConfirmed);
        }
    }

    [Fact]
    public void After_a_lost_root_old_records_verify_under_the_old_and_new_ones_under_the_new()
    {
        var (old, now) = (ShopKeys.MakeRoot("Our shop", Then), ShopKeys.MakeRoot("Our shop", Then.AddYears(2)));
        var before = Record(ShopKeys.MakeLeaf(old, "server", Then), old, Then.AddDays(1));
        var after = Record(ShopKeys.MakeLeaf(now, "server", Then.AddYears(2)), now, Then.AddYears(2).AddDays(1));
        Assert.True(RecordVerifier.Verify(before, Certificate(old)).SignerConfirmed);
        Assert.True(RecordVerifier.Verify(after, Certificate(now)).SignerConfirmed);
        Assert.False(RecordVerifier.Verify(before, Certificate(now)).SignerConfirmed);
        Assert.False(RecordVerifier.Verify(after, Certificate(old)).SignerConfirmed);
        Assert.NotEqual(
            RecordVerifier.Verify(before, null).RootFingerprint,
            RecordVerifier.Verify(after, null).RootFingerprint
        );
    }

    /// <summary>
    /// A chain shows tampering, it does not prevent it: whoever has the key can sign. The head on paper finds what was
    /// written anew, and a new root on the wall ends what the stolen key can do.
    /// </summary>
    [Fact]
    public void What_a_stolen_key_forges_has_another_head_than_the_paper_and_fails_under_a_new_root()
    {
        var root = ShopKeys.MakeRoot("Our shop", Then);
        var stolen = ShopKeys.MakeLeaf(root, "server", Then);
        var genuine = RecordVerifier.Verify(Record(stolen, root, Then.AddDays(1)), Certificate(root));
        var forged = Record(stolen, root, Then.AddDays(1), "as somebody wants it to have been");
        var seen = RecordVerifier.Verify(forged, Certificate(root));
        Assert.True(seen.Intact);
        Assert.True(seen.SignerConfirmed);
        Assert.NotEqual(genuine.Head, seen.Head);
        var afterTheft = ShopKeys.MakeRoot("Our shop", Then.AddDays(2));
        Assert.False(RecordVerifier.Verify(forged, Certificate(afterTheft)).SignerConfirmed);
    }
}
