using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// What the cutting table says for one tool in the stock's material: the widest range of every row that fits. nm (per minute for a
/// speed), diameters for a depth; null: open.
/// </summary>
sealed record CuttingRange(double? Least, double? Most, IReadOnlyList<CuttingRow> Rows);

/// <summary>Looks tools up in the cutting table: material by the table's names, kind of tool, what its edge is made of, diameter.</summary>
sealed class CuttingRanges
{
    readonly Setup setup;
    readonly CheckOptions options;
    readonly Dictionary<int, CuttingRange?[]> known = [];
    readonly Lazy<(IReadOnlyList<string> Materials, string? Why)> stock;
    Tool? lastTool;
    CuttingRange?[] lastRanges = [];

    public CuttingRanges(Setup setup, CheckOptions options)
    {
        (this.setup, this.options) = (setup, options);
        stock = new(Stock);
    }

    CuttingTable Table => options.CuttingTable ?? BuiltInCutting.Table;

    /// <summary>Why nothing can be looked up, in words; null: the stock's material has rows.</summary>
    public string? Why => stock.Value.Why;

    /// <summary>The stock's materials as the table calls them.</summary>
    public string Material => string.Join(" or ", stock.Value.Materials);

    /// <summary>Name and digest of the table that was looked into; null: it was not needed, since no blank names its material.</summary>
    public CuttingDataUsed? Used =>
        setup.Stock.Any(s => s.Material.Trim().Length > 0) ? new(Table.Name, Table.Sha256) : null;

    (IReadOnlyList<string>, string?) Stock()
    {
        if (setup.Stock.Count == 0)
            return ([], "no stock is described");
        var materials = new SortedSet<string>(StringComparer.Ordinal);
        foreach (var text in setup.Stock.Select(s => s.Material.Trim()).Distinct(StringComparer.Ordinal))
        {
            if (text.Length == 0)
                return ([], "the stock's material is not given");
            var named = NameMatch.In(text, Table.Materials);
            if (named.Count == 0)
                return ([], $"no row for '{text}' in {Table.Name}");
            if (named.Count > 1)
                return ([], $"'{text}' fits several materials of {Table.Name}: {string.Join(", ", named)}");
            materials.Add(named[0]);
        }
        return ([.. materials], null);
    }

    /// <summary>Null: no row fits. Asked at every change of speed or feed, so the tool in the spindle is at hand.</summary>
    public CuttingRange? Of(Tool tool, CuttingFigure figure)
    {
        if (Why is not null)
            return null;
        if (!ReferenceEquals(tool, lastTool))
            lastRanges = RangesOf(lastTool = tool);
        return lastRanges[(int)figure];
    }

    CuttingRange?[] RangesOf(Tool tool)
    {
        if (!known.TryGetValue(tool.Number, out var ranges))
            known[tool.Number] = ranges = [.. Enum.GetValues<CuttingFigure>().Select(f => Find(tool, f))];
        return ranges;
    }

    CuttingRange? Find(Tool tool, CuttingFigure figure)
    {
        var edges = EdgesOf(tool);
        var rows = Table
            .Rows.Where(r =>
                r.Figure == figure
                && r.Tools.Contains(tool.Kind.Trim(), StringComparer.OrdinalIgnoreCase)
                && (r.Material is null || stock.Value.Materials.Contains(r.Material, StringComparer.Ordinal))
                && (
                    r.ToolMaterial is null || edges.Count == 0 || edges.Contains(r.ToolMaterial, StringComparer.Ordinal)
                )
                && (r.DiameterFrom is null || tool.Diameter >= r.DiameterFrom)
                && (r.DiameterTo is null || tool.Diameter <= r.DiameterTo)
            )
            .ToList();
        return rows.Count == 0 ? null : Widest(rows, edges);
    }

    /// <summary>
    /// For one edge an open end of a row says nothing, and the others decide. Between edges, where nobody said which it is, an open end
    /// stays open.
    /// </summary>
    static CuttingRange Widest(List<CuttingRow> rows, IReadOnlyList<string> edges)
    {
        var meant = edges.Count > 0 ? edges : [.. rows.Select(r => r.ToolMaterial).OfType<string>().Distinct()];
        var ranges = (meant.Count > 0 ? meant : [""])
            .Select(e => rows.Where(r => r.ToolMaterial is null || r.ToolMaterial == e).ToList())
            .Select(of =>
                (Least: of.Min(r => (double?)r.Least * r.Scale), Most: of.Max(r => (double?)r.Most * r.Scale))
            )
            .ToList();
        return new(
            ranges.Exists(r => r.Least is null) ? null : ranges.Min(r => r.Least),
            ranges.Exists(r => r.Most is null) ? null : ranges.Max(r => r.Most),
            rows
        );
    }

    /// <summary>What the tool's edge is made of, by the table's names, from its material or else its description; none: nobody said.</summary>
    public IReadOnlyList<string> EdgesOf(Tool tool) =>
        NameMatch.In(tool.Material.Length > 0 ? tool.Material : tool.Description, Table.ToolMaterials);

    /// <summary>The sources of the rows, each once, as one would cite them.</summary>
    public string Sources(CuttingRange range) =>
        string.Join(
            "; ",
            range
                .Rows.Select(r => r.Source)
                .Distinct(StringComparer.Ordinal)
                .Select(id => Table.Sources.FirstOrDefault(s => s.Id == id))
                .Select(s => s is null ? "" : Cited(s))
        );

    static string Cited(CuttingSource source) =>
        source.Kind switch
        {
            SourceKind.ShopsOwn => Said.Kept($"the shop's own: {source.Name}"),
            SourceKind.CommonPractice => Said.Kept($"common practice: {source.Name}"),
            _ => source.Name,
        };
}
