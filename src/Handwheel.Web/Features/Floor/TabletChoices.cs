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
public readonly record struct TabletChoices(Theme Theme, Hand Hand)
{
    const string Cookie = "floor-choices";

    public static TabletChoices Of(HttpRequest request)
    {
        var kept = request.Cookies[Cookie] ?? "";
        return new(
            kept.Contains("dark", StringComparison.Ordinal) ? Theme.Dark : Theme.Light,
            kept.Contains("left", StringComparison.Ordinal) ? Hand.Left : Hand.Right
        );
    }

    public static TabletChoices From(IFormCollection form) =>
        new(form["theme"] == "dark" ? Theme.Dark : Theme.Light, form["hand"] == "left" ? Hand.Left : Hand.Right);

    public string ThemeWord => Theme is Theme.Dark ? "dark" : "light";
    public string HandWord => Hand is Hand.Left ? "left" : "right";

    public void Keep(HttpResponse response) =>
        response.Cookies.Append(
            Cookie,
            $"{ThemeWord}-{HandWord}",
            new CookieOptions
            {
                HttpOnly = true,
                SameSite = SameSiteMode.Strict,
                IsEssential = true,
                MaxAge = TimeSpan.FromDays(400),
            }
        );
}
