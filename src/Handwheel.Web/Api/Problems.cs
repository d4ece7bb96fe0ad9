using Handwheel.Web.Features;

namespace Handwheel.Web.Api;

/// <summary>Refusals as problem details (RFC 9457): the title says what it is, <c>reasons</c> holds every reason in words.</summary>
static class Problems
{
    const string Types = "https://handwheel.invalid/problems/";

    public static IResult Of(Refusal refusal) =>
        Of(StatusOf(refusal.Because), refusal.Because.ToString(), TitleOf(refusal.Because), refusal.Reasons);

    /// <summary>A request that cannot be read.</summary>
    public static IResult Unreadable(string reason) =>
        Of(StatusCodes.Status400BadRequest, "Unreadable", Said.In("This request cannot be read."), [reason]);

    public static IResult NotSaved(string reason) =>
        Of(StatusCodes.Status503ServiceUnavailable, "NotSaved", Said.In("Not saved."), [reason]);

    static IResult Of(int status, string type, string title, IReadOnlyList<string> reasons) =>
        Results.Problem(
            statusCode: status,
            type: Types + type,
            title: title,
            detail: string.Join(" ", reasons),
            extensions: new Dictionary<string, object?>(StringComparer.Ordinal) { ["reasons"] = reasons }
        );

    static int StatusOf(RefusedBecause because) =>
        because switch
        {
            RefusedBecause.ChangedMeanwhile or RefusedBecause.StillRunning => StatusCodes.Status409Conflict,
            RefusedBecause.NotAllowed => StatusCodes.Status403Forbidden,
            RefusedBecause.NotThere => StatusCodes.Status404NotFound,
            RefusedBecause.Locked => StatusCodes.Status429TooManyRequests,
            _ => StatusCodes.Status422UnprocessableEntity,
        };

    static string TitleOf(RefusedBecause because) =>
        because switch
        {
            RefusedBecause.ChangedMeanwhile => Said.In("Somebody else was first."),
            RefusedBecause.StillRunning => Said.In("Still being saved."),
            RefusedBecause.NotAllowed => Said.In("Not for this person."),
            RefusedBecause.NotThere => Said.In("Not there."),
            RefusedBecause.Locked => Said.In("Locked."),
            RefusedBecause.WrongSecret => Said.In("Not the right PIN or password."),
            _ => Said.In("Not done."),
        };
}
