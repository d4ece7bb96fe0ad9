using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>
/// For every tool but the first: which modal words its first moves rely on that were last written for a tool before it. G90
/// counts only in a program that uses G91 as well: without it no stop can leave it in force.
/// </summary>
sealed class NoSafeRestartRule(Facts facts) : Rule(facts)
{
    const int ChangesMost = 1_000;

    readonly Dictionary<Stated, List<Where>> missing = [];
    readonly Dictionary<int, Stated> relied = [];
    Stated used;
    Stated seen;
    bool incremental;

    public override RuleInfo Info { get; } = new("no-safe-restart", Level.Check, "No safe start at this tool");

    public override void ToolChange(in ControlState state, int previousTool, in Place before) =>
        (used, seen) = (default, default);

    public override bool Watches(in ControlState state)
    {
        incremental |= state.Incremental;
        return state.ToolChanges >= 2 && used != Needed;
    }

    public override bool SeenEnough => used == Needed;

    public override void OddMove(in ControlState state, in Leg leg) => incremental |= state.Incremental;

    public override void RapidMove(in ControlState state, in Leg leg) => incremental |= state.Incremental;

    public override void CycleMove(in ControlState state, in Leg leg) => incremental |= state.Incremental;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (state.ToolChanges < 2 || used == Needed)
            return;
        var needs = Facts.IsWork(leg.Kind) ? Stated.WorkOffset | Stated.Distance : Stated.None;
        if (leg.Kind == LegKind.ReturnVia)
            needs = Stated.None;
        if (Facts.IsFeed(leg.Kind))
            needs |= Stated.Feed | Stated.Speed;
        var first = needs & ~used;
        used |= needs;
        first &= ~state.Stated;
        if (Facts.Tool is { Kind: "probe" })
            first &= ~Stated.Speed;
        if (first == Stated.None || (seen & first) == first)
            return;
        seen |= first;
        if (relied.Count < ChangesMost || relied.ContainsKey(state.ToolChanges))
            relied[state.ToolChanges] = relied.GetValueOrDefault(state.ToolChanges) | first;
        foreach (var word in All)
        {
            if ((first & word) == Stated.None)
                continue;
            if (!missing.TryGetValue(word, out var places))
                missing[word] = places = [];
            places.Add(Where.Of(state));
        }
    }

    /// <summary>What the moves after this tool change rely on and nothing has stated since; the changes count from 1.</summary>
    public Stated Relied(int toolChange) =>
        relied.GetValueOrDefault(toolChange) & (incremental ? ~Stated.None : ~Stated.Distance);

    const Stated Needed = Stated.WorkOffset | Stated.Distance | Stated.Feed | Stated.Speed;

    static readonly Stated[] All = [Stated.WorkOffset, Stated.Distance, Stated.Feed, Stated.Speed];

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        foreach (var (word, places) in missing.OrderBy(m => m.Key))
        {
            if (word == Stated.Distance && !incremental)
                continue;
            foreach (var at in places)
            {
                if (Book.Again(Info, (long)word, at.File, at.Line))
                    continue;
                Book.Add(
                    Info,
                    (long)word,
                    at,
                    Said.Kept(
                        $"A start at the first block of {Facts.Name(at.Tool)} would miss {Words(word)}: this block relies on it, and since the tool change nothing has stated it."
                    ),
                    "State it again after each tool change, or start further up: at a tool that states it."
                );
            }
        }
    }

    static string Words(Stated word) =>
        word switch
        {
            Stated.WorkOffset => Said.Kept("the work offset (G54 …)"),
            Stated.Distance => Said.Kept("G90 or G91"),
            Stated.Feed => "F",
            _ => "S",
        };
}
