namespace Handwheel.Web.Features.Floor;

/// <summary>
/// Answers to a tablet are in the language that it was set to: its pages, and what comes of an act or a photo. Everything else is English,
/// a record above all, wherever it is asked for.
/// </summary>
static class TabletLanguage
{
    static readonly string[] Answers = ["/floor", "/paper", "/trust-this-shop", "/api/prove-outs", "/api/photos"];

    public static void Speak(WebApplication app) =>
        app.Use(
            async (http, next) =>
            {
                var asked = Answers.Any(a =>
                    http.Request.Path.StartsWithSegments(a, StringComparison.OrdinalIgnoreCase)
                );
                using var spoken = Said.Speak(asked ? TabletChoices.Of(http.Request).Language : Language.English);
                await next(http);
            }
        );
}
