using System.Globalization;
using System.Text.RegularExpressions;
using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>Changes of program, tool, baseline, holding and raise, and what each opens again. None touches the ledger.</summary>
static partial class Changes
{
    public static void Take(Course course, Entry entry)
    {
        var by = Effects.DoerOf(entry);
        switch (entry.Act)
        {
            case EditNoted act:
                Edited(course, act, by);
                break;
            case RaiseChosen act:
                if (
                    !TypedNumber.TryReadLength(
                        act.Typed,
                        course.Units,
                        course.Plan.LeastIncrement,
                        out var raise,
                        out _
                    )
                )
                    return;
                course.Raise = raise.In(course.Units);
                course.RaiseChosen = true;
                Reopening.Ground(
                    course,
                    Ground.Raise,
                    Said.In($"The raise is now {course.Text(course.Raise.Value)}: {act.Why}"),
                    by
                );
                break;
            case ProgramChanged act:
                NewPlan.Take(course, Said.In("The program was changed: ") + act.Why, act.Compared, by);
                break;
            case SetupChanged act:
                NewPlan.Take(course, Said.In("The setup was changed: ") + act.Why, act.Compared, by);
                break;
            case LengthChanged act:
                Tool(
                    course,
                    act.Tool,
                    Said.In($"T{act.Tool.ToString(CultureInfo.InvariantCulture)} has another length: {act.Why}"),
                    by
                );
                break;
            case ToolReplaced act:
                Tool(
                    course,
                    act.Tool,
                    Said.In($"T{act.Tool.ToString(CultureInfo.InvariantCulture)} was replaced: {act.Why}"),
                    by
                );
                break;
            case BaselineChanged act:
                var register = new Register(act.Register, act.Axis);
                Forget(course, register);
                Reopening.Ground(course, Ground.Baseline(register), Said.In($"{register} was set anew: {act.Why}"), by);
                break;
            case HoldingChanged act:
                Reopening.Ground(course, Ground.Holding, Said.In("The holding was changed: ") + act.What, by);
                break;
            case AirCutWanted:
                course.AirCutWanted = true;
                course.Table = StepTable.For(course.Plan, airCutWanted: true);
                break;
        }
    }

    public static void Forget(Course course, Register register)
    {
        course.Baselines.Remove(register);
        course.ShouldBe.Remove(register);
    }

    static void Tool(Course course, int number, string why, Doer by)
    {
        foreach (var tool in course.Plan.Tools.Where(t => t.Tool == number))
        {
            foreach (var register in StepTable.LengthRegisters(course.Plan, tool))
                Forget(course, register);
            Reopening.Ground(course, Ground.Tool(tool.Key), why, by);
        }
    }

    static void Edited(Course course, EditNoted edit, Doer by)
    {
        course.Edits.Add(edit);
        var why = Said.In($"Line {edit.Line} was edited at the machine: {edit.Why}");
        if (edit.Plan is not null)
        {
            NewPlan.Take(course, why, edit.Compared, by);
            return;
        }
        var grounds = Moves(edit.Old).SequenceEqual(Moves(edit.New), StringComparer.Ordinal)
            ? []
            : ToolsAt(course.Plan, edit.Line).Select(t => Ground.ToolMotion(t.Key)).ToHashSet();
        Reopening.Grounds(course, grounds, why, by);
        if (course["release.edits"].IsDone)
            Reopening.Step(course, "release.edits", why, by);
    }

    /// <summary>The tool in the spindle at a line, as far as its stops tell; all of them where they do not.</summary>
    static IEnumerable<PlannedTool> ToolsAt(ProveOutPlan plan, int line)
    {
        if (plan.Subject.Programs.Count > 1)
            return plan.Tools;
        var before = plan
            .Tools.Where(t => FirstLine(t) is { } first && first <= line)
            .OrderBy(FirstLine)
            .LastOrDefault();
        return before is null || plan.Tools.Any(t => t.Again.Count > 0)
            ? plan.Tools
            : plan.Tools.Where(t => t.Tool == before.Tool);
    }

    static int? FirstLine(PlannedTool tool) => tool.Position?.Line ?? tool.Approach?.Line ?? tool.Entry?.Line;

    // An edit that was not put into the program: by its words alone.

    /// <summary>The words of a block that move something: not feed, speed, coolant, block number or comment.</summary>
    static IEnumerable<string> Moves(string block) =>
        Word()
            .Matches(Comment().Replace(block, "").ToUpperInvariant())
            .Select(m => m.Value.Replace(" ", "", StringComparison.Ordinal))
            .Where(w => w[0] is not ('F' or 'S' or 'N') && w is not ("M7" or "M8" or "M9" or "M07" or "M08" or "M09"));

    [GeneratedRegex(@"\([^)]*\)|;.*", RegexOptions.None, 1000)]
    private static partial Regex Comment();

    [GeneratedRegex(@"[A-Z#/%:]\s*[^A-Z#/%:]*", RegexOptions.None, 1000)]
    private static partial Regex Word();
}
