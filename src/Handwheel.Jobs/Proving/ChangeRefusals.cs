using System.Globalization;
using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

static class ChangeRefusals
{
    public static IEnumerable<string> For(Course course, Act act, Actor by) =>
        act switch
        {
            EditNoted edit => Edit(course, edit),
            TakenBack back => TakenBack(course, back, by),
            RaiseChosen raise => Raise(course, raise),
            ProgramChanged changed => NextPlan(course, changed.Plan, changed.Why),
            SetupChanged changed => NextPlan(course, changed.Plan, changed.Why),
            LengthChanged changed => Tool(course, changed.Tool, changed.Why)
                .Concat(Interlocks.NothingRaised(course, Said.In("a tool measured now has the raise in its length"))),
            ToolReplaced replaced => Tool(course, replaced.Tool, replaced.Why),
            BaselineChanged changed => Baseline(course, changed),
            HoldingChanged { What: var what } => Blank(what, Said.In("Write what was moved.")),
            AirCutWanted wanted => AirCut(course, wanted),
            OtherWaySigned other => Step(course, "air-cut.other-way", Said.In("An air cut is possible here."))
                .Concat(Blank(other.Reason, Said.In("Write the reason."))),
            CutShort cut => Step(course, "air-cut.ran", Said.In("There is no air cut to end early."))
                .Concat(Blank(cut.Why, Said.In("Write why.")))
                .Concat(cut.Line < 1 ? [Said.In("Name the line.")] : []),
            SentBack sent => SentBack(course, sent),
            _ => [],
        };

    static IEnumerable<string> Edit(Course course, EditNoted edit)
    {
        if (edit.Line < 1)
            yield return Said.In("Name the line, counted from 1.");
        if (string.IsNullOrWhiteSpace(edit.Old) && string.IsNullOrWhiteSpace(edit.New))
            yield return Said.In("Write the block as it was and as it is now.");
        if (edit.Old == edit.New)
            yield return Said.In("Old and new are the same.");
        if (string.IsNullOrWhiteSpace(edit.Why))
            yield return Said.In("Write why it was edited.");
        if (edit.Plan is { } plan && !IsNext(course, plan))
            yield return Said.In("The program as edited is not checked yet: write the edit once more.");
    }

    static IEnumerable<string> TakenBack(Course course, TakenBack back, Actor by)
    {
        if (string.IsNullOrWhiteSpace(back.Why))
            yield return Said.In("Write why it is taken back.");
        var rule = course.Table.Rules.FirstOrDefault(r => course[r.Id].By?.Entry == back.Entry && course[r.Id].IsDone);
        if (rule is null || rule.Signature is not null || course[rule.Id].State == StepState.Deviation)
        {
            yield return Said.In(
                $"Entry {back.Entry} is not a step that stands done: a signature or an older entry is corrected by a note."
            );
            yield break;
        }
        if (Ends(course, rule) is { } signed)
            yield return Said.In(
                $"{StepTable.PhaseName(rule.Phase)} was signed by {signed.Name}: a supervisor sends the step back."
            );
        if (course[rule.Id].Person != by.Person && !by.Has(Roles.Setter))
            yield return Said.In($"{course[rule.Id].By!.Name} or a setter takes it back.");
        if (rule is { Phase: Phase.Ready, Register: not null })
            foreach (
                var reason in Interlocks.NothingRaised(course, Said.In("a baseline read now would hold the raise"))
            )
                yield return reason;
    }

    static Doer? Ends(Course course, StepRule rule) =>
        course
            .Table.Of(rule.Phase)
            .Where(r => r.Signature is not null && course[r.Id].IsDone)
            .Select(r => course[r.Id].By)
            .LastOrDefault();

    static IEnumerable<string> Raise(Course course, RaiseChosen chosen)
    {
        var plan = course.Plan;
        if (!course.Table.HasAirCut || !plan.AirCut.Possible)
        {
            yield return Said.In("There is no air cut to raise for. ")
                + (plan.AirCut.Why is { } why ? Said.Again(why) : "");
            yield break;
        }
        if (course.IsDone("air-cut.ran"))
            yield return Said.In("The air cut is over: send its steps back first.");
        if (string.IsNullOrWhiteSpace(chosen.Why))
            yield return Said.In("Write why.");
        if (!TypedNumber.TryReadLength(chosen.Typed, plan.Units, plan.LeastIncrement, out var number, out var refusal))
        {
            yield return refusal;
            yield break;
        }
        var raise = number.In(plan.Units);
        var low = Length.Max(plan.AirCut.Minimum ?? Length.Zero, Length.Zero);
        var moved = course
            .Table.UsedRegisters.Where(r => r.Axis is "z" or "length" or "wear")
            .Select(r => Expected.Moved(course, r));
        if (raise < low)
            yield return Said.In($"{course.Text(raise)} is less than the {course.Text(low)} that clears everything.");
        if (plan.AirCut.Maximum is { } high && raise > high - moved.Append(Length.Zero).Max())
            yield return Said.In(
                $"{course.Text(raise)} is more than the travel leaves, {course.Text(high - moved.Append(Length.Zero).Max())}."
            );
    }

    static IEnumerable<string> NextPlan(Course course, string digest, string why)
    {
        if (string.IsNullOrWhiteSpace(why))
            yield return Said.In("Write why it was changed.");
        if (!IsNext(course, digest))
            yield return Said.In(
                "The revision is not checked yet: have program and setup checked, then say that they changed."
            );
    }

    static bool IsNext(Course course, string digest) =>
        course.PlanIndex + 1 < course.Plans.Count && course.Plans[course.PlanIndex + 1].Digest == digest;

    static IEnumerable<string> Tool(Course course, int tool, string why)
    {
        if (string.IsNullOrWhiteSpace(why))
            yield return Said.In("Write why.");
        if (course.Plan.Tools.All(t => t.Tool != tool))
            yield return Said.In($"T{tool} is not in this program.");
    }

    static IEnumerable<string> Baseline(Course course, BaselineChanged changed)
    {
        if (string.IsNullOrWhiteSpace(changed.Why))
            yield return Said.In("Write why.");
        if (course.Plan.Registers.All(r => r.Register != new Register(changed.Register, changed.Axis)))
            yield return Said.In($"{changed.Register} {changed.Axis} is not a register of this program.");
        foreach (var reason in Interlocks.NothingRaised(course, Said.In("a work offset set now would hold the raise")))
            yield return reason;
    }

    static IEnumerable<string> AirCut(Course course, AirCutWanted wanted)
    {
        if (string.IsNullOrWhiteSpace(wanted.Reason))
            yield return Said.In("Write the reason.");
        if (course.Table.HasAirCut)
            yield return Said.In("The air cut is on the list already.");
        if (course.Table.Of(Phase.FirstCut).Any(r => course[r.Id].IsDone))
            yield return Said.In("The first cut has begun: an air cut over a cut piece shows nothing.");
    }

    /// <summary>A step that takes its own act: open, and nothing to wait for.</summary>
    static IEnumerable<string> Step(Course course, string id, string otherwise)
    {
        if (course.Table.Find(id) is not { } rule)
            return [otherwise];
        if (course[id] is { IsDone: true, By: { } by })
            return [Said.In($"{by.Name} already did this at {course.Clock(by.At)}.")];
        return Refusals.Blocks(course, rule);
    }

    static IEnumerable<string> SentBack(Course course, SentBack sent)
    {
        if (string.IsNullOrWhiteSpace(sent.Reason))
            yield return Said.In("Write the reason.");
        if (sent.Steps.Count == 0)
            yield return Said.In("Name the steps to be done again.");
        foreach (var step in sent.Steps)
            if (course.Table.Find(step) is null || !course[step].IsDone)
                yield return Said.In($"{step} is not a step that was done.");
        if (sent.Steps.Any(s => course.Table.Find(s) is { Phase: Phase.Ready, Register: not null }))
            foreach (
                var reason in Interlocks.NothingRaised(course, Said.In("a baseline read now would hold the raise"))
            )
                yield return reason;
    }

    static IEnumerable<string> Blank(string text, string ask) => string.IsNullOrWhiteSpace(text) ? [ask] : [];
}
