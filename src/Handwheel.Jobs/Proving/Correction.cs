using System.Globalization;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// What to type into which register, worked out from a measured characteristic. The tool never applies it.
/// </summary>
/// <param name="Register">For example <c>D4</c>; null: no register can be named.</param>
/// <param name="Change">What to add to it, with its sign.</param>
/// <param name="From">What it holds; null: not known.</param>
/// <param name="Words">The whole advice.</param>
public sealed record Correction(string? Register, Length? Change, Length? From, string Words)
{
    public Length? To => From + Change;

    /// <summary>
    /// Common practice: more to remove means a smaller compensation register. A size on both sides takes the whole error in a
    /// diameter register and half of it in a radius register; a single wall takes the whole error in a radius register and
    /// twice the error in a diameter register; a depth takes the whole error in the length register.
    /// </summary>
    /// <param name="lengthRegister">For example <c>H4</c>, and its value.</param>
    /// <param name="diameterRegister">For example <c>D4</c>, and its value.</param>
    public static Correction For(
        Characteristic characteristic,
        Length measured,
        Units units,
        Length leastIncrement,
        (string Name, Length? Value)? lengthRegister,
        (string Name, Length? Value)? diameterRegister,
        bool registerIsRadius
    )
    {
        var error = measured - characteristic.Nominal;
        var size = $"{measured.ToRegisterText(units)} measured, {characteristic.Nominal.ToRegisterText(units)} wanted";
        switch (characteristic.Kind)
        {
            case CharacteristicKind.Depth when lengthRegister is { } length:
                return Of(length, error, "length", size, units);
            case CharacteristicKind.Position:
                return new(
                    null,
                    null,
                    null,
                    $"{size}: a position is corrected in the work offset, by {Length.Abs(error).ToRegisterText(units)} along the axis and towards the side that the drawing shows."
                );
            case CharacteristicKind.Diameter or CharacteristicKind.Width or CharacteristicKind.Wall:
                if (characteristic.Side is not { } side)
                    return new(
                        null,
                        null,
                        null,
                        $"{size}: whether it is inside or outside is not given, so the sign of the correction is not known."
                    );
                if (diameterRegister is not { } register)
                    break;
                var toRegister = side == Side.Inside ? error : -error;
                var change =
                    characteristic.Kind == CharacteristicKind.Wall
                        ? (registerIsRadius ? toRegister : toRegister * 2)
                        : (registerIsRadius ? Half(toRegister, leastIncrement) : toRegister);
                return Of(register, change, registerIsRadius ? "radius" : "diameter", size, units);
        }
        return new(
            null,
            null,
            null,
            $"{size}: which register corrects it is not known; see the setup and the drawing."
        );
    }

    static Correction Of((string Name, Length? Value) register, Length change, string kind, string size, Units units)
    {
        var less = change < Length.Zero ? "less" : "more";
        var amount = Length.Abs(change).ToRegisterText(units);
        var words = register.Value is { } from
            ? $"{size}: {register.Name} ({kind} register) from {from.ToRegisterText(units)} to {(from + change).ToRegisterText(units)}, {amount} {less}."
            : $"{size}: {register.Name} ({kind} register) {amount} {less} than it holds.";
        return new(
            register.Name,
            change,
            register.Value,
            words + " Type it, read it back, and measure the next piece."
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
