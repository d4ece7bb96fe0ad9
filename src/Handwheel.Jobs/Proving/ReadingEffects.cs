using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>What a typed reading does to its step, to the ledger and to the steps that rest on the register.</summary>
static class ReadingEffects
{
    public static void Take(Course course, Entry entry, StepRule rule, string typed)
    {
        var by = Effects.DoerOf(entry);
        if (rule.Takes == Takes.Percent)
        {
            TakePercent(course, rule, typed, by, entry.By.Person);
            return;
        }
        if (!TypedNumber.TryReadLength(typed, course.Units, Step(course, rule), out var number, out _))
            return;
        var read = number.In(course.Units);
        var expected = Expected.Of(course, rule);
        var before = course[rule.Id];
        var next = before with
        {
            Typed = typed,
            Value = read,
            Attempts = before.Attempts + 1,
            By = by,
            Person = entry.By.Person,
            Changed = by,
        };
        var right = expected is not { } e || Expected.Matches(course, rule, read, e);
        var again = !right && before.Wrong == 0 && before.Shown is null;
        var saying =
            right ? null
            : again && rule.Expects == Expects.TallestThing ? Said.In("Measure again and type it.")
            : again ? Said.In("Read the display again and type it.")
            : Expected.Explain(course, rule, read, expected!.Value);
        var notBlind = rule.Blind && expected is not null && before.Shown == expected;
        course.Tries.Add(new(entry.Number, rule.Id, rule.Name, typed, right, notBlind));
        if (rule.Register is { } register)
        {
            var reading = Reading(course, entry, register, read, typed, expected);
            // What was typed and its distance from the baseline give the baseline away: before the second reading the
            // ledger keeps the value, for the interlocks, and tells no amount.
            Ledger(course, again ? ToBeReadAgain(reading) : reading, rule.Id, by);
        }
        if (right)
            Accept(course, entry, rule, next, read, expected);
        else if (again)
            course[rule.Id] = next with { State = StepState.ReadAgain, Wrong = 1, Says = saying };
        else
            course[rule.Id] = next with
            {
                State = rule.Phase == Phase.ReadBack ? StepState.Hazard : StepState.Refused,
                Wrong = before.Wrong + 1,
                Shown = expected,
                Says = saying,
            };
    }

    /// <summary>A register of the control steps by its least increment; a height is measured with what there is.</summary>
    public static Length Step(Course course, StepRule rule) =>
        rule.Expects == Expects.TallestThing || rule.Id == "ready.table"
            ? Length.FromNanometres(1_000)
            : course.Plan.LeastIncrement;

    /// <summary>The register's value is the baseline: as read and right, or as the setter decided.</summary>
    public static void Baseline(Course course, Entry entry, Register register, Length value, string step)
    {
        var before = Expected.Baseline(course, register);
        course.Baselines[register] = value;
        course.ShouldBe[register] = value;
        course.BaselineReadAt[register] = entry.Number;
        if (before is { } old && old != value)
            foreach (var ground in GroundsOf(course, register))
                Reopening.Ground(
                    course,
                    ground,
                    Said.In($"{register} has another baseline"),
                    Effects.DoerOf(entry),
                    step
                );
    }

    public static IEnumerable<string> GroundsOf(Course course, Register register) =>
        register.Name.StartsWith('H')
            ? course
                .Plan.Tools.Where(t => StepTable.LengthRegisters(course.Plan, t).Contains(register))
                .Select(t => Ground.Tool(t.Key))
            : [Ground.Baseline(register)];

    public static LedgerReading Reading(
        Course course,
        Entry entry,
        Register register,
        Length value,
        string typed,
        Length? asked
    ) =>
        new(
            course.Plan.Subject.Machine,
            register.Name,
            register.Axis,
            value,
            typed,
            course.Units,
            entry.By,
            entry.At,
            course.Plan.Subject.ProveOut,
            entry.Number,
            new(
                Expected.Baseline(course, register)
                    ?? Expected.Setup(course.Plan, register)
                    ?? course.Ledger.Last(register)?.Expectation.Baseline
                    ?? value,
                asked ?? value
            )
        );

    public static LedgerReading ToBeReadAgain(LedgerReading reading) =>
        reading with
        {
            Expectation = reading.Expectation with { Asked = null },
        };

    /// <summary>A reading, from here or from outside, goes into the ledger and opens what it contradicts.</summary>
    public static void Ledger(Course course, LedgerReading reading, string? step, Doer by)
    {
        course.Ledger = course.Ledger.With(reading);
        var register = new Register(reading.Register, reading.Axis);
        if (Expected.Baseline(course, register) is not { } baseline)
            return;
        var why = Said.In(
            $"{register} was read as something else at {course.Clock(reading.At)} by {reading.By.Name}: read it again."
        );
        var restored = $"restore.offset.{register.Name}.{register.Axis}";
        if (step != restored && course[restored].IsDone && reading.Value != baseline)
            Reopening.Step(course, restored, why, by);
    }

    public static string RaiseIsLost(Register register) =>
        Said.In($"{register} does not hold the raise any more, and the air cut is not over");

    /// <summary>While the air cut is not over, a raised reading that no longer holds is asked for again.</summary>
    public static void AskForRaiseAgain(Course course, Doer by)
    {
        if (course.IsDone("air-cut.ran"))
            return;
        foreach (var register in course.Table.RaisedRegisters)
        {
            var raised = $"air-cut.raised.{register.Name}.z";
            if (
                course[raised].IsDone
                && course.Ledger.Last(register)?.Value != Expected.Baseline(course, register) + course.Raise
            )
                Reopening.Step(course, raised, RaiseIsLost(register), by);
        }
    }

    static void Accept(Course course, Entry entry, StepRule rule, StepRecord next, Length read, Length? expected)
    {
        course[rule.Id] = next with
        {
            State = StepState.Done,
            Wrong = 0,
            NotBlind = rule.Blind && expected is not null && course[rule.Id].Shown == expected,
            Says =
                expected is null && rule.Expects != Expects.Nothing
                    ? Said.In("Nothing is known to compare it with: kept as read.")
                    : null,
        };
        course.Doers.Add(entry.By.Person);
        if (rule.Register is not { } register)
            return;
        switch (rule.Expects)
        {
            case Expects.Setup:
                Baseline(course, entry, register, read, rule.Id);
                break;
            case Expects.Raised:
                course.ShouldBe[register] = read;
                course.RaisedReadAt[register] = entry.Number;
                foreach (var restore in course.Table.Of(Phase.Restore).Where(r => course[r.Id].State != StepState.Open))
                    course[restore.Id] = course[restore.Id]
                        .Reopened(Said.In("The offsets were raised again"), Effects.DoerOf(entry));
                break;
            case Expects.Baseline or Expects.LedgerBaseline:
                course.ShouldBe[register] = read;
                break;
        }
        if (rule.Expects == Expects.LedgerBaseline)
            course.Forget([rule.Id]);
    }

    static void TakePercent(Course course, StepRule rule, string typed, Doer by, Guid person)
    {
        if (!TypedNumber.TryRead(typed, 1, out var number, out _))
            return;
        var before = course[rule.Id];
        var right = number.Value >= 0 && number.Value <= rule.AtMost;
        course.Tries.Add(new(by.Entry, rule.Id, rule.Name, typed, right, NotBlind: false));
        course[rule.Id] = before with
        {
            State = right ? StepState.Done : StepState.Refused,
            Typed = typed,
            Attempts = before.Attempts + 1,
            By = by,
            Person = person,
            Changed = by,
            Says = right
                ? null
                : Said.In(
                    $"{typed} % was read; it is to be {Views.Percent(rule.AtMost)} or less: turn it down and read it again."
                ),
        };
        if (right)
            course.Doers.Add(person);
    }
}
