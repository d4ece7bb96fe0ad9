using Handwheel.Jobs.Readings;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>First piece: measured, corrected at the control, the next piece measured again.</summary>
static class Measuring
{
    public static void Take(Course course, Entry entry, StepRule rule, StepAct act)
    {
        if (act is FirstPieceMeasured measured)
            Measure(course, entry, rule, measured);
        else if (act is CorrectionEntered correction)
            Correct(course, entry, rule, correction);
    }

    public static Correction Advice(Course course, StepRule rule, Length measured)
    {
        var characteristic = course.Plan.Characteristics[rule.Characteristic!.Value];
        var tool = course.Plan.Tools.FirstOrDefault(t => t.Tool == characteristic.Tool);
        var correction = Correction.For(
            characteristic,
            measured,
            course.Units,
            course.Plan.LeastIncrement,
            tool?.LengthOffset is { } h ? (Correction.H(h), Value(course, new(Correction.H(h), "length"))) : null,
            tool?.DiameterOffset is { } d ? (Correction.D(d), Value(course, new(Correction.D(d), "diameter"))) : null,
            course.Plan.DiameterRegisterIsRadius,
            tool?.Compensated,
            tool?.Kind ?? "",
            tool?.WorkOffsets,
            Position(course, characteristic)
        );
        return
            Correction.TooMuch(
                measured - characteristic.Nominal,
                course.Plan.Rules.CorrectionLimitIn(course.Units),
                course.Units
            )
                is { } loud
            ? correction with
            {
                Words = loud + correction.Words,
            }
            : correction;
    }

    static (string Name, Length? Value)? Position(Course course, Characteristic characteristic)
    {
        if (characteristic is not { WorkOffset.Length: > 0, Axis.Length: > 0 })
            return null;
        var register = new Register(characteristic.WorkOffset, characteristic.Axis);
        return ($"{register.Name} {register.Axis}", Value(course, register));
    }

    /// <summary>What the register should show after the correction that was worked out; null: nothing was, for this register.</summary>
    public static Length? WorkedOut(Course course, StepRule rule, Register register) =>
        course[rule.Id].Value is { } measured
        && Advice(course, rule, measured) is { Change: { } change } advice
        && advice.IsFor(register)
            ? Value(course, register) + change
            : null;

    /// <summary>The register that the correction was worked out for, where it is another than <paramref name="register"/>.</summary>
    public static string? OtherThanWorkedOut(Course course, StepRule rule, Register register) =>
        course[rule.Id].Value is { } measured
        && Advice(course, rule, measured) is { Register: { } advised } advice
        && !advice.IsFor(register)
            ? advised
            : null;

    public static bool IsAsWorkedOut(Course course, Length value, Length? workedOut) =>
        workedOut is not { } wanted
        || Length.Abs(value - wanted).Nanometres * 2 <= course.Plan.LeastIncrement.Nanometres;

    /// <summary>The register that a correction names: <c>H4</c>, <c>H4 wear</c>, <c>D4</c>, <c>D4 wear</c>, <c>G55 x</c>.</summary>
    public static Register? Named(ProveOutPlan plan, string text)
    {
        var parts = text.Split(' ');
        var (name, axis) = (parts[0], parts.Length > 1 ? parts[1].ToLowerInvariant() : "");
        if (parts.Length > 2 || name.Length < 2)
            return null;
        if (plan.Tools.Any(t => t.LengthOffset is { } h && Correction.H(h) == name))
            return axis is "" ? new(name, "length")
                : axis is "wear" or "length" ? new(name, axis)
                : null;
        if (plan.Tools.Any(t => t.DiameterOffset is { } d && Correction.D(d) == name))
            return axis is "" ? new(name, "diameter")
                : axis is "wear" or "diameter" ? new(name, axis)
                : null;
        return plan.Registers.Any(r => r.Register == new Register(name, axis) && name != "shift")
            ? new(name, axis)
            : null;
    }

    public static Length? Value(Course course, Register register)
    {
        if (Expected.Baseline(course, register) is { } baseline)
            return baseline;
        if (!register.Name.StartsWith('D'))
            return Expected.Setup(course.Plan, register);
        var tool = course.Plan.Tools.FirstOrDefault(t => t.DiameterOffset is { } d && Correction.D(d) == register.Name);
        return register.Axis == "wear" ? Length.Zero : tool?.DiameterValue;
    }

    static void Measure(Course course, Entry entry, StepRule rule, FirstPieceMeasured act)
    {
        if (!TypedNumber.TryRead(act.Typed, course.Units.ExactDecimals(), out var number, out _))
            return;
        var value = number.In(course.Units);
        var characteristic = course.Plan.Characteristics[rule.Characteristic!.Value];
        var inside = IsIn(characteristic, value);
        var before = course[rule.Id];
        var advice = inside ? null : Advice(course, rule, value);
        course.FirstPiece.Add(new(entry.Number, characteristic, course.Units, inside, advice?.Words, advice?.To, null));
        course[rule.Id] = before with
        {
            State = inside ? StepState.Done : StepState.Refused,
            Typed = act.Typed,
            Value = value,
            Attempts = before.Attempts + 1,
            By = Effects.DoerOf(entry),
            Person = entry.By.Person,
            Changed = Effects.DoerOf(entry),
            CorrectionAgain = null,
            Says = advice is null ? null : Said.In("Out: ") + advice.Words,
        };
        if (inside)
            course.Doers.Add(entry.By.Person);
    }

    public static bool IsIn(Characteristic characteristic, Length value) =>
        value <= characteristic.Nominal + characteristic.Plus && value >= characteristic.Nominal - characteristic.Minus;

    static void Correct(Course course, Entry entry, StepRule rule, CorrectionEntered act)
    {
        var register = Named(course.Plan, act.Register);
        if (
            register is not { } named
            || !TypedNumber.TryReadLength(act.Typed, course.Units, course.Plan.LeastIncrement, out var number, out _)
        )
            return;
        var value = number.In(course.Units);
        var by = Effects.DoerOf(entry);
        var old = Value(course, named);
        var advice = course[rule.Id].Value is { } measured ? Advice(course, rule, measured) : null;
        course.Corrections.Add(new(entry.Number, rule.Name, advice, act.Register, act.Typed, act.Why));
        var workedOut = WorkedOut(course, rule, named);
        var asWorkedOut = IsAsWorkedOut(course, value, workedOut) && OtherThanWorkedOut(course, rule, named) is null;
        course.FirstPiece.Add(
            new(
                entry.Number,
                course.Plan.Characteristics[rule.Characteristic!.Value],
                course.Units,
                null,
                null,
                workedOut,
                asWorkedOut && workedOut is null ? null : asWorkedOut
            )
        );
        if (!asWorkedOut && workedOut is not null && course[rule.Id].CorrectionAgain != named)
        {
            ReadAgain(course, entry, rule, act, named, value);
            return;
        }
        course.Baselines[named] = value;
        course.ShouldBe[named] = value;
        course.BaselineReadAt[named] = entry.Number;
        ReadingEffects.Ledger(course, ReadingEffects.Reading(course, entry, named, value, act.Typed, value), null, by);
        var why = asWorkedOut
            ? Said.In($"{named} was corrected: measure the next piece")
            : Said.In(
                $"{named} was set to {course.Text(value)}, and that is not what was worked out"
                    + $"{(workedOut is { } wanted ? ", " + course.Text(wanted) : "")} ({act.Why}): measure the next piece"
            );
        var small = old is { } from && Length.Abs(value - from) <= course.Plan.Rules.CorrectionLimitIn(course.Units);
        if (!small && !named.Name.StartsWith('D'))
            foreach (var ground in ReadingEffects.GroundsOf(course, named))
                Reopening.Ground(course, ground, Said.In($"{named} was changed by more than a correction"), by, null);
        foreach (var again in Resting(course, rule, named))
            Reopening.Step(course, again, why, by);
    }

    /// <summary>Not what was worked out: kept without moving the baseline, until the register was read a second time.</summary>
    static void ReadAgain(
        Course course,
        Entry entry,
        StepRule rule,
        CorrectionEntered act,
        Register register,
        Length value
    )
    {
        course.Ledger = course.Ledger.With(
            ReadingEffects.ToBeReadAgain(ReadingEffects.Reading(course, entry, register, value, act.Typed, null))
        );
        course[rule.Id] = course[rule.Id] with
        {
            CorrectionAgain = register,
            Changed = Effects.DoerOf(entry),
            Says = Said.In(
                $"{course[rule.Id].Says} {register} is not what was worked out: read the register again and type what it shows. If it is meant so, write why."
            ),
        };
    }

    /// <summary>The measuring that the corrected register may have changed.</summary>
    static IEnumerable<string> Resting(Course course, StepRule rule, Register register) =>
        course
            .Table.Of(Phase.FirstPiece)
            .Where(r =>
                r.Id == rule.Id
                || (
                    r.Characteristic is { } i
                    && Uses(course.Plan, course.Plan.Characteristics[i], register)
                    && course[r.Id].State != StepState.Open
                )
            )
            .Select(r => r.Id);

    static bool Uses(ProveOutPlan plan, Characteristic characteristic, Register register) =>
        register.Name[0] is not ('H' or 'D')
            ? characteristic.WorkOffset.Length == 0 || characteristic.WorkOffset == register.Name
            : characteristic.Tool is null
                || plan.Tools.Any(t =>
                    t.Tool == characteristic.Tool
                    && (
                        (t.LengthOffset is { } h && Correction.H(h) == register.Name)
                        || (t.DiameterOffset is { } d && Correction.D(d) == register.Name)
                    )
                );
}
