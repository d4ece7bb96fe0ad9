using System.Globalization;
using System.Text;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// Which of several files holds a subprogram. Called by number: the one in which a line begins with its O-number, else the one named by
/// the number (<c>O1234.nc</c>, <c>1234.nc</c>, leading zeros aside). Called by name: the file of that name, with or without what
/// stands behind its last point, else the one in which a program of that name begins.
/// </summary>
public sealed class SubprogramIndex
{
    const int NumbersMost = 10_000;

    /// <summary>What may stand before a program number: blanks, leader, percent sign, the byte order mark of UTF-8.</summary>
    static ReadOnlySpan<byte> BeforeNumber => [(byte)' ', (byte)'\t', 0, (byte)'%', 0xEF, 0xBB, 0xBF, 0x12];

    readonly Dictionary<string, List<string>> files = new(StringComparer.Ordinal);

    /// <param name="file">How the file is known: its path, or its name on the job.</param>
    /// <param name="start">Its bytes, or as many of them as program numbers are looked for in.</param>
    public void Add(string file, ReadOnlySpan<byte> start)
    {
        var numbers = 0;
        foreach (var range in start.SplitAny((byte)'\n', (byte)'\r'))
        {
            var line = start[range].TrimStart(BeforeNumber);
            if (line.Length < 2 || line[0] is not ((byte)'O' or (byte)'o' or (byte)':') || numbers > NumbersMost)
                continue;
            numbers++;
            if (NumberOf(line[1..]) is { } number)
                Put("O" + Digits(number), file);
            else if (line[1] == '<' && line.IndexOf((byte)'>') is var end and > 1)
                Put("<" + Normal(Encoding.Latin1.GetString(line[2..end])), file);
        }
        var name = Normal(Path.GetFileName(file));
        var bare = Path.GetFileNameWithoutExtension(name);
        Put("file " + name, file);
        Put("bare " + bare, file);
        if (int.TryParse(bare.TrimStart('o'), NumberStyles.None, CultureInfo.InvariantCulture, out var named))
            Put("named " + Digits(named), file);
    }

    /// <summary>The files that may be meant, those that fit best; none, one, or more than one where it cannot be told.</summary>
    public IReadOnlyList<string> Find(in CalledProgram called)
    {
        if (called.Name is not { } written)
            return Get("O" + Digits(called.Number)) ?? Get("named " + Digits(called.Number)) ?? [];
        // The last part of a path: where the control keeps it is not where the file is here.
        var name = Normal(written[(written.LastIndexOfAny(['/', '\\']) + 1)..]);
        return Get("file " + name)
            ?? Get("bare " + name)
            ?? Get("bare " + Path.GetFileNameWithoutExtension(name))
            ?? Get("<" + name)
            ?? [];
    }

    void Put(string key, string file)
    {
        if (!files.TryGetValue(key, out var list))
            files[key] = list = [];
        if (!list.Contains(file))
            list.Add(file);
    }

    List<string>? Get(string key) => files.GetValueOrDefault(key);

    static string Normal(string name) => name.Trim().ToLowerInvariant();

    static string Digits(int number) => number.ToString(CultureInfo.InvariantCulture);

    static int? NumberOf(ReadOnlySpan<byte> digits)
    {
        digits = digits.TrimStart((byte)' ');
        var end = digits.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
        if (end >= 0)
            digits = digits[..end];
        return int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
    }
}
