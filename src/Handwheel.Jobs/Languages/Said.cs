namespace Handwheel.Jobs.Languages;

/// <summary>
/// Texts in the language of the tablet that asked. The English text in the code is the key; a text without a translation is said in English.
/// It starts as English everywhere, whatever the server's own culture is: what is stored, signed, printed or exported never asks for another.
/// </summary>
public static class Said
{
    static readonly AsyncLocal<Language> Speaking = new();

    public static Language Language => Speaking.Value;

    /// <summary>Speaks <paramref name="language"/> in this flow of execution until the answer is disposed.</summary>
    public static Spoken Speak(Language language)
    {
        var before = Speaking.Value;
        Speaking.Value = language;
        return new(before);
    }

    /// <summary>A text without values.</summary>
    public static string In(string english) =>
        Speaking.Value switch
        {
            Language.Spanish => SpanishTable.Find(SaidText.KeyOf(english)) is { } found
                ? SaidText.Filled(found, [])
                : english,
            Language.Marked => SaidText.Mark(english),
            _ => english,
        };

    /// <summary>A name that the app gives to something of a closed list, such as a finding.</summary>
    public static string Name(string english) => In(english);

    /// <summary>A text with values: <c>Said.In($"Read {register}")</c> is the key <c>Read {0}</c>.</summary>
    public static string In(SaidText text) => text.Text();

    /// <summary>
    /// English that is kept as it stands, in a plan or a record, and said in the reader's language by <see cref="Again"/>. It asks for a
    /// translation as <see cref="In(string)"/> does; words among its values ask for their own.
    /// </summary>
    public static string Kept(string english) => english;

    /// <summary>A text that was <see cref="Kept"/>, whoever kept it and when; what no translation fits is said as it stands.</summary>
    public static string Again(string kept) =>
        Speaking.Value switch
        {
            Language.Spanish => KeptTexts.InSpanish(kept) ?? kept,
            Language.Marked => KeptTexts.InSpanish(kept) is null ? kept : SaidText.Mark(kept),
            _ => kept,
        };

    internal static void GoBack(Language before) => Speaking.Value = before;
}

/// <summary>A language that is spoken until this is disposed.</summary>
public readonly struct Spoken(Language before) : IDisposable
{
    public void Dispose() => Said.GoBack(before);
}
