using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>Why an act is refused, in words a person can act on. The only place that refuses.</summary>
static class Refusals
{
    public static IReadOnlyList<string> For(Course course, Act act, Actor by)
    {
        List<string> standing = [.. Standing(course, act)];
        if (standing.Count > 0)
            return standing;
        var reasons = new List<string>();
        var photographed = act is PhotoAdded { Step: { } at } ? course.Find(at) : null;
        if (WhoMay.Refusal(act, by, photographed) is { } role)
            reasons.Add(role);
        reasons.AddRange(act is StepAct step ? OfStep(course, step, by) : OfWhole(course, act, by));
        return reasons.Distinct(StringComparer.Ordinal).ToList();
    }

    /// <summary>What a step waits for, whoever does it.</summary>
    public static IEnumerable<string> Blocks(Course course, StepRule rule)
    {
        if (course.Standing == Proving.Standing.NotBegun)
            yield return Said.In("The prove-out has not begun.");
        if (course.HasEnded)
            yield return Ended(course);
        if (course.Standing == Proving.Standing.HandoffOpen && rule.Phase != Phase.ReadBack)
            yield return Said.In("The handoff is open: the incoming person reads the registers back and signs first.");
        else if (course.ReadBackOpen && rule.Phase is not (Phase.ReadBack or Phase.Parking))
            yield return Said.In("The registers are to be read back first: ")
                + Some(course.ReadBack.Values.Where(r => !course[r.Id].IsRead).Select(r => r.Title));
        var missing = Before(course, rule);
        if (missing.Count > 0)
            yield return Said.In("First: ") + Some(missing.Select(id => Named(course.Table.Find(id)!)));
        foreach (var reason in Interlocks.For(course, rule))
            yield return reason;
        if (rule.Phase == Phase.Parking && rule.Register is null)
            foreach (var hazard in course.Ledger.Hazards.Where(h => h.Raised))
                yield return Said.In($"Raised registers first: {hazard.Text}. Put it back and read it.");
    }

    /// <summary>Steps that must be done before this one and are not.</summary>
    public static IReadOnlyList<string> Before(Course course, StepRule rule) =>
        [.. rule.After.Where(id => !course.IsDone(id))];

    static IEnumerable<string> Standing(Course course, Act act)
    {
        switch (course.Standing)
        {
            case Proving.Standing.NotBegun when act is not (Begun or Abandoned):
                yield return Said.In("The prove-out has not begun.");
                break;
            case Proving.Standing.Released or Proving.Standing.Abandoned when !AfterTheEnd(course, act):
                yield return Ended(course) + Said.In(" Only a note that corrects an older entry can be added.");
                break;
            case Proving.Standing.HandoffOpen when !DuringHandoff(course, act):
                yield return course.Handoff!.Outgoing is { } outgoing
                    ? Said.In(
                        $"{outgoing.Name} is handing over: the incoming person reads the registers back and signs first."
                    )
                    : Said.In(
                        $"{course.Handoff.Incoming!.Name} is taking over: the registers are read back and signed for first."
                    );
                break;
        }
    }

    /// <summary>What is locked out is the machine's and outlives the prove-out: it is signed for where it was written.</summary>
    static bool AfterTheEnd(Course course, Act act) =>
        act is Note { Corrects: not null } || (act is LockoutLifted && course.LockedOut is not null);

    static bool DuringHandoff(Course course, Act act) =>
        act
            is TookOver
                or HandoffWithdrawn
                or TakingOverAlone
                or LockoutLifted
                or Note
                or PhotoAdded
                or Interrupted
                or Abandoned
        || (act is StepAct step && course.ReadBack.ContainsKey(step.Step));

    static string Ended(Course course) =>
        course.Standing == Proving.Standing.Released
            ? Said.In($"The job was released at {course.Clock(course.LastChange!.At)} by {course.LastChange.By.Name}.")
            : Said.In(
                $"The prove-out was abandoned at {course.Clock(course.LastChange!.At)} by {course.LastChange.By.Name}."
            );

    static List<string> OfStep(Course course, StepAct act, Actor by)
    {
        if (course.Find(act.Step) is not { } rule)
            return [Said.In($"There is no step {act.Step} here now: load the page again.")];
        var reasons = new List<string>();
        var record = course[rule.Id];
        if (!Fits(rule, act))
            return [Said.In($"\"{rule.Title}\" does not take that.")];
        if (record.IsRead)
            return [AlreadyDone(course, record)];
        if (record.State == StepState.Held && act is not (DifferenceSettled or DeviationSigned))
            reasons.Add(Said.In($"It is held: {record.Says}. Write first what was done about it."));
        if (act is not DifferenceSettled)
            reasons.AddRange(Blocks(course, rule));
        reasons.AddRange(StepRefusals.For(course, act, rule, by));
        return reasons;
    }

    static string AlreadyDone(Course course, StepRecord record) =>
        record.By is { } by
            ? Said.In($"{by.Name} already did this at {course.Clock(by.At)}.")
            : Said.In("This is done already.");

    static bool Fits(StepRule rule, StepAct act) =>
        act switch
        {
            Ticked => rule.Takes is Takes.Tick or Takes.TickWithWords or Takes.AgreesOrDiffers,
            FindingsSeen => rule.Takes == Takes.Seen,
            ReadingTyped => rule.IsReading,
            LineTyped => rule.Takes == Takes.ProgramLine,
            SavedProgramCompared => rule.Takes == Takes.ProgramLine || rule.Id == "release.edits",
            BaselineDecided => rule is { Phase: Phase.Ready, Register: not null },
            // a register that is put back is read: the reading says what differs, and the step goes when it is right
            Differs => rule.Expects != Expects.LedgerBaseline
                && rule.Takes
                    is not (
                        Takes.Nothing
                        or Takes.Signature
                        or Takes.SupervisorsReason
                        or Takes.OtherWay
                        or Takes.Photo
                    ),
            DifferenceSettled => true,
            FirstPieceMeasured or CorrectionEntered => rule.Takes == Takes.Measurement,
            Signed => rule.Takes == Takes.Signature,
            DeviationSigned => true,
            _ => false,
        };

    static IEnumerable<string> OfWhole(Course course, Act act, Actor by)
    {
        switch (act)
        {
            case Begun begun:
                return Beginning(course, begun);
            case Note or PhotoAdded or Abandoned or Interrupted or ParkingBegun:
                return Words(course, act);
            case HandedOver or HandoffWithdrawn or TakingOverAlone or TookOver or LockoutLifted:
                return HandoffRefusals.For(course, act, by);
            default:
                return ChangeRefusals.For(course, act, by);
        }
    }

    static IEnumerable<string> Beginning(Course course, Begun begun)
    {
        if (course.Standing != Proving.Standing.NotBegun)
            yield return Said.In("The prove-out has begun already.");
        if (begun.Plan != course.Plan.Digest)
            yield return Said.In("Program or setup are not those of this prove-out: load the page again.");
        foreach (var hazard in course.Ledger.Hazards)
            yield return Said.In(
                $"{hazard.Text}, last read at {course.Clock(hazard.LastRead.At)} by {hazard.LastRead.By.Name}: put it back and read it, or a supervisor signs that it was rewritten for another job."
            );
    }

    static IEnumerable<string> Words(Course course, Act act)
    {
        switch (act)
        {
            case Note { Text: var text, Corrects: var corrects, Step: var step }:
                if (string.IsNullOrWhiteSpace(text))
                    yield return Said.In("Write what is to be noted.");
                if (corrects is { } number && (number < 1 || number > (course.LastEntry?.Number ?? 0)))
                    yield return Said.In(
                        $"There is no entry {number.ToString(System.Globalization.CultureInfo.InvariantCulture)} to correct."
                    );
                if (step is not null && course.Find(step) is null)
                    yield return Said.In($"There is no step {step}.");
                break;
            case PhotoAdded { Step: { } at } when course.Find(at) is null:
                yield return Said.In($"There is no step {at}.");
                break;
            case PhotoAdded { Step: { } at } when course.Find(at) is { Takes: Takes.Photo } photo && !course[at].IsDone:
                foreach (var reason in Blocks(course, photo))
                    yield return reason;
                break;
            case Abandoned { Reason: var reason } when string.IsNullOrWhiteSpace(reason):
                yield return Said.In("Write why it is abandoned.");
                break;
            case Interrupted { What: var what } when string.IsNullOrWhiteSpace(what):
                yield return Said.In("Write what happened: breakage, alarm, emergency stop, power loss.");
                break;
        }
    }

    public static string Named(StepRule rule) => rule.Tool is null ? rule.Title : $"{rule.Card}, {rule.Title}";

    public static string Some(IEnumerable<string> titles)
    {
        var all = titles.ToList();
        var more = all.Count - 3;
        var some = string.Join("; ", all.Take(3));
        return more > 0
            ? Said.In($"{some}; and {more.ToString(System.Globalization.CultureInfo.InvariantCulture)} more")
            : some;
    }
}
