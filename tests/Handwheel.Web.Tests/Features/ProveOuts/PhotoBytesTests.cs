using System.Buffers.Binary;
using System.Text;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.ProveOuts;

/// <summary>
/// What the camera wrote goes, the picture stays, byte for byte. The pictures were made with another program (8 × 8, baseline and progressive
/// JPEG; 4 × 4 PNG); that browsers still show them as they should is in the journeys.
/// </summary>
public sealed class PhotoBytesTests
{
    const string Baseline =
        "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxOUlNSMj5aYVpQYEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT0//wAARCAAIAAgDASIAAhEBAxEB/8QAFQABAQAAAAAAAAAAAAAAAAAAAAb/xAAWEAEBAQAAAAAAAAAAAAAAAAAAFGH/xAAVAQEBAAAAAAAAAAAAAAAAAAAEBv/EABcRAAMBAAAAAAAAAAAAAAAAAAAEFVL/2gAMAwEAAhEDEQA/AJGzQFbGUyMrNaP/2Q==";
    const string Progressive =
        "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxOUlNSMj5aYVpQYEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT0//wgARCAAIAAgDASIAAhEBAxEB/8QAFQABAQAAAAAAAAAAAAAAAAAAAAX/xAAVAQEBAAAAAAAAAAAAAAAAAAADBf/aAAwDAQACEAMQAAABkCs3/8QAFRABAQAAAAAAAAAAAAAAAAAAABL/2gAIAQEAAQUCt//EABcRAAMBAAAAAAAAAAAAAAAAAAADFFH/2gAIAQMBAT8Brbp//8QAFxEAAwEAAAAAAAAAAAAAAAAAAAMUUf/aAAgBAgEBPwGNWH//xAAUEAEAAAAAAAAAAAAAAAAAAAAA/9oACAEBAAY/An//xAAUEAEAAAAAAAAAAAAAAAAAAAAA/9oACAEBAAE/IT//2gAMAwEAAgADAAAAEAv/xAAUEQEAAAAAAAAAAAAAAAAAAAAA/9oACAEDAQE/EA//xAAUEQEAAAAAAAAAAAAAAAAAAAAA/9oACAECAQE/EG//xAAVEAEBAAAAAAAAAAAAAAAAAAAAcf/aAAgBAQABPxCn/9k=";
    const string PlainPng =
        "iVBORw0KGgoAAAANSUhEUgAAAAQAAAAEAgMAAADUn3btAAAADFBMVEX/AACqAFVVAKoAAP9QAAc5AAAAEElEQVQI12NgYAhlWMXwHwAErgH/fIKFMAAAAABJRU5ErkJggg==";

    static string Text(byte[] bytes) => Encoding.Latin1.GetString(bytes);

    static byte[] Segment(byte marker, string text) =>
        [0xFF, marker, 0, (byte)(text.Length + 2), .. Encoding.Latin1.GetBytes(text)];

    [Theory]
    [InlineData(Baseline)]
    [InlineData(Progressive)]
    public void A_JPEG_loses_its_notes_and_keeps_picture_profile_and_orientation(string picture)
    {
        var plain = Convert.FromBase64String(picture);
        byte[] noted =
        [
            .. plain[..2],
            .. Pictures.Exif(),
            .. Segment(0xE2, "ICC_PROFILE\0the profile"),
            .. Segment(0xED, "Photoshop 3.0 taken by"),
            .. Segment(0xFE, "a comment"),
            .. plain[2..],
            .. "and a film behind it"u8,
        ];

        var kept = PhotoBytes.WithoutNotes(noted);

        foreach (var gone in new[] { Pictures.Secret, "Photoshop", "a comment", "a film" })
        {
            Assert.Contains(gone, Text(noted), StringComparison.Ordinal);
            Assert.DoesNotContain(gone, Text(kept), StringComparison.Ordinal);
        }
        Assert.Contains("the profile", Text(kept), StringComparison.Ordinal);
        Assert.Contains(
            "Exif\0\0MM\0*\0\0\0\b\0\u0001\u0001\u0012\0\u0003\0\0\0\u0001\0\u0006",
            Text(kept),
            StringComparison.Ordinal
        );
        Assert.EndsWith(Text(plain[2..]), Text(kept), StringComparison.Ordinal);
        Assert.Equal(kept, PhotoBytes.WithoutNotes(kept));
        Assert.Equal(plain, PhotoBytes.WithoutNotes(plain));
    }

    [Fact]
    public void A_PNG_loses_its_texts_and_times_and_keeps_its_picture()
    {
        var plain = Convert.FromBase64String(PlainPng);
        byte[] noted =
        [
            .. plain[..33], // signature and IHDR
            .. Chunk("tEXt", "Author\0somebody"),
            .. Chunk("eXIf", Pictures.Secret),
            .. plain[33..],
            .. "behind the end"u8,
        ];
        Assert.Equal(plain, PhotoBytes.WithoutNotes(noted));
        Assert.Equal(plain, PhotoBytes.WithoutNotes(plain));
    }

    /// <summary>The checksum is not looked at: zero.</summary>
    static byte[] Chunk(string name, string text)
    {
        var length = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(length, text.Length);
        return [.. length, .. Encoding.ASCII.GetBytes(name + text), 0, 0, 0, 0];
    }

    [Fact]
    public void What_is_cut_off_anywhere_is_kept_as_it_came()
    {
        foreach (var picture in new[] { Baseline, Progressive, PlainPng })
        {
            var whole = Convert.FromBase64String(picture);
            for (var length = 8; length < whole.Length; length++)
                Assert.Equal(whole[..length], PhotoBytes.WithoutNotes(whole[..length]));
        }
    }
}
