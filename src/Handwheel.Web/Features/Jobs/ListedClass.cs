using Handwheel.Nc;

namespace Handwheel.Web.Features.Jobs;

/// <summary>How a piece of a program's text is set on a page; null: plain.</summary>
static class ListedClass
{
    public static string? Of(ListedKind kind) =>
        kind switch
        {
            ListedKind.Comment => "nc-comment",
            ListedKind.BlockNumber => "nc-number",
            ListedKind.Tool or ListedKind.ProgramNumber => "nc-tool",
            ListedKind.Strange => "nc-strange",
            _ => null,
        };
}
