using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>Pictures as a tablet's camera makes them.</summary>
static class Pictures
{
    /// <summary>What a camera writes beside the picture; it must not be kept.</summary>
    public const string Secret = "GPS 48.2 N 16.3 E";

    /// <summary>A JPEG of this size, made in the browser, with a camera's note that it stands on its side and where it was taken.</summary>
    public static async Task<FilePayload> Jpeg(IPage page, int width, int height, string name = "clamp.jpg")
    {
        var plain = Convert.FromBase64String(
            await page.EvaluateAsync<string>(
                """
                ([width, height]) => {
                    const canvas = document.createElement("canvas");
                    [canvas.width, canvas.height] = [width, height];
                    const on = canvas.getContext("2d");
                    on.fillStyle = "#" + Math.floor(Math.random() * 0xffffff).toString(16).padStart(6, "0");
                    on.fillRect(0, 0, width, height / 2);
                    return canvas.toDataURL("image/jpeg", 0.9).split(",")[1];
                }
                """,
                new[] { width, height }
            )
        );
        return new()
        {
            Name = name,
            MimeType = "image/jpeg",
            Buffer = [.. plain[..2], .. Exif(), .. plain[2..]],
        };
    }

    /// <summary>Exif 2.3: one directory with orientation 6 (turn a quarter right) and a description.</summary>
    public static byte[] Exif()
    {
        var words = System.Text.Encoding.ASCII.GetBytes(Secret + "\0");
        byte[] directory =
        [
            .. "MM\0*"u8,
            0,
            0,
            0,
            8,
            0,
            2,
            0x01,
            0x0E,
            0,
            2,
            0,
            0,
            0,
            (byte)words.Length,
            0,
            0,
            0,
            38,
            0x01,
            0x12,
            0,
            3,
            0,
            0,
            0,
            1,
            0,
            6,
            0,
            0,
            0,
            0,
            0,
            0,
            .. words,
        ];
        byte[] segment = [.. "Exif\0\0"u8, .. directory];
        return [0xFF, 0xE1, (byte)((segment.Length + 2) >> 8), (byte)(segment.Length + 2), .. segment];
    }
}
