using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;

namespace Handwheel.Web.Tests.Features.Floor.Languages;

/// <summary>Words of a page, seen or heard, that no translation could reach: they stand outside the marks and are no data.</summary>
static partial class TextOutsideMarks
{
    static readonly string[] Heard =
    [
        "aria-label",
        "placeholder",
        "title",
        "alt",
        "data-blank",
        "data-says",
        "data-title",
        "data-card",
    ];

    /// <param name="data">Names, values and other words that are the same in every language, longest first.</param>
    public static IEnumerable<string> In(IHtmlDocument page, IReadOnlyList<string> data) =>
        Texts(page.DocumentElement)
            .Select(text => (Text: text, Left: Left(text, data)))
            .Where(t => Word().IsMatch(t.Left))
            .Select(t => t.Text.Trim());

    static IEnumerable<string> Texts(INode node)
    {
        if (node is IText text)
            yield return text.Data;
        if (node is not IElement element)
            yield break;
        // A language is named in itself.
        if (element.LocalName is "script" or "style" || (element.LocalName != "html" && element.HasAttribute("lang")))
            yield break;
        foreach (var name in Heard)
            if (element.GetAttribute(name) is { } heard)
                yield return heard;
        foreach (
            var child in element is IHtmlTemplateElement template ? template.Content.ChildNodes : element.ChildNodes
        )
        foreach (var inner in Texts(child))
            yield return inner;
    }

    static string Left(string text, IReadOnlyList<string> data)
    {
        string before;
        do
        {
            before = text;
            text = Marked().Replace(text, " ");
        } while (text != before);
        text = Value().Replace(text, " ");
        foreach (var known in data)
            text = text.Replace(known, " ", StringComparison.Ordinal);
        return text;
    }

    [GeneratedRegex("⟦[^⟦⟧]*⟧", RegexOptions.NonBacktracking)]
    private static partial Regex Marked();

    /// <summary>A length with its unit, a unit alone, the digits of a digest.</summary>
    [GeneratedRegex(
        @"^\s*(in|mm)\s*$|\d (in|mm)\b|\b[0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}\b",
        RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking
    )]
    private static partial Regex Value();

    [GeneratedRegex(@"\p{L}{2,}", RegexOptions.NonBacktracking)]
    private static partial Regex Word();
}
