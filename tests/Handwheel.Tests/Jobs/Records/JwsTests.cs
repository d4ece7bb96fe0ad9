using System.Buffers.Text;
using System.Security.Cryptography;
using Handwheel.Jobs.Records;

namespace Handwheel.Tests.Jobs.Records;

/// <summary>RFC 7515, appendix A.3 (ES256).</summary>
public class JwsTests
{
    const string Header = "eyJhbGciOiJFUzI1NiJ9";
    const string Payload =
        "eyJpc3MiOiJqb2UiLA0KICJleHAiOjEzMDA4MTkzODAsDQogImh0dHA6Ly9leGFtcGxlLmNvbS9pc19yb290Ijp0cnVlfQ";
    const string Signature = "DtEhU3ljbEg8L38VWAfUAqOyKAM6-Xx-F4GawxaepmXFCgfTjDxw5djxLa8ISlSApmWQxfKTUJqPP3-Kg6NU1Q";

    static ECDsa Key() =>
        ECDsa.Create(
            new ECParameters
            {
                Curve = ECCurve.NamedCurves.nistP256,
                Q = new()
                {
                    X = Base64Url.DecodeFromChars("f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU"),
                    Y = Base64Url.DecodeFromChars("x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0"),
                },
            }
        );

    [Fact]
    public void The_standards_signature_verifies()
    {
        using var key = Key();
        Assert.True(Jws.Verify($"{Header}.{Payload}.{Signature}", key));
    }

    [Fact]
    public void Any_bit_turned_fails()
    {
        using var key = Key();
        byte[][] parts =
        [
            Base64Url.DecodeFromChars(Header),
            Base64Url.DecodeFromChars(Payload),
            Base64Url.DecodeFromChars(Signature),
        ];
        for (var part = 0; part < 3; part++)
        for (var bit = 0; bit < parts[part].Length * 8; bit++)
        {
            parts[part][bit / 8] ^= (byte)(1 << (bit % 8));
            Assert.False(Jws.Verify(string.Join('.', parts.Select(p => Base64Url.EncodeToString(p))), key));
            parts[part][bit / 8] ^= (byte)(1 << (bit % 8));
        }
    }

    [Fact]
    public void A_signature_of_another_length_or_form_fails()
    {
        using var key = Key();
        var raw = Base64Url.DecodeFromChars(Signature);
        Assert.False(Jws.Verify($"{Header}.{Payload}.{Base64Url.EncodeToString(raw.AsSpan(0, 63))}", key));
        Assert.False(Jws.Verify($"{Header}.{Payload}.{Base64Url.EncodeToString([.. raw, 0])}", key));
        using var own = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var der = own.SignData("x.y"u8, HashAlgorithmName.SHA256, DSASignatureFormat.Rfc3279DerSequence);
        Assert.False(Jws.Verify($"x.y.{Base64Url.EncodeToString(der)}", own));
        Assert.False(Jws.Verify($"{Header}.{Payload}.{Signature[..^1]}R", key));
        Assert.False(Jws.Verify($"{Header}.{Payload}", key));
    }
}
