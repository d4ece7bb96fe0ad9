namespace Handwheel.Web.Commands;

/// <summary>The verbs that need no shop and no paper, and are typed or run by scripts again and again.</summary>
static class Verbs
{
    public static Verb[] All { get; } =
    [
        new("check", "Judge a program against a setup.", CheckCommand.Make),
        new("reading", "Compare a value read from the control with the one that should be there.", ReadingCommand.Make),
        new("schema", "Print the JSON Schema of a format.", SchemaCommand.Make),
    ];

    public static bool Has(string[] args) => args is [var first, ..] && Array.Exists(All, v => v.Name == first);
}
