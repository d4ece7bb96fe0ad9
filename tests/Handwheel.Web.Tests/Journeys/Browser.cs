using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// Debian's Chromium, started once for the browser tests: the build without a window of its own where there is one, as the
/// other starts a second renderer for its toolbar with every page. Where there is neither the tests are skipped and say so;
/// in CI that is a failure.
/// </summary>
public class Browser : IAsyncLifetime
{
    static readonly string Program =
        Environment.GetEnvironmentVariable("HANDWHEEL_CHROMIUM")
        ?? Array.Find(["/usr/bin/chromium-headless-shell", "/usr/bin/chromium"], File.Exists)
        ?? "/usr/bin/chromium-headless-shell";

    static readonly string[] Quiet =
    [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--font-render-hinting=none",
    ];

    IPlaywright? playwright;
    IBrowser? browser;

    /// <summary>What the browser is started with beyond the usual.</summary>
    protected virtual IReadOnlyList<string> More => [];

    public async ValueTask InitializeAsync()
    {
        if (!File.Exists(Program))
            return;
        // What is waited for comes on a busy machine too; nothing here is a promise about time.
        Assertions.SetDefaultExpectTimeout(40_000);
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Program,
                Headless = true,
                Args = [.. Quiet, .. More],
            }
        );
    }

    /// <summary>Another browser, started with more than the usual; the caller ends it.</summary>
    public async Task<IBrowser> Another(params string[] more)
    {
        RequireOne();
        return await playwright!.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Program,
                Headless = true,
                Args = [.. Quiet, .. more],
            }
        );
    }

    /// <summary>A tablet of its own: own cookies, own queue. 1280 × 800 unless said otherwise.</summary>
    /// <param name="keepsPages">With its worker, which opens pages without the server; else requests go past it, so that a test can answer them.</param>
    public async Task<IBrowserContext> Tablet(
        string address,
        int width = 1280,
        int height = 800,
        bool script = true,
        bool keepsPages = false
    )
    {
        RequireOne();
        var context = await browser!.NewContextAsync(
            new()
            {
                BaseURL = address,
                ViewportSize = new() { Width = width, Height = height },
                HasTouch = true,
                JavaScriptEnabled = script,
                ServiceWorkers = keepsPages ? ServiceWorkerPolicy.Allow : ServiceWorkerPolicy.Block,
                Locale = "en-GB",
            }
        );
        context.SetDefaultTimeout(90_000);
        return context;
    }

    void RequireOne()
    {
        if (browser is not null)
            return;
        var why = $"no Chromium at {Program}: apt-get install chromium-headless-shell, or set HANDWHEEL_CHROMIUM";
        Assert.False(Environment.GetEnvironmentVariable("CI") is "true", why);
        Assert.Skip(why);
    }

    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        if (browser is not null)
            await browser.DisposeAsync();
        playwright?.Dispose();
    }
}

/// <summary>One that draws in space too, by software: slower at everything else.</summary>
public sealed class DrawingBrowser : Browser
{
    protected override IReadOnlyList<string> More => ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"];
}
