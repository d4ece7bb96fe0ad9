using System.Globalization;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary>
/// Finds subprograms below a folder: the file whose O-number matches, else the one named by the number
/// (<c>O1234.*</c> or <c>1234.*</c>, leading zeros aside).
/// </summary>
sealed class SubprogramFolder
{
    /// <summary>O-numbers are looked for in the first bytes of a file.</summary>
    const int BytesLookedAt = 64 * 1024;

    /// <summary>What may stand before a program number: blanks, leader, percent sign, the byte order mark of UTF-8.</summary>
    static ReadOnlySpan<byte> BeforeNumber => [(byte)' ', (byte)'\t', 0, (byte)'%', 0xEF, 0xBB, 0xBF];

    readonly long bytesMost;
    readonly Dictionary<int, List<string>> byNumber = [];
    readonly Dictionary<int, List<string>> byName = [];

    public SubprogramFolder(string folder, long bytesMost)
    {
        this.bytesMost = bytesMost;
        if (!Directory.Exists(folder))
            throw new InputFault(
                folder,
                null,
                null,
                File.Exists(folder) ? "a file" : "no such folder",
                "a folder of subprograms (--subprograms)"
            );
        try
        {
            var files = Directory.EnumerateFiles(
                folder,
                "*",
                new EnumerationOptions
                {
                    RecurseSubdirectories = true,
                    IgnoreInaccessible = true,
                    MaxRecursionDepth = 8,
                }
            );
            foreach (var file in files.Order(StringComparer.Ordinal))
                Add(file);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new InputFault(
                $"{folder}: found a folder that cannot be read ({fault.Message.TrimEnd('.')}), expected a folder of subprograms",
                fault
            );
        }
    }

    void Add(string file)
    {
        foreach (var number in NumbersIn(file))
            Put(byNumber, number, file);
        var name = Path.GetFileNameWithoutExtension(file);
        if (name is ['O' or 'o', ..])
            name = name[1..];
        if (int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var named))
            Put(byName, named, file);

        static void Put(Dictionary<int, List<string>> index, int number, string file)
        {
            if (!index.TryGetValue(number, out var files))
                index[number] = files = [];
            files.Add(file);
        }
    }

    static List<int> NumbersIn(string file)
    {
        var numbers = new List<int>();
        using var stream = File.OpenRead(file);
        var start = new byte[BytesLookedAt];
        var length = stream.ReadAtLeast(start, start.Length, throwOnEndOfStream: false);
        foreach (var range in start.AsSpan(0, length).SplitAny((byte)'\n', (byte)'\r'))
        {
            var line = start.AsSpan(0, length)[range].TrimStart(BeforeNumber);
            if (line.Length < 2 || line[0] is not ((byte)'O' or (byte)'o' or (byte)':'))
                continue;
            var rest = line[1..];
            var end = rest.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
            var digits = end < 0 ? rest : rest[..end];
            if (
                int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                && !numbers.Contains(number)
            )
                numbers.Add(number);
        }
        return numbers;
    }

    /// <summary>Null where no file has it.</summary>
    public byte[]? Find(int number)
    {
        var files = byNumber.GetValueOrDefault(number) ?? byName.GetValueOrDefault(number);
        if (files is null)
            return null;
        if (files.Count > 1)
            throw new InputFault(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{files[1]}: found O{number} a second time (also in {files[0]}), expected it in one file"
                )
            );
        return InputFiles.Program(files[0], bytesMost);
    }
}
