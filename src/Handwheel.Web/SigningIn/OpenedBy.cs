using Handwheel.Web.Api;
using Handwheel.Web.Features.Floor;

namespace Handwheel.Web.SigningIn;

/// <summary>
/// What is pressed on a page counts for the person it was opened by. A second tab, the browser's back key or a page kept on the tablet can show one
/// person's page while another is signed in: what it sends then is refused, and nobody signs for what somebody else did.
/// </summary>
static class OpenedBy
{
    /// <summary>The form field with the id of the person who opened the page.</summary>
    public const string Field = "by";

    /// <summary>The same for what a script sends.</summary>
    public const string Header = "Handwheel-By";

    /// <summary>For posts of the pages at the machine.</summary>
    public static async ValueTask<object?> OfPage(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var http = context.HttpContext;
        return
            HttpMethods.IsPost(http.Request.Method)
            && http.Request.HasFormContentType
            && IsAnother(http, (await http.Request.ReadFormAsync())[Field])
            ? FloorEndpoints.Page<OtherPersonPage>(new(), StatusCodes.Status409Conflict)
            : await next(context);
    }

    /// <summary>For what a script sends: to it, its person is signed out.</summary>
    public static async ValueTask<object?> OfScript(
        EndpointFilterInvocationContext context,
        EndpointFilterDelegate next
    ) =>
        IsAnother(context.HttpContext, context.HttpContext.Request.Headers[Header])
            ? Problems.AnotherPerson(WhyNot(context.HttpContext))
            : await next(context);

    public static string WhyNot(HttpContext http) =>
        Said.In(
            $"{http.User.Actor()?.Name} is signed in on this tablet now, and this page was opened by somebody else. Nothing was recorded."
        );

    static bool IsAnother(HttpContext http, string? opened) =>
        opened is { Length: > 0 }
        && http.User.Actor() is { } here
        && !opened.Equals(here.Person.ToString(), StringComparison.OrdinalIgnoreCase);
}
