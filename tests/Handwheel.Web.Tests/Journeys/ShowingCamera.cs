using System.Text;
using Microsoft.Playwright;
using QRCoder;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>A tablet whose camera sees one QR code: the browser plays a film that is written here.</summary>
sealed class ShowingCamera(IBrowser browser, IBrowserContext context, string film) : IAsyncDisposable
{
    const int Width = 640;
    const int Height = 480;

    public IBrowserContext Context => context;

    public static async Task<ShowingCamera> Start(Browser browser, string address, string code)
    {
        var film = Path.Combine(Path.GetTempPath(), $"handwheel-{Guid.NewGuid():N}.y4m");
        await File.WriteAllBytesAsync(film, Film(code));
        var seeing = await browser.Another(
            "--use-fake-ui-for-media-stream",
            "--use-fake-device-for-media-stream",
            $"--use-file-for-fake-video-capture={film}"
        );
        var context = await seeing.NewContextAsync(
            new()
            {
                BaseURL = address,
                ViewportSize = new() { Width = 1280, Height = 800 },
                Permissions = ["camera"],
            }
        );
        return new(seeing, context, film);
    }

    /// <summary>Two frames of YUV4MPEG2: the code in black on grey paper, off the middle.</summary>
    static byte[] Film(string code)
    {
        using var drawn = QRCodeGenerator.GenerateQrCode(code, QRCodeGenerator.ECCLevel.M);
        var rows = drawn.ModuleMatrix;
        var module = (Height - 60) / rows.Count;
        var luma = new byte[Width * Height];
        Array.Fill(luma, (byte)215);
        for (var y = 0; y < rows.Count * module; y++)
        for (var x = 0; x < rows.Count * module; x++)
            if (rows[y / module][x / module])
                luma[((y + 30) * Width) + x + 140] = 40;
        var chroma = new byte[Width * Height / 2];
        Array.Fill(chroma, (byte)128);
        using var film = new MemoryStream();
        film.Write(Encoding.ASCII.GetBytes($"YUV4MPEG2 W{Width} H{Height} F10:1 Ip A1:1 C420jpeg\n"));
        for (var frame = 0; frame < 2; frame++)
        {
            film.Write("FRAME\n"u8);
            film.Write(luma);
            film.Write(chroma);
        }
        return film.ToArray();
    }

    public async ValueTask DisposeAsync()
    {
        await context.DisposeAsync();
        await browser.DisposeAsync();
        File.Delete(film);
    }
}
