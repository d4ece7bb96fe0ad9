using System.Globalization;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text.Json;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Proving;

namespace Handwheel.Jobs.Records;

/// <summary>Who signed what, and when.</summary>
/// <param name="Meaning"><c>did</c>, <c>witnessed</c>, <c>reviewed</c>, <c>handed over</c>, <c>took over</c>, <c>deviation</c>.</param>
/// <param name="What">The step's title, or the step's id, or "the prove-out".</param>
public sealed record SignatureSeen(
    long Entry,
    string Name,
    string Meaning,
    string What,
    DateTimeOffset At,
    string Zone
);

/// <summary>What a verification found.</summary>
/// <param name="Intact">Signature, chain and content's own digest are right.</param>
/// <param name="SignerConfirmed">The certificate comes from the trusted root; null: no root was given.</param>
/// <param name="Passed">What was checked and is right, in words.</param>
/// <param name="Fault">What is broken, in words; null: nothing.</param>
/// <param name="FirstBrokenEntry">Null: no entry is broken.</param>
/// <param name="SignedBy">The name in the signer's certificate.</param>
/// <param name="Made">When the record was made, by the server's clock.</param>
/// <param name="Head">The hash of the last entry, to compare with the one on paper.</param>
/// <param name="RootFingerprint">SHA-256 of the root certificate, to compare with the one on the shop's wall.</param>
public sealed record VerifyResult(
    bool Intact,
    bool? SignerConfirmed,
    IReadOnlyList<string> Passed,
    string? Fault,
    long? FirstBrokenEntry,
    IReadOnlyList<SignatureSeen> Signatures,
    string? SignedBy,
    DateTimeOffset? Made,
    string? Head,
    string? RootFingerprint
)
{
    /// <summary>The one sentence to print first.</summary>
    public string Verdict =>
        (Intact, SignerConfirmed) switch
        {
            (false, _) => $"Not as it was signed. {Fault}",
            (true, true) => "Intact; signed with a certificate of the trusted root.",
            (true, false) => "Intact, but the signer's certificate does not come from the trusted root.",
            _ => "Intact; signer not confirmed.",
        };
}

/// <summary>Checks a record with neither database nor network.</summary>
public static class RecordVerifier
{
    public static VerifyResult Verify(ReadOnlyMemory<byte> document, X509Certificate2? trustedRoot)
    {
        var passed = new List<string>();
        try
        {
            return new Verification(Parsed(document, passed), passed, trustedRoot).Run();
        }
        catch (Broken fault)
        {
            // What cannot be read, or was laid out anew, is followed byte by byte to the first entry that is not whole.
            var entry = fault.Entry ?? (passed.Count == 0 ? RawEntries.FirstBroken(document.Span) : null);
            return new(false, null, passed, fault.Message, entry, [], null, null, null, null);
        }
    }

    static JsonElement Parsed(ReadOnlyMemory<byte> document, List<string> passed)
    {
        JsonElement record;
        byte[] canonical;
        try
        {
            record = CanonicalJson.Parse(document.Span);
            canonical = CanonicalJson.Of(record);
        }
        catch (FormatException fault)
        {
            throw new Broken("The record cannot be read: " + fault.Message);
        }
        if (!canonical.AsSpan().SequenceEqual(document.Span))
            throw new Broken(
                "The record is not in the form in which it was signed: its text was changed or laid out anew."
            );
        if (record.ValueKind != JsonValueKind.Object)
            throw new Broken("Found something other than a record, expected one JSON object.");
        if (Verification.Text(record, "format") != RecordDocument.Format)
            throw new Broken(
                $"Expected the format {RecordDocument.Format}, found \"{Verification.Text(record, "format")}\"."
            );
        passed.Add("The text is in the form in which records are signed.");
        return record;
    }
}

/// <summary>Stops a verification at the first thing that is not as it was signed.</summary>
sealed class Broken(string message, long? entry = null) : Exception(message)
{
    public long? Entry => entry;
}

/// <summary>One run over one parsed record, whose bytes are canonical: what is hashed is taken from them as it stands.</summary>
sealed class Verification(JsonElement record, List<string> passed, X509Certificate2? trustedRoot)
{
    public VerifyResult Run()
    {
        if (!Guid.TryParse(Text(record, "log"), out var log))
            throw new Broken("The record does not say which prove-out it is of.");
        var (number, hash) = Chain(log);
        Head(Member(record, "head"), number, hash);
        passed.Add(string.Create(CultureInfo.InvariantCulture, $"The chain of {number} entries is whole."));
        var content = Text(record, "content");
        if (ContentDigest() != content)
            throw new Broken("The content is not what its own digest says: something outside the entries was changed.");
        passed.Add("The content is what its digest says.");
        return Signature(Text(record, "signature"), log, content, number, hash);
    }

    /// <summary>Undefined where there is no such member, or nothing that has members.</summary>
    static JsonElement Member(JsonElement of, string name) =>
        of.ValueKind == JsonValueKind.Object && of.TryGetProperty(name, out var member) ? member : default;

    public static string Text(JsonElement from, string name) =>
        Member(from, name) is { ValueKind: JsonValueKind.String } text ? text.GetString()! : "";

    static string? Number(JsonElement from) =>
        Member(from, "number") is { ValueKind: not JsonValueKind.Undefined } number ? number.GetRawText() : null;

    (long Number, string Hash) Chain(Guid log)
    {
        if (Member(record, "entries") is not { ValueKind: JsonValueKind.Array } entries)
            throw new Broken("The record has no entries.");
        var hash = RecordChain.Start;
        var number = 0L;
        foreach (var entry in entries.EnumerateArray())
        {
            number++;
            var body = Member(entry, "body");
            if (body.ValueKind != JsonValueKind.Object || entry.GetPropertyCount() != 2)
                throw new Broken($"Entry {number} is not an entry.", number);
            if (Number(body) != number.ToString(CultureInfo.InvariantCulture))
                throw new Broken($"Entry {number} is missing or out of place: found number {Number(body)}.", number);
            hash = RecordChain.Next(log, number, hash, JsonMarshal.GetRawUtf8Value(body));
            if (Text(entry, "hash") != Convert.ToHexStringLower(hash))
                throw new Broken($"Entry {number} is not as it was hashed.", number);
        }
        return (number, Convert.ToHexStringLower(hash));
    }

    static void Head(JsonElement head, long number, string hash)
    {
        var signed = Number(head);
        if (signed != number.ToString(CultureInfo.InvariantCulture))
            throw new Broken($"The record ends at entry {number}, but its head is entry {signed}.", number + 1);
        if (Text(head, "hash") != hash)
            throw new Broken("The head is not the last entry's hash.", number);
    }

    /// <summary>Of the record without its signature and this digest itself.</summary>
    string ContentDigest()
    {
        using var digest = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var before = "{"u8;
        foreach (var member in record.EnumerateObject().Where(m => m.Name is not ("signature" or "content")))
        {
            digest.AppendData(before);
            digest.AppendData("\""u8);
            digest.AppendData(JsonMarshal.GetRawUtf8PropertyName(member));
            digest.AppendData("\":"u8);
            digest.AppendData(JsonMarshal.GetRawUtf8Value(member.Value));
            before = ","u8;
        }
        digest.AppendData("}"u8);
        return Convert.ToHexStringLower(digest.GetHashAndReset());
    }

    VerifyResult Signature(string jws, Guid log, string content, long number, string hash)
    {
        if (!Jws.TrySplit(jws, out var header, out var payload, out _))
            throw new Broken("The signature cannot be read.");
        var chain = Certificates(header);
        using var key = KeyOf(chain[0]);
        if (!Jws.Verify(jws, key))
            throw new Broken("The signature is not that of the certificate in it.");
        var made = Made(payload, log, content, number, hash);
        passed.Add("The signature covers this head and this content.");
        if (!Comes(chain, chain[^1], made))
            throw new Broken("The signer's certificate does not come from the root in the record.");
        passed.Add("The signer's certificate comes from the root in the record.");
        bool? confirmed = trustedRoot is null ? null : Comes(chain, trustedRoot, made);
        if (confirmed == true)
            passed.Add("The root is the trusted one.");
        var root = confirmed == true ? trustedRoot! : chain[^1];
        return new(
            true,
            confirmed,
            passed,
            confirmed == false ? "The signer's certificate does not come from the trusted root." : null,
            null,
            Signatures(),
            chain[0].GetNameInfo(X509NameType.SimpleName, false),
            made,
            hash,
            ShopKeys.Fingerprint(root.RawData)
        );
    }

    static ECDsa KeyOf(X509Certificate2 certificate)
    {
        try
        {
            return certificate.GetECDsaPublicKey()
                ?? throw new Broken("The signer's certificate has no elliptic-curve key.");
        }
        catch (CryptographicException fault)
        {
            throw new Broken("The key in the signer's certificate cannot be read: " + fault.Message);
        }
    }

    DateTimeOffset Made(byte[] payload, Guid log, string content, long number, string hash)
    {
        var made = Text(record, "made");
        var expected = RecordDocument.Canonical(
            new JsonObject
            {
                ["format"] = RecordDocument.Format,
                ["log"] = log.ToString(),
                ["made"] = made,
                ["head"] = new JsonObject { ["number"] = number, ["hash"] = hash },
                ["content"] = content,
            }
        );
        if (!expected.AsSpan().SequenceEqual(payload))
            throw new Broken("The signature is of another record: it does not cover this head and this content.");
        return DateTimeOffset.TryParse(made, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)
            ? at
            : throw new Broken("The record does not say when it was made.");
    }

    static List<X509Certificate2> Certificates(byte[] header)
    {
        try
        {
            var fields = JsonElement.Parse(header);
            if (Text(fields, "alg") == "ES256" && Member(fields, "x5c") is { ValueKind: JsonValueKind.Array } x5c)
            {
                List<X509Certificate2> certificates =
                [
                    .. x5c.EnumerateArray().Select(c => X509CertificateLoader.LoadCertificate(c.GetBytesFromBase64())),
                ];
                if (certificates.Count > 0)
                    return certificates;
            }
        }
        catch (Exception fault)
            when (fault is JsonException or FormatException or InvalidOperationException or CryptographicException)
        {
            throw new Broken("The certificates in the signature cannot be read: " + fault.Message);
        }
        throw new Broken("The signature is not ES256 with its certificates.");
    }

    /// <summary>As at the time the record was made, so that old records still verify.</summary>
    static bool Comes(List<X509Certificate2> certificates, X509Certificate2 root, DateTimeOffset made)
    {
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.Add(root);
        foreach (var other in certificates.Skip(1))
            chain.ChainPolicy.ExtraStore.Add(other);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.DisableCertificateDownloads = true;
        chain.ChainPolicy.VerificationTime = made.UtcDateTime;
        try
        {
            return chain.Build(certificates[0]);
        }
        catch (CryptographicException)
        {
            return false;
        }
    }

    List<SignatureSeen> Signatures()
    {
        var titles = Items("steps")
            .GroupBy(s => Text(s, "step"))
            .ToDictionary(g => g.Key, g => Text(g.First(), "title"));
        var seen = new List<SignatureSeen>();
        foreach (var item in Items("entries"))
        {
            Entry entry;
            try
            {
                entry = EntryJson.Read(JsonMarshal.GetRawUtf8Value(Member(item, "body")));
            }
            catch (FormatException)
            {
                passed.Add("One entry is of a kind that this version does not know; it is whole, but not shown here.");
                continue;
            }
            if (entry.Act is { NeedsPin: true, Meaning: { } meaning } act)
                seen.Add(
                    new(
                        entry.Number,
                        entry.By.Name,
                        meaning,
                        act.About is { } step ? titles.GetValueOrDefault(step, step) : "the prove-out",
                        entry.At,
                        entry.Zone
                    )
                );
        }
        return seen;
    }

    JsonElement.ArrayEnumerator Items(string name) =>
        Member(record, name) is { ValueKind: JsonValueKind.Array } list ? list.EnumerateArray() : default;
}
