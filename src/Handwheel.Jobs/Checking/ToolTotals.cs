using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>What one tool does over all its uses. Distances in picometres, times in picoseconds: whole numbers, so that order does not matter.</summary>
sealed class ToolTotals(int tool)
{
    public int Tool => tool;
    public int Uses { get; set; }
    public SortedSet<int> LengthOffsets { get; } = [];
    public SortedSet<int> DiameterOffsets { get; } = [];
    public long CutPicometres { get; set; }
    public long RapidPicometres { get; set; }
    public bool CutUnknown { get; set; }
    public bool RapidUnknown { get; set; }
    public long Picoseconds { get; set; }
}

/// <summary>Totals of all tools, and the extent of each tool under each work offset.</summary>
sealed class Totals
{
    /// <summary>More tools are no program's.</summary>
    const int ToolsMost = 1_000;

    readonly List<ToolTotals> tools = [];
    readonly Dictionary<int, ToolTotals> byNumber = [];
    readonly Dictionary<(int, WorkOffsetName), Extent> extents = [];
    readonly List<Extent> inOrder = [];

    public IReadOnlyList<ToolTotals> Tools => tools;

    /// <summary>In order of first use.</summary>
    public IReadOnlyList<Extent> Extents => inOrder;

    public ToolTotals Of(int tool)
    {
        if (!byNumber.TryGetValue(tool, out var found))
            tools.Add(byNumber[tool] = found = new ToolTotals(tool));
        return found;
    }

    public Extent Of(int tool, WorkOffsetName offset)
    {
        if (!extents.TryGetValue((tool, offset), out var extent))
        {
            extents[(tool, offset)] = extent = new Extent(tool, offset);
            inOrder.Add(extent);
        }
        return extent;
    }

    public IReadOnlyList<ToolUse> ToolUses(Figures figures, bool timeKnown)
    {
        var extentsOf = inOrder.ToLookup(e => e.Tool);
        return
        [
            .. tools
                .Where(t => t.Uses > 0)
                .Take(ToolsMost)
                .Select(t => Use(t, [.. extentsOf[t.Tool]], figures, timeKnown)),
        ];
    }

    /// <summary>Tools that are not in the list because it is full.</summary>
    public int ToolsBeyond => Math.Max(0, tools.Count(t => t.Uses > 0) - ToolsMost);

    public IReadOnlyList<WorkOffsetUse> WorkOffsetUses(Figures figures) =>
        [
            .. inOrder
                .GroupBy(e => e.WorkOffset)
                .OrderBy(g => g.Key)
                .Select(g =>
                {
                    var z = Over(g, e => e.Z);
                    return new WorkOffsetUse(
                        g.Key.ToString(),
                        z.HasValue ? figures.Out(z.Low) : null,
                        BoundsOf(g, figures)
                    );
                }),
        ];

    static ToolUse Use(ToolTotals totals, List<Extent> mine, Figures figures, bool timeKnown)
    {
        var z = Over(mine, e => e.Z);
        var highest = mine.Select(e => e.HighestMachineZ).DefaultIfEmpty(long.MinValue).Max();
        return new ToolUse
        {
            Tool = totals.Tool,
            Uses = totals.Uses,
            LengthOffsets = [.. totals.LengthOffsets],
            DiameterOffsets = [.. totals.DiameterOffsets],
            WorkOffsets = [.. mine.Select(e => e.WorkOffset).Order().Select(o => o.ToString())],
            LowestTip = z.HasValue ? figures.Out(z.Low) : null,
            HighestMachineZ =
                highest == long.MinValue || mine.Exists(e => e.MachineZUnknown) ? null : figures.Out(highest),
            CutDistance = totals.CutUnknown ? null : figures.FromPicometres(totals.CutPicometres),
            RapidDistance = totals.RapidUnknown ? null : figures.FromPicometres(totals.RapidPicometres),
            Seconds = timeKnown && !totals.CutUnknown && !totals.RapidUnknown ? Seconds(totals.Picoseconds) : null,
            Bounds = BoundsOf(mine, figures),
        };
    }

    public static decimal Seconds(long picoseconds) =>
        decimal.Round(picoseconds / 1_000_000_000_000m, 6, MidpointRounding.AwayFromZero);

    static Bounds BoundsOf(IEnumerable<Extent> extents, Figures figures)
    {
        var list = extents.ToList();
        return new Bounds(
            Over(list, e => e.X).Out(figures),
            Over(list, e => e.Y).Out(figures),
            Over(list, e => e.Z).Out(figures)
        );
    }

    static AxisExtent Over(IEnumerable<Extent> extents, Func<Extent, AxisExtent> axis) =>
        extents.Select(axis).Aggregate(AxisExtent.None, (a, b) => a.With(b));
}
