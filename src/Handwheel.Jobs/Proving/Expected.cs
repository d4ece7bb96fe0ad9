using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>What a reading should be, and whether it is.</summary>
static class Expected
{
    /// <summary>Null: nothing is known to compare with.</summary>
    public static Length? Of(Course course, StepRule rule) =>
        rule.Expects switch
        {
            Expects.Setup => Baseline(course, rule.Register!.Value) ?? Setup(course.Plan, rule.Register!.Value),
            Expects.Baseline => Baseline(course, rule.Register!.Value),
            Expects.Raised => Baseline(course, rule.Register!.Value) + course.Raise,
            Expects.AsItStands => AsItStands(course, rule.Register!.Value),
            Expects.LedgerBaseline => course.Ledger.Last(rule.Register!.Value)?.Expectation.Baseline,
            Expects.MachineZ => MachineZ(course, rule.Tool!),
            Expects.MachineZRaised => MachineZ(course, rule.Tool!) + course.Raise,
            Expects.TallestThing => course.Plan.TallestThing,
            _ => null,
        };

    public static bool Matches(Course course, StepRule rule, Length read, Length expected)
    {
        var difference = Length.Abs(read - expected).Nanometres;
        return rule.Expects == Expects.TallestThing
            ? difference <= course.Plan.Rules.HeightToleranceIn(course.Units).Nanometres
            : difference * 2 <= course.Plan.LeastIncrement.Nanometres;
    }

    /// <summary>What is said after the second wrong reading.</summary>
    public static string Explain(Course course, StepRule rule, Length read, Length expected)
    {
        if (rule.Expects == Expects.TallestThing)
            return Said.In($"{course.Text(read)} was measured; the setup describes {course.Text(expected)}. ")
                + (
                    read > expected
                        ? Said.In(
                            "Something stands higher than the raise was worked out for: describe it in the setup and check again, or take it away."
                        )
                        : Said.In(
                            "Something described is not there, or it was measured from another zero: look again, or describe it as it is."
                        )
                );
        if (rule.Expects is Expects.MachineZ or Expects.MachineZRaised)
            return MachineZWords.Explain(course, rule, read, expected);
        if (rule.Expects is Expects.Setup && LastRightElsewhere(course, rule.Register!.Value, read) is { } proved)
            return Said.In(
                $"{rule.Register} held {course.Text(read)} when it was last right on this machine, read {course.Day(proved.At)} by {proved.By.Name}; the setup says {course.Text(expected)}. If it was corrected when the job was proved, the register is right: say so here, and have the setup brought up to date. If not, put it to what the setup says and read it again."
            );
        var baseline = rule.Register is { } own ? Baseline(course, own) : null;
        var raised =
            rule.Expects is Expects.Raised
            || (rule.Expects is Expects.AsItStands && baseline is not null && expected == baseline + course.Raise);
        var before = rule.Expects switch
        {
            _ when raised => baseline,
            Expects.AsItStands when expected == baseline => expected + course.Raise,
            Expects.Baseline or Expects.LedgerBaseline => expected + course.Raise,
            _ => null,
        };
        var others = course
            .Table.UsedRegisters.Where(r => r != rule.Register && rule.Register is not null)
            .Select(r => (Name: r.ToString(), Value: Baseline(course, r) ?? Setup(course.Plan, r)))
            .Where(o => o.Value is { } v && v != Length.Zero)
            .Select(o => (o.Name, o.Value!.Value));
        var answer = Reading.Compare(
            ReadingQuestion.Of(
                expected,
                read,
                course.Units,
                course.Plan.LeastIncrement,
                course.Raise == Length.Zero ? null : before,
                raised || before is not null ? course.Raise : null,
                others
            )
        );
        return $"{answer.Message} {answer.Remedy}".Trim();
    }

    /// <summary>The last reading of another prove-out, or of none, that was right, where it was this value.</summary>
    static LedgerReading? LastRightElsewhere(Course course, Register register, Length value)
    {
        var last = course.Ledger.Readings.LastOrDefault(r =>
            new Register(r.Register, r.Axis) == register
            && r.ProveOut != course.Plan.Subject.ProveOut
            && r.Value == r.Expectation.Baseline
            && !r.Expectation.IsReadAgain
        );
        return last?.Value == value ? last : null;
    }

    public static Length? Baseline(Course course, Register register) =>
        course.Baselines.TryGetValue(register, out var value) ? value : null;

    /// <summary>What the setup says a register holds.</summary>
    public static Length? Setup(ProveOutPlan plan, Register register)
    {
        if (!register.Name.StartsWith('H'))
            return plan.Registers.FirstOrDefault(r => r.Register == register)?.Setup;
        var tool = plan.Tools.FirstOrDefault(t => StepTable.LengthRegisters(plan, t).Contains(register));
        return register.Axis == "wear" ? tool?.Wear : tool?.Length;
    }

    static Length? AsItStands(Course course, Register register) =>
        course.ShouldBe.TryGetValue(register, out var value)
            ? value
            : Baseline(course, register)
                ?? course.Ledger.Last(register)?.Expectation.Baseline
                ?? Setup(course.Plan, register);

    /// <summary>Work offset + common + H + programmed Z, with the registers as they were read.</summary>
    static Length? MachineZ(Course course, PlannedTool tool)
    {
        if (tool.Approach is not { MachineZ: { } machineZ } approach)
            return null;
        var moved = Moved(course, new(approach.WorkOffset, "z")) + Moved(course, new("common", "z"));
        foreach (var register in StepTable.LengthRegisters(course.Plan, tool))
            moved += Moved(course, register);
        return machineZ + moved;
    }

    /// <summary>How far the accepted baseline is from what the check was made with.</summary>
    public static Length Moved(Course course, Register register) =>
        Baseline(course, register) is { } value && Setup(course.Plan, register) is { } planned
            ? value - planned
            : Length.Zero;
}
