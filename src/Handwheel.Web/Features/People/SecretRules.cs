using System.Text;

namespace Handwheel.Web.Features.People;

/// <summary>What a PIN and a password must be like.</summary>
public static class SecretRules
{
    public const int PinDigits = 6;
    public const int PasswordLeast = 15;
    public const int PasswordMost = 200;

    static readonly HashSet<string> Guessed =
    [
        "112233",
        "121212",
        "123123",
        "123321",
        "111222",
        "159753",
        "147258",
        "258369",
        "101010",
        "696969",
    ];

    /// <summary>Null when <paramref name="pin"/> can be a PIN, else what is wrong with it.</summary>
    public static string? WhyNotPin(string? pin)
    {
        if (pin is null || pin.Length != PinDigits || !pin.All(char.IsAsciiDigit))
            return Said.In($"A PIN is {PinDigits} digits.");
        var steps = pin.Zip(pin.Skip(1), (a, b) => b - a).Distinct().ToList();
        var inARow = steps is [0 or 1 or -1];
        return inARow || Guessed.Contains(pin)
            ? Said.In("That PIN is one of the first that anybody would try. Choose digits without a pattern.")
            : null;
    }

    /// <summary>Null when <paramref name="password"/> can be a password, else what is wrong with it.</summary>
    public static string? WhyNotPassword(string? password)
    {
        var length = password?.EnumerateRunes().Count() ?? 0;
        if (length is < PasswordLeast or > PasswordMost)
            return Said.In(
                $"A password has at least {PasswordLeast} characters; a few words in a row do. This one has {length}."
            );
        return password!.EnumerateRunes().Distinct().Count() < 5
            ? Said.In("That password repeats a few characters. Take a few words in a row.")
            : null;
    }

    /// <summary>Null when <paramref name="name"/> can stand beside a signature.</summary>
    public static string? WhyNotName(string? name)
    {
        var trimmed = name?.Trim() ?? "";
        if (trimmed.Length is 0 or > 60)
            return Said.In("A name has 1 to 60 characters.");
        return trimmed.EnumerateRunes().Any(r => Rune.IsControl(r) || IsInvisible(r))
            ? Said.In("A name is made of characters that can be seen.")
            : null;
    }

    static bool IsInvisible(Rune rune) =>
        Rune.GetUnicodeCategory(rune)
            is System.Globalization.UnicodeCategory.Format
                or System.Globalization.UnicodeCategory.PrivateUse
                or System.Globalization.UnicodeCategory.OtherNotAssigned;
}
