using System.Globalization;

namespace Handwheel.Jobs.Readings;

readonly record struct Slip(string Cause, string Message, string Remedy);

/// <summary>What is said about a reading, with its numbers as the control shows them.</summary>
sealed class ReadingWords(ReadingQuestion question, decimal? change)
{
    readonly int decimals = Math.Max(
        TypedNumber.Decimals(question.Increment),
        Math.Max(TypedNumber.Decimals(question.Expected), TypedNumber.Decimals(question.Read))
    );

    public decimal? Change => change;

    /// <summary>What the register held before: as given, or the expected value less the change.</summary>
    public decimal? Before => question.Baseline ?? question.Expected - change;

    bool Restoring => change < 0;

    string Expected => Register(question.Expected);
    string Read => Register(question.Read);

    /// <summary>The raise without its sign.</summary>
    string Amount => Register(Math.Abs(change ?? 0));

    /// <summary>What should have been done, as an order: <c>add 3.0000 to</c>.</summary>
    string Order => Restoring ? Said.In($"take {Amount} away from") : Said.In($"add {Amount} to");

    public string Register(decimal value) =>
        decimal.Round(value, decimals, MidpointRounding.AwayFromZero)
            .ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    public string Right => Said.In($"{Read} is right: {Expected} was expected.");

    string SetTo =>
        Said.In(
            $"Keep the axes still. Look again at which register and which axis it is, set it to {Expected}, and read it back."
        );

    public Slip Unchanged(decimal before) =>
        change switch
        {
            < 0 => new(
                "unchanged",
                Said.In(
                    $"The register still holds the raise: it reads {Read}, {Amount} above the {Expected} that it should be back at."
                ),
                Said.In(
                    $"Do not cut yet: {Order} the Z of this register so that it reads {Expected}, and read it back."
                )
            ),
            > 0 => new(
                "unchanged",
                Said.In(
                    $"The register has not been raised: it still reads {Register(before)}, {Amount} below the {Expected} that was expected."
                ),
                Said.In(
                    $"Do not start the air cut: {Order} the Z of this register so that it reads {Expected}, and read it back."
                )
            ),
            _ => new("unchanged", Said.In($"The register still reads {Read}; {Expected} was expected."), SetTo),
        };

    public Slip OppositeSign(decimal before, decimal change) =>
        new(
            "opposite-sign",
            Restoring
                ? Said.In(
                    $"The raise of {Amount} was added once more instead of taken away: {Register(before)} became {Read}, "
                        + $"{Register(Math.Abs(question.Read - question.Expected))} above the {Expected} that was expected."
                )
                : Said.In(
                    $"The raise went the wrong way: {Register(before)} less {Amount} is {Read}. The tool would go "
                        + $"{Register(Math.Abs(2 * change))} lower than the raised {Expected}, and {Amount} lower than in the real run."
                ),
            Said.In(
                $"Do not press cycle start. Set the Z of this register to {Expected}, look at the sign, and read it back."
            )
        );

    public Slip AppliedTwice(decimal before, decimal change) =>
        new(
            "applied-twice",
            Restoring
                ? Said.In(
                    $"The raise of {Amount} was taken away twice: {Register(before)} less twice {Amount} is {Read}. The tool would "
                        + $"go {Amount} too deep."
                )
                : Said.In(
                    $"The raise of {Amount} was added twice: {Register(before)} and twice {Amount} is {Read}, {Amount} above the "
                        + $"{Expected} that was expected."
                ),
            Said.In(
                $"Do not press cycle start. Set the Z of this register to {Expected}, and read it back; ask who else has changed it."
            )
        );

    public Slip TypedAsValue(decimal change) =>
        new(
            "typed-as-value",
            Said.In(
                $"The raise itself was typed as the new value: the register reads {Read}, where {Amount} should have been "
                    + $"{(Restoring ? Said.In("taken away from") : Said.In("added to"))} what stood there, to give {Expected}."
            ),
            Said.In(
                $"Do not press cycle start. Type the whole value {Expected} into the Z of this register, and read it back."
            )
        );

    public Slip DecimalSlip(decimal factor, bool changed)
    {
        var times = factor.ToString(CultureInfo.InvariantCulture);
        return new(
            "decimal-slip",
            changed
                ? Said.In(
                    $"The point slipped: the register was changed by {Register(question.Read - Before!.Value)}, {times} times the "
                        + $"{Register(change!.Value)} that was meant, and reads {Read} in place of {Expected}."
                )
                : Said.In($"The point slipped: {Read} is {times} times the {Expected} that was expected."),
            Said.In(
                $"Keep the axes still. Set the register to {Expected}, count the digits behind the point, and read it back."
            )
        );
    }

    public Slip UnitSlip(decimal factor, bool changed)
    {
        var typed =
            factor > 1
                ? Said.In("millimetres where inches were meant")
                : Said.In("inches where millimetres were meant");
        return new(
            "unit-slip",
            changed
                ? Said.In(
                    $"The amount was in the wrong unit ({typed}): the register was changed by "
                        + $"{Register(question.Read - Before!.Value)} in place of {Register(change!.Value)}, and reads {Read} in place of {Expected}."
                )
                : Said.In(
                    $"The value is in the wrong unit ({typed}): {Read} was read, {Expected} was expected, and one is 25.4 times the other."
                ),
            Said.In(
                $"Keep the axes still. See which unit the control shows, set the register to {Expected}, and read it back."
            )
        );
    }

    public Slip SignLost() =>
        new(
            "sign-lost",
            Said.In($"The sign is turned: {Read} was read, {Expected} was expected."),
            Said.In($"Read the display again. If it shows {Read}, set the register to {Expected}, and read it back.")
        );

    public Slip DigitsSwapped() =>
        new(
            "digits-swapped",
            Said.In($"Two neighbouring digits are exchanged: {Read} was read, {Expected} was expected."),
            Said.In(
                $"Read the display again. If it shows {Read}, set the register to {Expected}, and read it back digit by digit."
            )
        );

    public Slip OtherRegister(IReadOnlyList<string> names) =>
        new(
            "other-register",
            Said.In($"{Read} is the value of {string.Join(Said.In(" and "), names)}; {Expected} was expected here."),
            Said.In(
                "Look at the register's name and axis on the display: read the right one. If a value was typed into the wrong register, put both back before anything moves."
            )
        );

    public Slip Unknown(decimal difference) =>
        new(
            "unknown",
            Said.In(
                $"{Read} was read, {Expected} was expected: {Register(Math.Abs(difference))} {(difference > 0 ? Said.In("more") : Said.In("less"))}. No usual slip explains it."
            ),
            Said.In(
                $"Keep the axes still. Find out who changed this register and why before anything moves; it should read {Expected}."
            )
        );
}
