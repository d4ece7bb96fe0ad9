using System.Globalization;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// What to type into which register, worked out from a measured characteristic. The tool never applies it.
/// </summary>
/// <param name="Register">For example <c>D4</c> or <c>G55 x</c>; null: no register can be named.</param>
/// <param name="Change">What to add to it, with its sign.</param>
/// <param name="From">What it holds; null: not known.</param>
/// <param name="Words">The whole advice.</param>
public sealed record Correction(string? Register, Length? Change, Length? From, string Words)
{
    public Length? To => From + Change;

    /// <summary>It was worked out for this register; wear of it included.</summary>
    public bool IsFor(Register register) => Register == register.Name || Register == $"{register.Name} {register.Axis}";

    /// <summary>Said first where the correction is larger than the shop's limit; null: it is not, or there is no amount.</summary>
    public static string? TooMuch(Length error, Length limit, Units units) =>
        Length.Abs(error) > limit
            ? Said.In(
                $"{Length.Abs(error).ToRegisterText(units)} IS MORE THAN THE LIMIT {limit.ToRegisterText(units)}: look for another cause before changing a register. "
            )
            : null;

    /// <summary>
    /// Common practice: more to remove means a smaller compensation register. A size on both sides takes the whole error in a
    /// diameter register and half of it in a radius register; a single wall takes the whole error in a radius register and
    /// twice the error in a diameter register; a depth takes the whole error in the length register.
    /// </summary>
    /// <param name="lengthRegister">For example <c>H4</c>, and its value.</param>
    /// <param name="diameterRegister">For example <c>D4</c>, and its value.</param>
    /// <param name="compensated">The program uses cutter compensation with that register; null: not known.</param>
    /// <param name="workOffsets">The work offsets that the tool cuts in: where a position is corrected; null or empty: not known.</param>
    /// <param name="position">The axis of the work offset that the characteristic names, and its value; null: it names none.</param>
    /// <param name="toolKind">As in the setup: a boring bar is set at its head, a drill or reamer not at all.</param>
    public static Correction For(
        Characteristic characteristic,
        Length measured,
        Units units,
        Length leastIncrement,
        (string Name, Length? Value)? lengthRegister,
        (string Name, Length? Value)? diameterRegister,
        bool registerIsRadius,
        bool? compensated = null,
        string toolKind = "",
        IReadOnlyList<string>? workOffsets = null,
        (string Name, Length? Value)? position = null
    )
    {
        var error = measured - characteristic.Nominal;
        var size = Said.In(
            $"{measured.ToRegisterText(units)} measured, {characteristic.Nominal.ToRegisterText(units)} wanted"
        );
        switch (characteristic.Kind)
        {
            case CharacteristicKind.Depth when lengthRegister is { } length:
                return Depth(Of(length, error, Said.In("length"), size, units), error, length.Name);
            case CharacteristicKind.Position when position is { } zero:
                return Position(Of(zero, -error, Said.In("work offset"), size, units), characteristic.Axis, error);
            case CharacteristicKind.Position:
                return new(
                    null,
                    null,
                    null,
                    Said.In(
                        $"{size}: a position is corrected in the work offset{Named(workOffsets)}, by {Length.Abs(error).ToRegisterText(units)} along the axis and towards the side that the drawing shows."
                    )
                );
            case CharacteristicKind.Diameter or CharacteristicKind.Width or CharacteristicKind.Wall:
                if (characteristic.Side is not { } side)
                    return new(
                        null,
                        null,
                        null,
                        Said.In(
                            $"{size}: whether it is inside or outside is not given, so the sign of the correction is not known."
                        )
                    );
                var toRegister = side == Side.Inside ? error : -error;
                if (AtTheTool(toolKind, toRegister, size, units) is { } atTool)
                    return atTool;
                if (diameterRegister is not { } register)
                    break;
                if (compensated == false)
                    return new(
                        null,
                        null,
                        null,
                        Said.In(
                            $"{size}: the program uses no cutter compensation with {register.Name}, so a value there changes nothing. Set the tool, or have the program changed."
                        )
                    );
                var change =
                    characteristic.Kind == CharacteristicKind.Wall
                        ? (registerIsRadius ? toRegister : toRegister * 2)
                        : (registerIsRadius ? Half(toRegister, leastIncrement) : toRegister);
                return WithCompensation(
                    Of(register, change, registerIsRadius ? Said.In("radius") : Said.In("diameter"), size, units),
                    compensated
                );
        }
        return new(
            null,
            null,
            null,
            Said.In($"{size}: which register corrects it is not known; see the setup and the drawing.")
        );
    }

    static string Named(IReadOnlyList<string>? workOffsets) =>
        workOffsets is { Count: > 0 }
            ? Said.In(" that the tool cuts in, ") + string.Join(Said.In(" or "), workOffsets)
            : "";

    /// <summary>The direction is assumed, so it is said: measured from part zero towards the axis' plus side.</summary>
    static Correction Position(Correction correction, string axis, Length error) =>
        correction with
        {
            Words = Said.In(
                $"{correction.Words} Measured from part zero towards {axis.ToUpperInvariant()}+, the feature lies too far to {axis.ToUpperInvariant()}{(error < Length.Zero ? '−' : '+')}. "
                    + $"A dimension that runs the other way, or from another edge, changes the sign: look at the drawing first. Every feature in this work offset moves with it."
            ),
        };

    /// <summary>The direction is assumed, so it is said: material left at the bottom, with a tool that came down too little.</summary>
    static Correction Depth(Correction correction, Length error, string register) =>
        correction with
        {
            Words = Said.In(
                $"{correction.Words} Measured {(error < Length.Zero ? Said.In("shallower") : Said.In("deeper"))} than wanted: {register} {(error < Length.Zero ? Said.In("smaller") : Said.In("larger"))}. "
                    + $"A height left standing goes the other way: look at the drawing first."
            ),
        };

    /// <summary>More to remove opens a boring head inside; a drill, reamer or tap has the size that it has.</summary>
    static Correction? AtTheTool(string kind, Length toRegister, string size, Units units) =>
        kind.Trim().ToUpperInvariant() switch
        {
            "BORING BAR" => new(
                null,
                null,
                null,
                Said.In(
                    $"{size}: set the boring head {Length.Abs(toRegister).ToRegisterText(units)} {(toRegister < Length.Zero ? Said.In("larger") : Said.In("smaller"))} in diameter, spindle stopped and locked. A register does not change it."
                )
            ),
            "DRILL" or "REAMER" or "TAP" => new(
                null,
                null,
                null,
                Said.In(
                    $"{size}: the size is the tool's own, no register changes it. Look at wear and run-out, or take another tool."
                )
            ),
            _ => null,
        };

    static Correction WithCompensation(Correction correction, bool? compensated) =>
        compensated is not null
            ? correction
            : correction with
            {
                Words = Said.In(
                    $"If the program uses cutter compensation with {correction.Register}: {correction.Words} Otherwise the register changes nothing: set the head or the tool."
                ),
            };

    static Correction Of((string Name, Length? Value) register, Length change, string kind, string size, Units units)
    {
        var less = change < Length.Zero ? Said.In("less") : Said.In("more");
        var amount = Length.Abs(change).ToRegisterText(units);
        var words = register.Value is { } from
            ? Said.In(
                $"{size}: {register.Name} ({kind} register) from {from.ToRegisterText(units)} to {(from + change).ToRegisterText(units)}, {amount} {less}."
            )
            : Said.In($"{size}: {register.Name} ({kind} register) {amount} {less} than it holds.");
        return new(
            register.Name,
            change,
            register.Value,
            words + Said.In(" Type it, read it back, and measure the next piece.")
        );
    }

    /// <summary>Half, to the nearest step of the register, halves away from zero.</summary>
    static Length Half(Length value, Length step)
    {
        var steps = decimal.Round((decimal)value.Nanometres / 2 / step.Nanometres, MidpointRounding.AwayFromZero);
        return Length.FromNanometres((long)(steps * step.Nanometres));
    }

    internal static string H(int number) => "H" + number.ToString(CultureInfo.InvariantCulture);

    internal static string D(int number) => "D" + number.ToString(CultureInfo.InvariantCulture);
}
