using System.Globalization;
using System.Text;
using ZXing;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>The QR code at the foot of a printed page, as another library reads it.</summary>
static class PrintedCode
{
    /// <summary>The first page, rendered by poppler.</summary>
    public static string Of(byte[] pdf)
    {
        var file = OutsideTool.Keep($"scanned-{Guid.NewGuid():N}.pdf", pdf);
        var (exit, output) = OutsideTool.Run(
            "pdftoppm",
            "-r",
            "200",
            "-f",
            "1",
            "-l",
            "1",
            "-gray",
            "-singlefile",
            file,
            file
        );
        Assert.True(exit == 0, output);
        return Decode(file + ".pgm");
    }

    public static string Decode(string pgm)
    {
        var bytes = File.ReadAllBytes(pgm);
        var head = Encoding.ASCII.GetString(bytes, 0, 40).Split('\n');
        var size = head[1].Split(' ').Select(n => int.Parse(n, CultureInfo.InvariantCulture)).ToArray();
        var start = head[0].Length + head[1].Length + head[2].Length + 3;
        var source = new RGBLuminanceSource(bytes[start..], size[0], size[1], RGBLuminanceSource.BitmapFormat.Gray8);
        var reader = new BarcodeReaderGeneric
        {
            Options = { TryHarder = true, PossibleFormats = [BarcodeFormat.QR_CODE] },
        };
        return reader.Decode(source)?.Text ?? "no code found";
    }
}
