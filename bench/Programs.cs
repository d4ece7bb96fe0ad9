using System.Globalization;
using System.Text;

namespace Handwheel.Bench;

/// <summary>Programs of any size, the same for the same seed.</summary>
static class Programs
{
    const int Seed = 20_260;

    /// <summary>3D surfacing: one tool, passes of short moves in three axes, inch, four decimals.</summary>
    public static byte[] Surfacing(int bytes)
    {
        var random = new Random(Seed);
        var text = new StringBuilder(bytes + 4_096);
        text.Append(
            "%\nO4100 (SURFACE, BALL END)\nG20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. S9000 M3\nG43 H1 Z1. M8\n"
        );
        var (x, y, z) = (0.0, 0.0, 0.1);
        while (text.Length < bytes)
        {
            text.Append(CultureInfo.InvariantCulture, $"G0 X{x:0.####}Y{y:0.####}\nZ.1\nG1 Z{z:0.####}F20.\nF120.\n");
            for (var i = 0; i < 400; i++)
            {
                x += 0.004 + random.NextDouble() * 0.012;
                y += (random.NextDouble() - 0.5) * 0.002;
                z = -0.5 + 0.45 * Math.Sin(x * 1.7) * Math.Cos(y * 0.9);
                Append(text, 'X', x);
                Append(text, 'Y', y);
                Append(text, 'Z', z);
                text.Append('\n');
            }
            text.Append("G0 Z1.\n");
            x = 0;
            y = y >= 8 ? 0 : y + 0.02;
        }
        text.Append("M9\nM5\nG91 G28 Z0.\nM30\n%\n");
        return Encoding.ASCII.GetBytes(text.ToString());
    }

    /// <summary>2.5D work: contours with arcs, drilling and tapping cycles, and a pocket called as a subprogram.</summary>
    public static byte[] Mixed(int bytes)
    {
        var random = new Random(Seed + 1);
        var text = new StringBuilder(bytes + 4_096);
        text.Append("%\nO4200 (PLATES)\nG20 G90 G17 G40 G49 G80\n");
        for (var tool = 1; text.Length < bytes; tool = tool % 3 + 1)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"(NEXT TOOL)\nT{tool} M6\nG54 G0 X0. Y0. S3000 M3\nG43 H{tool} Z1. M8\n"
            );
            for (var part = 0; part < 40; part++)
                AppendPart(text, random, tool);
            text.Append("G0 Z1. M9\nM5\nG91 G28 Z0.\nG90\n");
        }
        text.Append(
            "M30\nO4201 (POCKET)\nG91 G1 Z-.1 F10.\nX.2 F30.\nG3 X0. Y.4 I0. J.2\nG1 X-.2\nY-.4\nG0 Z.1\nG90 M99\n%\n"
        );
        return Encoding.ASCII.GetBytes(text.ToString());
    }

    static void AppendPart(StringBuilder text, Random random, int tool)
    {
        var (x, y) = (random.Next(0, 180_000) / 10_000.0, random.Next(0, 90_000) / 10_000.0);
        var r = random.Next(500, 9_000) / 10_000.0;
        if (tool == 1)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"N{random.Next(10, 9_990)} G0 X{x - r:0.####} Y{y:0.####}\nZ.1\nG1 Z-.25 F12.\n"
            );
            text.Append(CultureInfo.InvariantCulture, $"G2 X{x:0.####} Y{y + r:0.####} I{r:0.####} J0. F28.\n");
            text.Append(
                CultureInfo.InvariantCulture,
                $"G1 X{x + 1:0.####}\nG2 X{x + 1 + r:0.####} Y{y:0.####} R{r:0.####}\n"
            );
            text.Append(
                CultureInfo.InvariantCulture,
                $"G1 Y{y - 0.5:0.####}\nX{x - r:0.####}\nY{y:0.####}\nG0 Z.1\nM98 P4201\n"
            );
            return;
        }
        var cycle = tool == 2 ? "G83 Z-.75 R.1 Q.25 F9." : "G84 Z-.5 R.2 F150.";
        text.Append(CultureInfo.InvariantCulture, $"G99 {cycle} X{x:0.####} Y{y:0.####}\n");
        for (var i = 1; i < 6; i++)
            text.Append(CultureInfo.InvariantCulture, $"X{x + i * 0.5:0.####}\n");
        text.Append("G80\n");
    }

    static void Append(StringBuilder text, char letter, double value)
    {
        var digits = (long)Math.Round(Math.Abs(value) * 10_000);
        text.Append(letter);
        if (value < 0 && digits != 0)
            text.Append('-');
        if (digits >= 10_000)
            text.Append(digits / 10_000);
        text.Append('.');
        var decimals = (digits % 10_000).ToString("0000", CultureInfo.InvariantCulture).TrimEnd('0');
        text.Append(decimals.Length == 0 && digits < 10_000 ? "0" : decimals);
    }
}
