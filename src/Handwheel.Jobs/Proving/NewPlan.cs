using Handwheel.Jobs.Motions;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// Moves a prove-out to the next revision of its plan and opens what differs. The digests of the two plans decide; the
/// comparison in words is the reason that people read.
/// </summary>
static class NewPlan
{
    public static void Take(Course course, string why, IReadOnlyList<ToolCompared>? compared, Doer by)
    {
        var old = course.Plan;
        var oldIds = course.Table.Rules.Select(r => r.Id).ToHashSet(StringComparer.Ordinal);
        course.PlanIndex++;
        var plan = course.Plan;
        course.Table = StepTable.For(plan, course.AirCutWanted);
        course.Keep(id => course.Table.Find(id) is not null || course.ReadBack.ContainsKey(id));
        var grounds = new HashSet<string>(StringComparer.Ordinal);
        if (ProgramsDiffer(old, plan))
            grounds.Add(Ground.Program);
        grounds.UnionWith(Parameters(old, plan).Select(Ground.Parameter));
        foreach (var tool in plan.Tools)
            Tools(course, old.Tools.FirstOrDefault(t => t.Key == tool.Key), tool, grounds);
        foreach (var register in plan.Registers)
            if (
                old.Registers.FirstOrDefault(r => r.Register == register.Register) is not { } before
                || before.Setup != register.Setup
            )
            {
                grounds.Add(Ground.Baseline(register.Register));
                Changes.Forget(course, register.Register);
            }
        if (old.HoldingDigest != plan.HoldingDigest || old.TallestThing != plan.TallestThing)
            grounds.Add(Ground.Holding);
        if (Raise(course, old, plan))
            grounds.Add(Ground.Raise);
        foreach (var finding in plan.Findings)
            if (
                !old.Findings.Any(f =>
                    f.Id == finding.Id && f.Level == finding.Level && f.Messages.SequenceEqual(finding.Messages)
                )
            )
                grounds.Add(Ground.Finding(finding.Id));
        Motions(course, old, plan, why, compared, by);
        Reopening.Grounds(
            course,
            grounds,
            why,
            by,
            null,
            course.Table.Rules.Select(r => r.Id).Where(id => !oldIds.Contains(id))
        );
        Characteristics(course, old, plan, why, by);
    }

    static bool ProgramsDiffer(ProveOutPlan old, ProveOutPlan plan) =>
        !old.Subject.Programs.Select(p => p.Sha256).SequenceEqual(plan.Subject.Programs.Select(p => p.Sha256));

    /// <summary>The parameters that are taken to hold something else than before.</summary>
    static IEnumerable<int> Parameters(ProveOutPlan old, ProveOutPlan plan)
    {
        var (before, now) = (old.Subject.Assumed ?? [], plan.Subject.Assumed ?? []);
        return before.Except(now).Concat(now.Except(before)).Select(p => p.Number).Distinct();
    }

    /// <summary>Opens the cards of the tools that do something else, each with its own reason.</summary>
    static void Motions(
        Course course,
        ProveOutPlan old,
        ProveOutPlan plan,
        string why,
        IReadOnlyList<ToolCompared>? compared,
        Doer by
    )
    {
        var moved = ToolOrder.Moved(
            old.Tools.Select(t => t.Tool).Distinct(),
            plan.Tools.Select(t => t.Tool).Distinct()
        );
        var unknownCountsAsChanged =
            ProgramsDiffer(old, plan)
            || old.Subject.MachineSha256 != plan.Subject.MachineSha256
            || Parameters(old, plan).Any();
        foreach (var tool in plan.Tools)
        {
            if (old.Tools.FirstOrDefault(t => t.Key == tool.Key) is not { } before)
                continue;
            if (
                Differs(before.Motion, tool.Motion, unknownCountsAsChanged)
                || moved.Contains(tool.Tool)
                || old.Units != plan.Units
            )
                Reopening.Ground(course, Ground.ToolMotion(tool.Key), Because(tool), by);
            else if (before.Cutting != tool.Cutting)
                Reopening.Ground(course, Ground.ToolCutting(tool.Key), Because(tool), by);
        }
        if (old.Tools.Any(t => plan.Tools.All(p => p.Key != t.Key)) && course["first-cut.cut"].State != StepState.Open)
            Reopening.Step(course, "first-cut.cut", why + Said.In(". A tool is not in the program any more"), by);

        string Because(PlannedTool tool) =>
            compared?.FirstOrDefault(c => c.Tool == tool.Tool) is { } words
                ? words.Change == ToolChange.Same
                    ? Said.In(
                        $"{why}. What T{tool.Key} did before was told by another version of this program, and counts as changed"
                    )
                    : $"{why}. {words.Words}"
                : why;
    }

    static bool Differs(string? before, string? after, bool unknownCountsAsChanged) =>
        before is null || after is null ? unknownCountsAsChanged : before != after;

    static void Tools(Course course, PlannedTool? before, PlannedTool tool, HashSet<string> grounds)
    {
        if (before is null)
            return;
        var same =
            before.LengthOffset == tool.LengthOffset
            && before.Length == tool.Length
            && before.Wear == tool.Wear
            && before.Pocket == tool.Pocket
            && before.Kind == tool.Kind
            && before.Description == tool.Description
            && before.Stickout == tool.Stickout;
        if (same)
            return;
        grounds.Add(Ground.Tool(tool.Key));
        foreach (var register in StepTable.LengthRegisters(course.Plan, tool))
            Changes.Forget(course, register);
    }

    /// <summary>The raise stays when somebody chose it and it is still inside the window; true: it is another one.</summary>
    static bool Raise(Course course, ProveOutPlan old, ProveOutPlan plan)
    {
        var stays =
            course.RaiseChosen
            && course.Raise is { } raise
            && (plan.AirCut.Minimum is not { } low || raise >= low)
            && (plan.AirCut.Maximum is not { } high || raise <= high);
        if (stays || course.Raise == plan.AirCut.Suggested)
            return old.AirCut.Possible != plan.AirCut.Possible;
        course.Raise = plan.AirCut.Suggested;
        course.RaiseChosen = false;
        return true;
    }

    static void Characteristics(Course course, ProveOutPlan old, ProveOutPlan plan, string why, Doer by)
    {
        foreach (var rule in course.Table.Of(Phase.FirstPiece))
            if (
                rule.Characteristic is { } i
                && (i >= old.Characteristics.Count || old.Characteristics[i] != plan.Characteristics[i])
                && course[rule.Id].State != StepState.Open
            )
                Reopening.Step(course, rule.Id, why, by);
    }
}
