using Handwheel.Web.Features;

namespace Handwheel.Web.Api;

/// <summary>Refusals as problem details (RFC 9457): the title says what it is, <c>reasons</c> holds every reason in words.</summary>
static class Problems
{
    const string Types = "https://handwheel.invalid/problems/";

    public static IResult Of(Refusal refusal) =>
        Of(StatusOf(refusal.Because), refusal.Because.ToString(), TitleOf(refusal.Because), refusal.Reasons);

    /// <summary>What a person is told of a page whose words the server cannot read, in their own language.</summary>
    public static string NothingRead =>
        Said.In(
            "What this page sent cannot be read, so nothing was recorded. Load the page again and enter it once more; where a number is asked for, digits alone."
        );

    /// <summary>A request that cannot be read.</summary>
    /// <param name="found">For whoever wrote the program that sent it: what was found and what was expected, in English.</param>
    public static IResult Unreadable(string found) =>
        Of(
            StatusCodes.Status400BadRequest,
            "Unreadable",
            Said.In("This request cannot be read."),
            [NothingRead],
            detail: found
        );

    public static IResult NotSaved(string reason) =>
        Of(StatusCodes.Status503ServiceUnavailable, "NotSaved", Said.In("Not saved."), [reason]);

    /// <summary>What was sent is another person's than the one who is signed in.</summary>
    public static IResult AnotherPerson(string reason) =>
        Of(StatusCodes.Status401Unauthorized, "AnotherPerson", Said.In("Somebody else is signed in"), [reason]);

    static IResult Of(int status, string type, string title, IReadOnlyList<string> reasons, string? detail = null) =>
        Results.Problem(
            statusCode: status,
            type: Types + type,
            title: title,
            detail: detail ?? string.Join(" ", reasons),
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
