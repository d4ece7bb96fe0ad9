using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>Moves a prove-out to the next revision of its plan and opens what differs.</summary>
static class NewPlan
{
    public static void Take(Course course, string why, Doer by)
    {
        var old = course.Plan;
        var oldIds = course.Table.Rules.Select(r => r.Id).ToHashSet(StringComparer.Ordinal);
        course.PlanIndex++;
        var plan = course.Plan;
        course.Table = StepTable.For(plan, course.AirCutWanted);
        course.Keep(id => course.Table.Find(id) is not null || course.ReadBack.ContainsKey(id));
        var grounds = new HashSet<string>(StringComparer.Ordinal);
        var programs = !old
            .Subject.Programs.Select(p => p.Sha256)
            .SequenceEqual(plan.Subject.Programs.Select(p => p.Sha256));
        if (programs)
            grounds.Add(Ground.Program);
        foreach (var tool in plan.Tools)
            Tools(course, old.Tools.FirstOrDefault(t => t.Key == tool.Key), tool, programs, grounds);
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

    static void Tools(Course course, PlannedTool? before, PlannedTool tool, bool programs, HashSet<string> grounds)
    {
        if (before is null)
            return;
        if (programs && (tool.Motion is null || tool.Motion != before.Motion))
            grounds.Add(Ground.ToolMotion(tool.Key));
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
