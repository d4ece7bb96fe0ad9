using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>What is wrong with an act about one step, beside what the step waits for.</summary>
static class StepRefusals
{
    public static IEnumerable<string> For(Course course, StepAct act, StepRule rule, Actor by) =>
        act switch
        {
            Ticked tick when rule.Takes == Takes.TickWithWords && string.IsNullOrWhiteSpace(tick.Saw) =>
            [
                Said.In("Write what was seen or done."),
            ],
            ReadingTyped reading => Reading(course, rule, reading.Typed, by),
            LineTyped { Block: var block } when string.IsNullOrWhiteSpace(block) =>
            [
                Said.In("Type what stands in the block."),
            ],
            LineTyped when course[rule.Id].FileDiffers =>
            [
                Said.In(
                    "A program saved from the control was compared here and is not the checked one: load the checked file and compare the saved one again, or record under \"It differs\" what was done about it."
                ),
            ],
            SavedProgramCompared saved when saved.ComparableSha256.Length != 64 =>
            [
                Said.In("The saved program was not read: choose its file again."),
            ],
            BaselineDecided decided => Decided(course, rule, decided),
            Differs { Saw: var saw } when string.IsNullOrWhiteSpace(saw) => [Said.In("Write what was seen.")],
            DifferenceSettled settled => Settled(course, rule, settled),
            FirstPieceMeasured measured => Measured(course, measured),
            CorrectionEntered correction => Corrected(course, rule, correction),
            DeviationSigned deviation => Deviation(course, rule, deviation),
            Signed signed => Signature(course, rule, signed, by),
            _ => [],
        };

    static IEnumerable<string> Reading(Course course, StepRule rule, string typed, Actor by)
    {
        string? refusal;
        if (rule.Takes == Takes.Percent)
            _ = TypedNumber.TryRead(typed, 1, out _, out refusal);
        else
            _ = TypedNumber.TryReadLength(typed, course.Units, ReadingEffects.Step(course, rule), out _, out refusal);
        if (refusal is not null)
            yield return refusal;
        if (rule.Phase != Phase.ReadBack || course.Handoff is not { } handoff)
            yield break;
        if (handoff.Outgoing?.Person == by.Person)
            yield return Said.In("The incoming person reads the registers back, not the one who hands over.");
        if (handoff.Incoming is { } incoming && incoming.Person != by.Person)
            yield return Said.In($"{incoming.Name} is reading the registers back: one person reads all of them.");
    }

    static IEnumerable<string> Decided(Course course, StepRule rule, BaselineDecided decided)
    {
        var record = course[rule.Id];
        if (record.State != StepState.Refused)
        {
            yield return Said.In(
                "There is nothing to decide: read the register first, twice where it is not as expected."
            );
            yield break;
        }
        if (string.IsNullOrWhiteSpace(decided.Why))
            yield return Said.In("Write why.");
        if (!decided.RegisterIsRight || record.Value is not { } value || record.Shown is not { } setup)
            yield break;
        var limit = course.Plan.Rules.CorrectionLimitIn(course.Units);
        if (Length.Abs(value - setup) > limit)
            yield return Said.In(
                $"The register is {course.Text(Length.Abs(value - setup))} from the setup, and the check was made with the setup's value. "
                    + $"More than {course.Text(limit)} is not carried along: put the value into the setup and check again."
            );
    }

    static IEnumerable<string> Settled(Course course, StepRule rule, DifferenceSettled settled)
    {
        if (course[rule.Id].State != StepState.Held)
            yield return Said.In("Nothing differs here.");
        if (string.IsNullOrWhiteSpace(settled.Done))
            yield return Said.In("Write what was done about it.");
    }

    static IEnumerable<string> Measured(Course course, FirstPieceMeasured measured)
    {
        if (!TypedNumber.TryRead(measured.Typed, course.Units.ExactDecimals(), out _, out var refusal))
            yield return refusal;
    }

    static IEnumerable<string> Corrected(Course course, StepRule rule, CorrectionEntered correction)
    {
        if (course[rule.Id].State != StepState.Refused)
            yield return Said.In("Measure first: there is nothing to correct yet.");
        if (Measuring.Named(course.Plan, correction.Register) is null)
            yield return Said.In(
                $"{correction.Register} is not a register of this job: write it as H4, H4 wear, D4, D4 wear or G55 x."
            );
        if (
            !TypedNumber.TryReadLength(
                correction.Typed,
                course.Units,
                course.Plan.LeastIncrement,
                out _,
                out var refusal
            )
        )
            yield return refusal;
        if (NotAsWorkedOut(course, rule, correction) is { } differs)
            yield return differs;
        foreach (var reason in Interlocks.NothingRaised(course, Said.In("a correction made now would hold the raise")))
            yield return reason;
    }

    /// <summary>Another register than was worked out, or read twice as another value: only with words why.</summary>
    static string? NotAsWorkedOut(Course course, StepRule rule, CorrectionEntered correction)
    {
        if (
            !string.IsNullOrWhiteSpace(correction.Why)
            || Measuring.Named(course.Plan, correction.Register) is not { } register
        )
            return null;
        if (Measuring.OtherThanWorkedOut(course, rule, register) is { } advised)
            return Said.In(
                $"The correction was worked out for {advised}, not for {register}: look again which register it is. If it is meant so, write why."
            );
        if (
            course[rule.Id].CorrectionAgain != register
            || !TypedNumber.TryReadLength(
                correction.Typed,
                course.Units,
                course.Plan.LeastIncrement,
                out var number,
                out _
            )
            || Measuring.IsAsWorkedOut(course, number.In(course.Units), Measuring.WorkedOut(course, rule, register))
        )
            return null;
        return Said.In($"{register} is not what was worked out: put it right, or write why it is meant so.");
    }

    static IEnumerable<string> Deviation(Course course, StepRule rule, DeviationSigned deviation)
    {
        if (!rule.CanDeviate)
            yield return Said.In($"\"{rule.Title}\" cannot be left out: no signature takes its place.");
        if (string.IsNullOrWhiteSpace(deviation.Reason))
            yield return Said.In("Write the reason: the record names the step and why it was left.");
        _ = course;
    }

    static IEnumerable<string> Signature(Course course, StepRule rule, Signed signed, Actor by)
    {
        if (signed.As != rule.Signature)
            yield return rule.Signature switch
            {
                SignedAs.Did => Said.In("This step is signed as \"did\"."),
                SignedAs.Witnessed => Said.In("This step is signed as \"witnessed\"."),
                _ => Said.In("This step is signed as \"reviewed\"."),
            };
        if (rule.Id == "restore.witness")
        {
            var readers = course.Table.Of(Phase.Restore).Where(r => r.Register is not null && course[r.Id].IsDone);
            if (readers.Any(r => course[r.Id].Person == by.Person))
                yield return Said.In("The second person is another one than who read the registers.");
        }
        if (rule.Id != "release.signed")
            yield break;
        var open = course
            .Table.Rules.Where(r => r.Phase != Phase.Parking && r.Id != rule.Id && !course.IsDone(r.Id))
            .ToList();
        if (open.Count > 0)
            yield return Said.In("Open still, and no deviation signed: ") + Refusals.Some(open.Select(Refusals.Named));
        foreach (var hazard in course.Ledger.Hazards.Where(h => course.Table.UsedRegisters.Contains(h.Register)))
            yield return Said.In($"{hazard.Text}: put it back and read it.");
        if (course.Plan.Rules.ReleaseByAnotherPerson && course.Doers.Contains(by.Person))
            yield return Said.In("Here the one who releases has done none of the steps: another supervisor signs.");
    }
}
