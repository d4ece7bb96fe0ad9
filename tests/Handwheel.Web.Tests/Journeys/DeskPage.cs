using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>A page at the desk in a person's hands.</summary>
static class DeskPage
{
    public static async Task SignIn(IPage page)
    {
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("Who are you").SelectOptionAsync("Day setter");
        await page.GetByLabel("Password or PIN").FillAsync(JourneyShop.Pin);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
    }

    /// <summary>Opens a page and waits until it is alive: a press in the moment in which it becomes so can fall between two pages.</summary>
    public static async Task Open(IPage page, string path)
    {
        await page.GotoAsync(path);
        await IsAlive(page);
    }

    /// <summary>A group of fields counts as enabled to the browser driver whatever it says, so the page itself is asked.</summary>
    public static Task IsAlive(IPage page) =>
        Assertions.Expect(page.Locator("fieldset.page:enabled")).ToHaveCountAsync(1, new() { Timeout = 60_000 });

    /// <summary>Chooses a file on a page with one place for files: the browser hears of it only from a moment after the page is alive on.</summary>
    public static async Task Choose(ILocator input, FilePayload file)
    {
        await input.Page.WaitForFunctionAsync(
            "() => document.querySelector('input[type=file]')?._blazorInputFileNextFileId !== undefined"
        );
        await input.SetInputFilesAsync(file);
    }
}
