using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>Remembers where blocks with a slash were executed; the check follows the program once more without them, and this says what differs.</summary>
sealed class BlockDeleteMattersRule(Facts facts) : Rule(facts)
{
    const int ToldMost = 4;
    const int PlacesMost = 1000;

    readonly List<Where> places = [];

    public override RuleInfo Info { get; } =
        new("block-delete-matters", Level.Note, "Lines with a slash change what happens");

    /// <summary>A block that begins with a slash was executed.</summary>
    public bool Seen => places.Count > 0;

    /// <summary>How many different blocks; each counts once, however often it is executed.</summary>
    public int Blocks => places.Select(p => (p.File, p.Line)).Distinct().Count();

    public override Changes Hears => Changes.Slash;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Slash) != Changes.None && places.Count < PlacesMost)
            places.Add(Where.Of(state));
    }

    /// <param name="other">The same program with the switch on; null: nothing is left of it then.</param>
    public void Compare(IReadOnlyList<ToolUse> tools, IReadOnlyList<Finding> findings, CheckResult? other)
    {
        List<string> told = other is null
            ? ["nothing is executed"]
            : [.. Motion(tools, other), .. Found(findings, other)];
        if (told.Count == 0)
            return;
        var more = told.Count > ToldMost ? "; and more" : "";
        foreach (var at in places)
        {
            if (Book.Again(Info, 0, at.File, at.Line))
                continue;
            Book.Add(
                Info,
                0,
                at,
                $"This block begins with a slash and was executed: all figures are for the block-delete switch off. With it on: {string.Join("; ", told.Take(ToldMost))}{more}.",
                "Set the switch as the setup wants it, and check once more with --block-delete before it is used."
            );
        }
    }

    static IEnumerable<string> Motion(IReadOnlyList<ToolUse> tools, CheckResult other)
    {
        foreach (var tool in tools)
        {
            var name = "T" + Figures.Whole(tool.Tool);
            var then = other.Tools.FirstOrDefault(t => t.Tool == tool.Tool);
            if (then is null)
                yield return $"{name} is not used";
            else if (then.LowestTip != tool.LowestTip)
                yield return $"the lowest tip of {name} is {Say(then.LowestTip)}, not {Say(tool.LowestTip)}";
            else if (then.CutDistance != tool.CutDistance || then.RapidDistance != tool.RapidDistance)
                yield return $"{name} cuts {Say(then.CutDistance)} and rapids {Say(then.RapidDistance)}, not {Say(tool.CutDistance)} and {Say(tool.RapidDistance)}";
            else if (!Same(then.Bounds.X, tool.Bounds.X) || !Same(then.Bounds.Y, tool.Bounds.Y))
                yield return $"{name} moves over another area";
        }
        foreach (var tool in other.Tools.Where(t => tools.All(u => u.Tool != t.Tool)))
            yield return $"T{Figures.Whole(tool.Tool)} is used as well";
    }

    static IEnumerable<string> Found(IReadOnlyList<Finding> findings, CheckResult other) =>
        other
            .Findings.Where(f => f.Level > Level.Note && !findings.Any(g => g.Id == f.Id && g.Line == f.Line))
            .Select(f =>
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{(f.Level == Level.Stop ? "STOP " : "")}{f.Id} at line {f.Line}"
                )
            );

    static bool Same(decimal[]? a, decimal[]? b) => a is null || b is null ? a == b : a.AsSpan().SequenceEqual(b);

    static string Say(decimal? value) => value is { } known ? Figures.Plain(known) : "not known";
}
