using MudBlazor;

namespace Handwheel.Web.Shell;

/// <summary>Paper and slate with one accent for what can be pressed. Hazard colours are in app.css, for hazards alone.</summary>
public static class Theme
{
    const string Paper = "#ffffff";
    const string Bench = "#f4f5f2";
    const string Slate = "#1d2830";
    const string SlateQuiet = "#475661";
    const string Line = "#ccd3d8";
    const string Accent = "#0b5563";

    static readonly string[] Words = ["IBM Plex Sans", "system-ui", "sans-serif"];

    public static MudTheme Handwheel { get; } =
        new()
        {
            PaletteLight = new PaletteLight
            {
                Primary = Accent,
                PrimaryContrastText = Paper,
                Secondary = SlateQuiet,
                Background = Bench,
                Surface = Paper,
                AppbarBackground = Slate,
                AppbarText = Paper,
                TextPrimary = Slate,
                TextSecondary = SlateQuiet,
                ActionDefault = SlateQuiet,
                Divider = Line,
                TableLines = Line,
                LinesDefault = Line,
                LinesInputs = SlateQuiet,
            },
            Typography = new Typography
            {
                Default = new DefaultTypography { FontFamily = Words, FontSize = "1rem" },
                Button = new ButtonTypography
                {
                    FontFamily = Words,
                    TextTransform = "none",
                    FontWeight = "600",
                },
            },
            LayoutProperties = new LayoutProperties { DefaultBorderRadius = "3px" },
        };
}
