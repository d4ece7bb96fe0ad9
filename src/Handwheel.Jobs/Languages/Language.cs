namespace Handwheel.Jobs.Languages;

/// <summary>What the pages at the machine are read in. Desk, paper, commands and the record are English.</summary>
public enum Language
{
    English,
    Spanish,

    /// <summary>English with marks around every text, for the test that no text is missing; no tablet can choose it.</summary>
    Marked,
}
