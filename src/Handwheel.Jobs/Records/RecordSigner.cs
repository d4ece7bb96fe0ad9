using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using System.Text.Json.Nodes;

namespace Handwheel.Jobs.Records;

/// <summary>Signs the head of a record with ES256; the certificates go into the header (<c>x5c</c>, RFC 7515 §4.1.6).</summary>
/// <param name="Key">P-256.</param>
/// <param name="Chain">The signer's certificate first, then those up to the root.</param>
public sealed record RecordSigner(ECDsa Key, IReadOnlyList<X509Certificate2> Chain)
{
    public string Sign(ReadOnlySpan<byte> payload)
    {
        var header = new JsonObject
        {
            ["alg"] = "ES256",
            ["x5c"] = new JsonArray([.. Chain.Select(c => JsonValue.Create(Convert.ToBase64String(c.RawData)))]),
        };
        return Jws.Sign(CanonicalJson.Of(Encoding.UTF8.GetBytes(header.ToJsonString())), payload, Key);
    }
}
