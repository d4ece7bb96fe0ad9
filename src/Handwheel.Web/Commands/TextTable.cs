namespace Handwheel.Web.Commands;

/// <summary>Columns of plain text: figures to the right, words to the left.</summary>
sealed class TextTable(params string[] heads)
{
    readonly List<string[]> rows = [];

    public void Add(params string[] cells) => rows.Add(cells);

    public void Write(Action<string> line)
    {
        var widths = new int[heads.Length];
        var right = new bool[heads.Length];
        for (var i = 0; i < heads.Length; i++)
        {
            widths[i] = Math.Max(heads[i].Length, rows.Select(r => r[i].Length).DefaultIfEmpty().Max());
            right[i] =
                rows.Exists(r => IsFigure(r[i])) && rows.TrueForAll(r => IsFigure(r[i]) || r[i] is "-" or "not known");
        }
        line(Row(heads, widths, right));
        foreach (var row in rows)
            line(Row(row, widths, right));
    }

    static bool IsFigure(string text) =>
        text is not ("" or "-") && text.All(c => char.IsAsciiDigit(c) || c is '.' or ':' or '-');

    static string Row(string[] cells, int[] widths, bool[] right) =>
        "  "
        + string.Join("  ", cells.Select((cell, i) => right[i] ? cell.PadLeft(widths[i]) : cell.PadRight(widths[i])));
}
