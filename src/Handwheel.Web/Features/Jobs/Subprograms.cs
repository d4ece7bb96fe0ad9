using System.Globalization;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Features.Jobs;

/// <summary>
/// Finds a subprogram among the files that came with a job: the one in which a line begins with its O-number, else the one
/// named by the number (<c>O1234.nc</c>, <c>1234.nc</c>, leading zeros aside).
/// </summary>
public static class Subprograms
{
    static ReadOnlySpan<byte> BeforeNumber => [(byte)' ', (byte)'\t', (byte)'%', 0, 0xEF, 0xBB, 0xBF];

    public static byte[]? Find(int number, IReadOnlyList<Upload> files)
    {
        var having = files.Where(f => Has(number, f.Bytes)).ToList();
        if (having.Count > 1)
            throw new InputFault(
                $"{having[1].Name}: found O{number} a second time (also in {having[0].Name}), expected it in one file"
            );
        return having is [var one] ? one.Bytes : files.FirstOrDefault(f => Named(f.Name) == number)?.Bytes;
    }

    static bool Has(int number, ReadOnlySpan<byte> program)
    {
        foreach (var range in program.SplitAny((byte)'\n', (byte)'\r'))
        {
            var line = program[range].TrimStart(BeforeNumber);
            if (line.Length < 2 || line[0] is not ((byte)'O' or (byte)'o' or (byte)':'))
                continue;
            var digits = line[1..];
            var end = digits.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
            if (end >= 0)
                digits = digits[..end];
            if (int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var found) && found == number)
                return true;
        }
        return false;
    }

    static int? Named(string file)
    {
        var name = Path.GetFileNameWithoutExtension(file);
        if (name is ['O' or 'o', ..])
            name = name[1..];
        return int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
    }
}
