using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>
/// Looks at the lengths of the tools that the program uses. How far two tools of one magazine can differ is common practice, no source:
/// 250 mm for the lengths themselves, 75 mm for what is left after stick-out and holder.
/// </summary>
sealed class LengthValueSuspiciousRule(Facts facts) : Rule(facts)
{
    const long SpreadMost = 250_000_000;
    const long UnexplainedMost = 75_000_000;

    readonly List<(Tool Tool, Where At)> used = [];

    public override RuleInfo Info { get; } =
        new("length-value-suspicious", Level.Check, "A length that does not fit the other tools");

    public override Changes Hears => Changes.Length;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Length) == Changes.None || !state.LengthCommanded || state.LengthMode == LengthMode.Off)
            return;
        if (Facts.Tool is { Length: not null } tool && !used.Exists(u => u.Tool.Number == tool.Number))
            used.Add((tool, Where.Of(state)));
    }

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        if (!MixedHabits())
            Unexplained();
        Equal();
    }

    static Length Own(Tool tool) => tool.Length!.Value;

    void Equal()
    {
        foreach (var ((tool, at), index) in used.Select((u, i) => (u, i)))
        {
            var twin = used.Take(index)
                .FirstOrDefault(u => Own(u.Tool) == Own(tool) && u.Tool.LengthOffset != tool.LengthOffset);
            if (twin.Tool is null || Own(tool) == Length.Zero)
                continue;
            Add(
                at,
                Said.Kept(
                    $"{Facts.Name(tool.Number)} has the length {Say(tool)}, to the last digit that of {Facts.Name(twin.Tool.Number)}. Two tools are hardly ever equally long: a register may have been copied."
                )
            );
        }
    }

    /// <summary>A master tool's zero is fine, and differences from it may have either sign.</summary>
    bool MixedHabits()
    {
        if (used.Count < 2 || used.Exists(u => Own(u.Tool) == Length.Zero))
            return false;
        var longest = used.MaxBy(u => Own(u.Tool));
        var shortest = used.MinBy(u => Own(u.Tool));
        var mixed = Own(longest.Tool) > Length.Zero && Own(shortest.Tool) < Length.Zero;
        if (!mixed || (Own(longest.Tool) - Own(shortest.Tool)).Nanometres <= SpreadMost)
            return false;
        var odd = used.FindAll(u => Own(u.Tool) > Length.Zero).Count * 2 > used.Count ? shortest : longest;
        Add(
            odd.At,
            Said.Kept(
                $"{Facts.Name(longest.Tool.Number)} has the length {Say(longest.Tool)}, {Facts.Name(shortest.Tool.Number)} {Say(shortest.Tool)}: gauge lengths and touch-off distances are mixed in one list."
            )
        );
        return true;
    }

    /// <summary>Length less stick-out and holder is much the same for tools that are measured in one way.</summary>
    void Unexplained()
    {
        var rests = used.Where(u => u.Tool.Stickout is not null && u.Tool.Holder.Count > 0)
            .Select(u => (u.Tool, u.At, Left: Rest(u.Tool)))
            .OrderBy(u => u.Left)
            .ToList();
        if (rests.Count < 3)
            return;
        var middle = rests[rests.Count / 2].Left;
        foreach (var (tool, at, rest) in rests.Where(r => Math.Abs(r.Left - middle) > UnexplainedMost))
        {
            Add(
                at,
                Said.Kept(
                    $"{Facts.Name(tool.Number)} has the length {Say(tool)}; by its stick-out and holder, and by the lengths of the other tools, about {Facts.Figures.Say(Own(tool).Nanometres - rest + middle)} is to be expected."
                )
            );
        }
    }

    static long Rest(Tool tool) =>
        Own(tool).Nanometres - tool.Stickout!.Value.Nanometres - tool.Holder.Sum(h => h.Length.Nanometres);

    string Say(Tool tool) => Facts.Figures.Say(Own(tool).Nanometres);

    void Add(Where at, string message) =>
        Book.Add(Info, at.Tool, at, message, "Measure this tool again before the air cut, and read its register back.");
}
