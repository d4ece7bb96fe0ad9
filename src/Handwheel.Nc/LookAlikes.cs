using System.Globalization;
using System.Text;

namespace Handwheel.Nc;

/// <summary>Signs that people take for one of the signs that programs are written in, and that no control reads as it.</summary>
public static class LookAlikes
{
    const int FirstFullWidth = 0xFF01;
    const int LastFullWidth = 0xFF5E;
    const int FullWidthFromAscii = 0xFEE0;

    /// <summary>Letters of the Greek and Cyrillic alphabets with the Latin capital that looks the same (Unicode code charts U+0370, U+0400).</summary>
    const string Letters =
        "ΑAΒBΕEΖZΗHΙIΚKΜMΝNΟOΡPΤTΥYΧX" + "АAВBСCЕEНHІIЈJКKМMОOРPЅSТTУYХXѴVԌGԚQԜW" + "аaеeоoрpсcуyхxіiјjѕs";

    /// <summary>The ASCII sign that <paramref name="rune"/> looks like; null: none.</summary>
    public static char? Of(Rune rune)
    {
        if (rune.IsAscii)
            return null;
        if (rune.Value is >= FirstFullWidth and <= LastFullWidth)
            return (char)(rune.Value - FullWidthFromAscii);
        if (CharUnicodeInfo.GetDecimalDigitValue(rune.ToString(), 0) is var digit and >= 0)
            return (char)('0' + digit);
        if (rune.Value is 0x2212 or (>= 0x2010 and <= 0x2015))
            return '-';
        if (Rune.GetUnicodeCategory(rune) == UnicodeCategory.SpaceSeparator)
            return ' ';
        var at = rune.IsBmp ? Letters.IndexOf((char)rune.Value, StringComparison.Ordinal) : -1;
        return at >= 0 && at % 2 == 0 ? Letters[at + 1] : null;
    }

    /// <summary>Code point, and what it looks like: <c>U+041E, which looks like O</c>.</summary>
    public static string Name(Rune rune)
    {
        var code = "U+" + rune.Value.ToString("X4", CultureInfo.InvariantCulture);
        return Of(rune) switch
        {
            null => Rune.GetUnicodeCategory(rune) is UnicodeCategory.Format ? code + ", which cannot be seen" : code,
            ' ' => code + ", which looks like a space",
            '-' => code + ", which looks like a minus sign",
            var sign => $"{code}, which looks like {sign}",
        };
    }
}
