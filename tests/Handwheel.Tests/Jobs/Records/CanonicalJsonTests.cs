using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using CsCheck;
using Handwheel.Jobs.Records;

namespace Handwheel.Tests.Jobs.Records;

public class CanonicalJsonTests
{
    static readonly JsonSerializerOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    static string Of(string json) => Encoding.UTF8.GetString(CanonicalJson.Of(Encoding.UTF8.GetBytes(json)));

    /// <summary>RFC 8785, appendix B.</summary>
    [Theory]
    [InlineData(0x0000000000000000, "0")]
    [InlineData(0x8000000000000000, "0")]
    [InlineData(0x0000000000000001, "5e-324")]
    [InlineData(0x7fefffffffffffff, "1.7976931348623157e+308")]
    [InlineData(0x4340000000000000, "9007199254740992")]
    [InlineData(0x4430000000000000, "295147905179352830000")]
    [InlineData(0x44b52d02c7e14af5, "9.999999999999997e+22")]
    [InlineData(0x44b52d02c7e14af6, "1e+23")]
    [InlineData(0x44b52d02c7e14af7, "1.0000000000000001e+23")]
    [InlineData(0x444b1ae4d6e2ef4e, "999999999999999700000")]
    [InlineData(0x444b1ae4d6e2ef4f, "999999999999999900000")]
    [InlineData(0x444b1ae4d6e2ef50, "1e+21")]
    [InlineData(0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7")]
    [InlineData(0x3eb0c6f7a0b5ed8d, "0.000001")]
    [InlineData(0x41b3de4355555553, "333333333.3333332")]
    [InlineData(0x41b3de4355555554, "333333333.33333325")]
    [InlineData(0x41b3de4355555555, "333333333.3333333")]
    [InlineData(0x41b3de4355555556, "333333333.3333334")]
    [InlineData(0x41b3de4355555557, "333333333.33333343")]
    [InlineData(0xbecbf647612f3696, "-0.0000033333333333333333")]
    [InlineData(0x43143ff3c1cb0959, "1424953923781206.2")]
    public void Numbers_are_printed_as_the_standard_prints_them(ulong bits, string text) =>
        Assert.Equal(text, CanonicalJson.NumberText(BitConverter.UInt64BitsToDouble(bits)));

    [Fact]
    public void What_is_no_number_is_refused()
    {
        Assert.Throws<FormatException>(() => CanonicalJson.NumberText(double.NaN));
        Assert.Throws<FormatException>(() => CanonicalJson.NumberText(double.PositiveInfinity));
        Assert.Throws<FormatException>(() => Of("[1e999]"));
    }

    /// <summary>RFC 8785 §3.2.2: the sample and its canonical form; the digest is that of the author's published output file.</summary>
    [Fact]
    public void The_sample_of_the_standard_comes_out_as_printed()
    {
        const string sample = """
            {
              "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
              "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
              "literals": [null, true, false]
            }
            """;
        var canonical = Of(sample);
        Assert.Equal(
            """{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}""",
            canonical
        );
        var digest = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(canonical)));
        Assert.StartsWith("2d5e01a3", digest, StringComparison.Ordinal);
        Assert.EndsWith("cb", digest, StringComparison.Ordinal);
    }

    /// <summary>RFC 8785 §3.2.3: members by UTF-16 code units.</summary>
    [Fact]
    public void Members_are_in_the_order_of_the_standard()
    {
        const string sample =
            """{"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}""";
        var order = System
            .Text.Json.JsonDocument.Parse(Of(sample))
            .RootElement.EnumerateObject()
            .Select(m => m.Value.GetString());
        Assert.Equal(
            [
                "Carriage Return",
                "One",
                "Control",
                "Latin Small Letter O With Diaeresis",
                "Euro Sign",
                "Emoji: Grinning Face",
                "Hebrew Letter Dalet With Dagesh",
            ],
            order
        );
    }

    /// <summary>Every character may stand in JSON as it is or escaped; names and texts of any mixture come out the same, in one order.</summary>
    [Fact]
    public void Escaped_or_not_it_comes_out_the_same() =>
        Gen.String[Gen.Char["abz\u00f6\u20ac\ufb33\"\\\n\u007f1 "], 0, 6]
            .Select(Gen.Bool, (text, emoji) => emoji ? text + "\U0001F600" : text)
            .Array[1, 6]
            .Sample(words =>
            {
                var members = words.Distinct(StringComparer.Ordinal).ToDictionary(w => w, w => w + w);
                var escaped = Of(JsonSerializer.Serialize(members));
                var plain = Of(JsonSerializer.Serialize(members, Plain));
                Assert.Equal(escaped, plain);
                Assert.Equal(plain, Of(plain));
                var names = JsonElement.Parse(plain).EnumerateObject().Select(m => m.Name).ToList();
                Assert.Equal(members.Keys.Order(StringComparer.Ordinal), names);
            });

    /// <summary>UTF-8 that is broken is no text, escaped or not.</summary>
    [Fact]
    public void Broken_bytes_are_refused_in_a_text_and_in_a_name()
    {
        Assert.Throws<FormatException>(() => CanonicalJson.Of([.. "[\""u8, 0xC3, .. "\"]"u8]));
        Assert.Throws<FormatException>(() => CanonicalJson.Of([.. "{\""u8, 0xC3, .. "\":1}"u8]));
    }

    [Theory]
    [InlineData("{\"a\":1,\"a\":2}")]
    [InlineData("{\"a\":\"\\ud83d\"}")]
    [InlineData("{\"a\":01}")]
    [InlineData("{\"a\":1} x")]
    [InlineData("")]
    public void What_has_no_one_meaning_is_refused(string json) => Assert.Throws<FormatException>(() => Of(json));
}
