using System.Globalization;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary>Reads the files that a command line names; what cannot be read is said in one sentence.</summary>
static class InputFiles
{
    const int MiB = 1024 * 1024;

    /// <summary>Bytes of a setup that are worth reading.</summary>
    const long SetupBytesMost = 17L * MiB;

    public static byte[] Program(string path, long bytesMost) => Read(path, bytesMost, "a program");

    public static Setup Setup(string path) => SetupFile.Read(Read(path, SetupBytesMost, "a setup file"), path);

    public static CuttingTable CuttingTable(string path) =>
        CuttingFile.Read(Read(path, SetupBytesMost, "a cutting table"), path);

    public static byte[] Read(string path, long bytesMost, string expected)
    {
        try
        {
            if (Directory.Exists(path))
                throw new InputFault(path, null, null, "a folder", expected);
            var file = new FileInfo(path);
            if (!file.Exists)
                throw new InputFault(path, null, null, "no such file", expected);
            if (file.Length > bytesMost)
                throw TooLarge(path, file.Length, bytesMost);
            return File.ReadAllBytes(path);
        }
        catch (Exception fault)
            when (fault is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new InputFault(
                $"{path}: found a file that cannot be read ({fault.Message.TrimEnd('.')}), expected {expected}",
                fault
            );
        }
    }

    static InputFault TooLarge(string path, long bytes, long bytesMost) =>
        new(
            path,
            null,
            null,
            string.Create(CultureInfo.InvariantCulture, $"{bytes} bytes"),
            string.Create(CultureInfo.InvariantCulture, $"at most {bytesMost} bytes (--limit raises it)")
        );

    /// <summary>Bytes from a size such as <c>512</c> or <c>512MiB</c> (both MiB), <c>64KiB</c>, <c>1GiB</c>, <c>1000B</c>.</summary>
    public static long Size(string text)
    {
        var letters = text.AsSpan().TrimStart("0123456789");
        long? unit = letters switch
        {
            "" or "M" or "MiB" => MiB,
            "B" => 1,
            "K" or "KiB" => 1024,
            "G" or "GiB" => 1024L * MiB,
            _ => null,
        };
        var digits = text.AsSpan(0, text.Length - letters.Length);
        if (
            unit is null
            || !long.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            || count < 1
        )
            throw new InputFault($"handwheel check: --limit: found \"{text}\", expected a size such as 512MiB");
        // A program is held in memory as one array.
        return Math.Min(count > long.MaxValue / unit.Value ? long.MaxValue : count * unit.Value, Array.MaxLength);
    }
}
