namespace Handwheel.Web.Features.Floor;

public enum Theme
{
    /// <summary>For shop light.</summary>
    Light,

    /// <summary>For a dark cell.</summary>
    Dark,
}

public enum Hand
{
    Right,
    Left,
}

/// <summary>What one tablet was set to; it stays on the tablet, in a cookie, whoever signs in.</summary>
public readonly record struct TabletChoices(Theme Theme, Hand Hand, Language Language)
{
    const string Cookie = "floor-choices";

    public static TabletChoices Of(HttpRequest request)
    {
        var kept = (request.Cookies[Cookie] ?? "").Split('-');
        return new(
            kept.Contains("dark") ? Theme.Dark : Theme.Light,
            kept.Contains("left") ? Hand.Left : Hand.Right,
            // The page for the time without connection is kept once in each language, so its address says which.
            request.Query["language"]
                is [{ } asked]
                ? LanguageOf(asked)
                : LanguageOf(kept[^1])
        );
    }

    public static TabletChoices From(IFormCollection form) =>
        new(
            form["theme"] == "dark" ? Theme.Dark : Theme.Light,
            form["hand"] == "left" ? Hand.Left : Hand.Right,
            LanguageOf(form["language"].ToString())
        );

    /// <summary>What a browser or a tablet is set to elsewhere changes nothing here: a language is chosen, and it is English until then.</summary>
    static Language LanguageOf(string? word) =>
        word switch
        {
            SpanishWord => Language.Spanish,
            MarkedWord when OffersMarks => Language.Marked,
            _ => Language.English,
        };

    const string SpanishWord = "es";
    const string MarkedWord = "marked";

    /// <summary>For the test that no text is missing.</summary>
    internal static bool OffersMarks { get; set; }

    public string ThemeWord => Theme is Theme.Dark ? "dark" : "light";
    public string HandWord => Hand is Hand.Left ? "left" : "right";

    /// <summary>For the page's <c>lang</c>: what a screen reader reads it in.</summary>
    public string LanguageWord =>
        Language switch
        {
            Language.Spanish => SpanishWord,
            Language.Marked => MarkedWord,
            _ => "en",
        };

    public void Keep(HttpResponse response) =>
        response.Cookies.Append(
            Cookie,
            $"{ThemeWord}-{HandWord}-{LanguageWord}",
            new CookieOptions
            {
                HttpOnly = true,
                SameSite = SameSiteMode.Strict,
                IsEssential = true,
                MaxAge = TimeSpan.FromDays(400),
            }
        );
}
