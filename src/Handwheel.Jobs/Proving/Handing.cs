namespace Handwheel.Jobs.Proving;

/// <summary>Handoffs and interruptions: the registers are read back before the next step.</summary>
static class Handing
{
    public static void Take(Course course, Entry entry)
    {
        switch (entry.Act)
        {
            case HandedOver act:
                course.Standing = Standing.HandoffOpen;
                course.Handoff = new(entry.By, entry.At, act.Headings, null);
                Ask(course);
                break;
            case TakingOverAlone:
                course.Standing = Standing.HandoffOpen;
                course.Handoff = new(
                    null,
                    entry.At,
                    course.Handoff?.Words ?? new Dictionary<string, string>(),
                    entry.By
                );
                Ask(course);
                break;
            case HandoffWithdrawn:
                Close(course);
                if (!course.InterruptionOpen)
                    Clear(course);
                break;
            case TookOver:
                Close(course);
                CloseReadBack(course);
                break;
            case Interrupted:
                course.InterruptionOpen = true;
                Ask(course);
                foreach (var rule in AnyTimeSteps.AfterInterruption())
                    AskAgain(course, rule);
                break;
        }
    }

    /// <summary>After an interruption the read-back ends with its last step; in a handoff with the signature.</summary>
    public static void CloseReadBack(Course course)
    {
        if (course.Handoff is null && course.ReadBackOpen && course.ReadBack.Keys.All(id => course[id].IsRead))
        {
            Clear(course);
            course.InterruptionOpen = false;
        }
    }

    public static bool RegistersAreRead(Course course) =>
        course.ReadBack.Values.Where(r => r.Register is not null).All(r => course[r.Id].IsRead);

    static void Close(Course course)
    {
        course.Handoff = null;
        course.Standing = Standing.UnderWay;
    }

    static void Ask(Course course)
    {
        foreach (var register in ToReadBack(course))
            AskAgain(course, AnyTimeSteps.ReadBack(register));
    }

    /// <summary>Every register of the program that was read in this prove-out, or of which it is known what it should hold.</summary>
    public static IEnumerable<Register> ToReadBack(Course course) =>
        course.Table.UsedRegisters.Where(register =>
            course.Ledger.Last(register) is { } last
            && (last.ProveOut == course.Plan.Subject.ProveOut || Expected.Baseline(course, register) is not null)
        );

    /// <summary>What was seen to differ stays until somebody writes what was done about it.</summary>
    static void AskAgain(Course course, StepRule rule)
    {
        course.ReadBack[rule.Id] = rule;
        if (course[rule.Id].State != StepState.Held)
            course.Forget([rule.Id]);
    }

    static void Clear(Course course)
    {
        course.Forget(course.ReadBack.Keys.ToList());
        course.ReadBack.Clear();
    }
}
