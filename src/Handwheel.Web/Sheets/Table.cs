namespace Handwheel.Web.Sheets;

/// <param name="Share">Part of the table's width, relative to the other columns.</param>
public sealed record Column(
    string Head,
    double Share,
    Align Align = Align.Left,
    Face Face = Face.Sans,
    double? Size = null
);

/// <summary>One cell: a text, or something drawn into the place that the row leaves for it.</summary>
public sealed record Cell(string Text = "", Action<Ink, double, double, double, double>? Draw = null)
{
    public static implicit operator Cell(string text) => new(text);

    /// <summary>An empty box to write a reading in.</summary>
    public static Cell Blank { get; } = new("", (ink, x, y, width, height) => ink.Box(x, y + 2, width, height - 4, 1));

    /// <summary>An empty box to tick.</summary>
    public static Cell Tick { get; } =
        new("", (ink, x, y, width, height) => ink.Box(x + (width / 2) - 5, y + (height / 2) - 5, 10, 10, 1));
}

/// <summary>A table whose heads are said again after a page break and whose rows never break across pages.</summary>
/// <param name="name">What the table is called where it goes on; null: its heads alone.</param>
public sealed class Table(
    Flow flow,
    IReadOnlyList<Column> columns,
    double size = 9.5,
    double rowHeight = 0,
    string? name = null
)
{
    const double Gap = 5;

    /// <summary>Points, about a third of a page.</summary>
    const double Short = 240;
    readonly double _sum = columns.Sum(c => c.Share);

    /// <summary>Points that one row of one line takes.</summary>
    public double Row => Math.Max(rowHeight, (size * 1.3) + 4);

    public void Draw(IEnumerable<IReadOnlyList<Cell>> rows)
    {
        flow.Keep(14 + Row);
        Heads();
        foreach (var row in rows)
            Draw(row);
        flow.Space(4);
    }

    /// <summary>Points that a heading keeps free below it: the whole of a short table, the beginning of a long one.</summary>
    public double Together(IReadOnlyCollection<IReadOnlyList<Cell>> rows)
    {
        var whole = HeadLines().Max(l => l.Count) * 9.0 + 2 + rows.Sum(r => HeightOf(Lines(r)));
        return whole < Short ? whole : 14 + Row;
    }

    List<IReadOnlyList<string>> HeadLines() =>
        [.. columns.Select((c, i) => Ink.Wrap(c.Head, Face.SansBold, 7.5, WidthOf(i) - Gap))];

    void Heads()
    {
        var lines = HeadLines();
        var height = lines.Max(l => l.Count) * 9.0;
        var x = flow.Left;
        for (var i = 0; i < columns.Count; i++)
        {
            var y = flow.Y + height - (lines[i].Count * 9.0) + 8;
            foreach (var line in lines[i])
            {
                flow.Ink.Text(line, Face.SansBold, 7.5, Anchor(i, x), y, columns[i].Align);
                y += 9;
            }
            x += WidthOf(i);
        }
        flow.Y += height + 2;
        flow.Ink.Line(flow.Left, flow.Y, flow.Right, flow.Y, 0.8);
    }

    double WidthOf(int column) => columns[column].Share / _sum * flow.Width;

    double Anchor(int column, double x) =>
        columns[column].Align switch
        {
            Align.Right => x + WidthOf(column) - Gap,
            Align.Centre => x + ((WidthOf(column) - Gap) / 2),
            _ => x,
        };

    List<IReadOnlyList<string>> Lines(IReadOnlyList<Cell> row) =>
        [.. row.Select((c, i) => Ink.Wrap(c.Text, columns[i].Face, SizeOf(i), WidthOf(i) - Gap))];

    double HeightOf(List<IReadOnlyList<string>> lines) =>
        Math.Max(Row, lines.Select((l, i) => (l.Count * SizeOf(i) * 1.22) + (l.Count > 1 ? 3 : 5)).Max());

    void Draw(IReadOnlyList<Cell> row)
    {
        var lines = Lines(row);
        var height = HeightOf(lines);
        if (flow.Y + height > flow.Bottom && !flow.AtTop)
        {
            flow.NewPage();
            flow.Space(4);
            if (name is not null)
                flow.Words(name + ", continued", Face.SansBold, 9.5);
            Heads();
        }
        var x = flow.Left;
        for (var i = 0; i < row.Count; i++)
        {
            var text = lines[i].Count * SizeOf(i) * 1.22;
            var y = flow.Y + ((height - text) / 2) + (SizeOf(i) * 0.93);
            foreach (var line in lines[i])
            {
                flow.Ink.Text(line, columns[i].Face, SizeOf(i), Anchor(i, x), y, columns[i].Align);
                y += SizeOf(i) * 1.22;
            }
            row[i].Draw?.Invoke(flow.Ink, x, flow.Y, WidthOf(i) - Gap, height);
            x += WidthOf(i);
        }
        flow.Y += height;
        flow.Ink.Line(flow.Left, flow.Y, flow.Right, flow.Y, 0.3);
    }

    double SizeOf(int column) => columns[column].Size ?? size;
}
