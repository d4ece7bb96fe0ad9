using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// The interlocks that rest on the ledger. They are not editable and no signature opens them. Reasons never hold a
/// register's expected value.
/// </summary>
static class Interlocks
{
    public static IEnumerable<string> For(Course course, StepRule rule)
    {
        if (rule.Takes == Takes.Photo && course.Table.Find(rule.After[0]) is { } photographed)
            return For(course, photographed);
        if (
            rule.Expects is Expects.Baseline or Expects.Raised
            && rule.Register is { } register
            && Expected.Baseline(course, register) is null
        )
            return [Said.In($"{register} has no baseline in this prove-out: read it under ready first.")];
        if (rule is { Phase: Phase.Ready, Register: not null })
            return NothingRaised(course, Said.In("a length or a baseline read now would hold the raise"));
        if (rule.Phase == Phase.FirstCut || rule.Id.EndsWith(".handwheel", StringComparison.Ordinal))
            return AllAtBaseline(course);
        if (rule.Phase == Phase.AirCut && (rule.Tool is not null || rule.Id == "air-cut.ran"))
            return AllRaised(course);
        return [];
    }

    /// <summary>While raised, no tool is measured and no baseline read.</summary>
    public static IEnumerable<string> NothingRaised(Course course, string because)
    {
        foreach (var register in course.Table.RaisedRegisters.Append(new("common", "z")))
        {
            if (course.Ledger.Last(register) is not { } last)
                continue;
            var off = Expected.Baseline(course, register) is { } baseline
                ? last.Value != baseline || Unsettled(course, register, last)
                : course.Ledger.HazardOf(register) is { Raised: true };
            if (off)
                yield return Said.In(
                    $"{register} was last read off its baseline ({Read(course, last)}): {because}. Put it back and read it first."
                );
        }
    }

    /// <summary>Before the first cut every register that the program uses was last read as its baseline.</summary>
    static IEnumerable<string> AllAtBaseline(Course course)
    {
        foreach (var register in course.Table.UsedRegisters)
        {
            var last = course.Ledger.Last(register);
            if (Expected.Baseline(course, register) is not { } baseline || last is null)
                yield return Said.In($"{register} has not been read and accepted: read it first.");
            else if (last.Value != baseline || Unsettled(course, register, last))
                yield return course.Ledger.HazardOf(register) is { Raised: true }
                    ? Said.In(
                        $"{register} was raised and has not been read put back ({Read(course, last)}): put it back and read it first."
                    )
                    : Said.In(
                        $"{register} was last read off its baseline ({Read(course, last)}): put it right and read it first."
                    );
        }
    }

    /// <summary>In the air every Z in use holds the raise, read after its baseline, and everything else its baseline.</summary>
    static IEnumerable<string> AllRaised(Course course)
    {
        var raisedRegisters = course.Table.RaisedRegisters.ToHashSet();
        foreach (var register in course.Plan.Registers.Select(r => r.Register))
        {
            var last = course.Ledger.Last(register);
            var baseline = Expected.Baseline(course, register);
            if (last is null || baseline is null)
                yield return Said.In($"{register} has not been read and accepted: read it first.");
            else if (!raisedRegisters.Contains(register))
            {
                if (last.Value != baseline || Unsettled(course, register, last))
                    yield return Said.In(
                        $"{register} was last read off its baseline ({Read(course, last)}): put it right and read it first."
                    );
            }
            else if (last.Value != baseline + course.Raise)
                yield return Said.In(
                    $"{register} was not last read with the raise in it ({Read(course, last)}): raise it by {course.Text(course.Raise ?? Length.Zero)} and read it first."
                );
            else if (
                course.RaisedReadAt.GetValueOrDefault(register) <= course.BaselineReadAt.GetValueOrDefault(register)
            )
                yield return Said.In(
                    $"{register} has not been read raised since its baseline was read: read it first."
                );
        }
    }

    /// <summary>
    /// Typed once as its baseline while something else was asked for: the hazard from before stands until the second
    /// reading, so the register is not right whatever was typed.
    /// </summary>
    static bool Unsettled(Course course, Register register, LedgerReading last) =>
        last.Expectation.IsReadAgain && course.Ledger.HazardOf(register) is not null;

    static string Read(Course course, LedgerReading reading) => $"{course.Clock(reading.At)}, {reading.By.Name}";
}
