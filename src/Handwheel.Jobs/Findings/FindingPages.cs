using System.Reflection;

namespace Handwheel.Jobs.Findings;

/// <summary>The page of help of one finding. Sections are plain text with blank lines between paragraphs; examples are program text.</summary>
/// <param name="Why">What it means at the machine.</param>
/// <param name="Setup">The setup of the two examples, <c>handwheel-setup/1</c>; null: the pages' common one.</param>
/// <param name="Example">A program that has it; ⟦ and ⟧ stand around the block at fault.</param>
/// <param name="NotThis">A program that nearly has it and is fine.</param>
/// <param name="Remedy">What to do.</param>
/// <param name="Markdown">The whole page.</param>
public sealed record FindingPage(
    RuleInfo Rule,
    string Why,
    string? Setup,
    string Example,
    string NotThis,
    string Remedy,
    string Markdown
)
{
    public string Id => Rule.Id;
    public string Title => Rule.Title;
}

/// <summary>Reads the pages that stand beside the rules and are carried in the assembly.</summary>
public static class FindingPages
{
    const string Prefix = "findings/";

    static readonly Lazy<IReadOnlyList<FindingPage>> Pages = new(() => [.. AllRules.Infos.Select(Read)]);

    /// <summary>One page for each rule, in the order of their ids.</summary>
    public static IReadOnlyList<FindingPage> All => Pages.Value;

    public static FindingPage? Of(string id) => All.FirstOrDefault(p => p.Id == id);

    /// <summary>The names of the pages that are carried, whether or not a rule has them.</summary>
    public static IReadOnlyList<string> Carried =>
        [
            .. Assembly
                .GetExecutingAssembly()
                .GetManifestResourceNames()
                .Where(n => n.StartsWith(Prefix, StringComparison.Ordinal))
                .Select(n => n[Prefix.Length..^".md".Length])
                .Order(StringComparer.Ordinal),
        ];

    static FindingPage Read(RuleInfo rule)
    {
        using var stream =
            Assembly.GetExecutingAssembly().GetManifestResourceStream(Prefix + rule.Id + ".md")
            ?? throw new InvalidOperationException($"the rule {rule.Id} has no page");
        using var reader = new StreamReader(stream);
        return Parse(rule, reader.ReadToEnd().ReplaceLineEndings("\n"));
    }

    /// <exception cref="InvalidOperationException">A section is missing, or the heading is not the rule's title.</exception>
    internal static FindingPage Parse(RuleInfo rule, string markdown)
    {
        var heading = markdown.Split('\n')[0];
        if (heading != "# " + rule.Title)
            throw new InvalidOperationException(
                $"the page of {rule.Id} is headed “{heading}”, the rule “{rule.Title}”"
            );
        return new FindingPage(
            rule,
            Section(rule, markdown, "Why") ?? throw Missing(rule, "Why"),
            Code(Section(rule, markdown, "Setup")),
            Code(Section(rule, markdown, "Found")) ?? throw Missing(rule, "Found"),
            Code(Section(rule, markdown, "Not found")) ?? throw Missing(rule, "Not found"),
            Section(rule, markdown, "What to do") ?? throw Missing(rule, "What to do"),
            markdown
        );
    }

    static string? Section(RuleInfo rule, string markdown, string name)
    {
        var start = markdown.IndexOf($"\n## {name}\n", StringComparison.Ordinal);
        if (start < 0)
            return null;
        start += name.Length + 5;
        var end = markdown.IndexOf("\n## ", start, StringComparison.Ordinal);
        var text = (end < 0 ? markdown[start..] : markdown[start..end]).Trim();
        return text.Length > 0 ? text : throw Missing(rule, name);
    }

    static string? Code(string? section)
    {
        if (section is null)
            return null;
        var start = section.IndexOf('\n', section.IndexOf("```", StringComparison.Ordinal)) + 1;
        return section[start..section.LastIndexOf("```", StringComparison.Ordinal)];
    }

    static InvalidOperationException Missing(RuleInfo rule, string name) =>
        new($"the page of {rule.Id} has no section “{name}”");
}
