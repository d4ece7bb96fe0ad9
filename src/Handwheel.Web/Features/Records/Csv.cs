using System.Text;
using System.Text.RegularExpressions;

namespace Handwheel.Web.Features.Records;

/// <summary>
/// Tables for a spreadsheet: RFC 4180 (commas, quotes doubled, CRLF), UTF-8 with a byte order mark because spreadsheets guess without one.
/// A cell that a spreadsheet would run (it begins with <c>= + - @</c>, tab or return: OWASP, CSV Injection) gets an apostrophe before it;
/// a plain number keeps its sign and stays a number.
/// </summary>
public static partial class Csv
{
    public const string ContentType = "text/csv; charset=utf-8";

    public static byte[] Of(IEnumerable<IReadOnlyList<string>> rows)
    {
        var text = new StringBuilder("\uFEFF");
        foreach (var row in rows)
            text.AppendJoin(',', row.Select(Cell)).Append("\r\n");
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    static string Cell(string text)
    {
        var inert =
            text.Length > 0 && "=+-@\t\r\n".Contains(text[0]) && !PlainNumber().IsMatch(text) ? "'" + text : text;
        return inert.AsSpan().ContainsAny(",\"\r\n;") || inert.Length > 0 && (inert[0] == ' ' || inert[^1] == ' ')
            ? "\"" + inert.Replace("\"", "\"\"", StringComparison.Ordinal) + "\""
            : inert;
    }

    [GeneratedRegex(@"^[+-]?(\d+\.?\d*|\.\d+)$", RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking)]
    private static partial Regex PlainNumber();
}
