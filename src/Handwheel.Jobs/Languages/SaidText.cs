using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;
using Handwheel.Jobs.Proving;

namespace Handwheel.Jobs.Languages;

/// <summary>
/// An interpolated text on its way to <see cref="Said.In(SaidText)"/>. Numbers in it have the invariant culture's form in every language.
/// </summary>
[InterpolatedStringHandler]
public readonly ref struct SaidText
{
    readonly Language language = Said.Language;
    readonly StringBuilder text;
    readonly List<string> values;

    public SaidText(int literalLength, int formattedCount)
    {
        text = new(literalLength + (formattedCount * 8));
        values = language is Language.Spanish ? new(formattedCount) : [];
    }

    public void AppendLiteral(string part)
    {
        if (language is Language.Spanish)
            text.Append(KeyOf(part));
        else
            text.Append(part);
    }

    public void AppendFormatted(Register register) => Append(register.Words);

    public void AppendFormatted(string? value) => Append(value ?? "");

    public void AppendFormatted<T>(T value) => AppendFormatted(value, null);

    public void AppendFormatted<T>(T value, string? format) =>
        Append(
            value is IFormattable formattable
                ? formattable.ToString(format, CultureInfo.InvariantCulture)
                : value?.ToString() ?? ""
        );

    void Append(string value)
    {
        if (language is Language.Spanish)
        {
            text.Append(CultureInfo.InvariantCulture, $"{{{values.Count}}}");
            values.Add(value);
        }
        else
            text.Append(value);
    }

    internal string Text()
    {
        var said = text.ToString();
        return language switch
        {
            Language.Spanish => Filled(SpanishTable.Find(said) ?? said, values),
            Language.Marked => Mark(said),
            _ => said,
        };
    }

    internal const char MarkBefore = '⟦';
    internal const char MarkAfter = '⟧';

    internal static string Mark(string text) => text.Length == 0 ? text : MarkBefore + text + MarkAfter;

    /// <summary>Braces that belong to the text are doubled in a key.</summary>
    internal static string KeyOf(string literal) =>
        literal.Replace("{", "{{", StringComparison.Ordinal).Replace("}", "}}", StringComparison.Ordinal);

    internal static string Filled(string format, IReadOnlyList<string> values) =>
        string.Format(CultureInfo.InvariantCulture, format, [.. values]);
}
