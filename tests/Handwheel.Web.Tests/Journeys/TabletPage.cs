using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>A tablet in a person's hands: what they press and type.</summary>
public sealed class TabletPage(IPage page)
{
    public IPage Page => page;

    public ILocator Step => page.Locator("article[data-step]");

    public async Task<string> StepId() => await Step.GetAttributeAsync("data-step") ?? "";

    public async Task<string> Takes() => await Step.GetAttributeAsync("data-takes") ?? "";

    /// <param name="stays">True: the server asks for a PIN of their own before it lets them on.</param>
    public async Task SignIn(string person, string pin, bool stays = false)
    {
        await page.GotoAsync("/floor/sign-in");
        await page.GetByRole(AriaRole.Link, new() { Name = person, Exact = true }).ClickAsync();
        await TypeOnKeypad("pin", pin);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        if (stays)
            await page.Locator("#again").WaitForAsync();
        else
            await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
    }

    public async Task SignInWithPassword(string person, string password)
    {
        await page.GotoAsync("/floor/sign-in");
        await page.GetByRole(AriaRole.Link, new() { Name = person, Exact = true }).ClickAsync();
        var usePassword = page.GetByRole(AriaRole.Link, new() { Name = "Use the password" });
        if (await usePassword.CountAsync() > 0)
            await usePassword.ClickAsync();
        await page.GetByLabel("Password").FillAsync(password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
    }

    /// <summary>Waits until the tablet can open this page without the server.</summary>
    public async Task KeepsPages()
    {
        await page.EvaluateAsync("navigator.serviceWorker.ready.then(() => true)");
        await Assertions.Expect(page.Locator("html[data-keeps]")).ToHaveCountAsync(1, new() { Timeout = 60_000 });
    }

    public async Task NotMe()
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Not me" }).ClickAsync();
        await page.GetByText("Nobody is signed in").WaitForAsync();
    }

    /// <summary>Presses the page's own keys, as a gloved finger does.</summary>
    public async Task TypeOnKeypad(string input, string text)
    {
        await page.WaitForLoadStateAsync(LoadState.DOMContentLoaded); // its keys work from then on
        var keypad = page.Locator($".keypad[data-for='{input}']");
        foreach (var character in text.TrimStart('-'))
            await keypad.Locator($"[data-key='{character}']").ClickAsync();
        if (text.StartsWith('-'))
            await keypad.Locator("[data-key='sign']").ClickAsync();
        Assert.Equal(text, await page.Locator("#" + input).InputValueAsync());
    }

    /// <summary>Presses what sends a form, and waits until the page has moved on after the server's answer.</summary>
    public async Task Press(string button)
    {
        var before = await Number();
        await page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true }).First.ClickAsync();
        await page.WaitForFunctionAsync("before => Number(document.documentElement.dataset.number) > before", before);
        await page.WaitForLoadStateAsync(LoadState.DOMContentLoaded);
    }

    /// <summary>The number of the newest entry that the page shows.</summary>
    public async Task<long> Number() =>
        await page.EvaluateAsync<long>("Number(document.documentElement.dataset.number)");

    public async Task Read(string value)
    {
        await TypeOnKeypad("typed", value);
        await Press(await Takes() is "Measurement" ? "Record measurement" : "Record reading");
    }

    /// <summary>Does the step that the page shows, as somebody does who sees what the control shows.</summary>
    public async Task DoStep()
    {
        var step = await StepId();
        switch (await Takes())
        {
            case "Seen":
                await Press("Seen: I have looked at these");
                break;
            case "Tick":
                await Press("Done, as it says here");
                break;
            case "TickWithWords":
                await page.GetByLabel("What was seen").FillAsync("as it should be");
                await Press("Record what was seen");
                break;
            case "AgreesOrDiffers":
                await Press("Agrees");
                break;
            case "Reading" or "Percent" or "Measurement":
                await Read(SpacerPlate.Reading(step));
                break;
            case "Signature":
                await TypeOnKeypad("pin-Did", JourneyShop.Pin);
                await Press("Sign: done");
                break;
            case var other:
                Assert.Fail($"{step} takes {other}");
                break;
        }
    }
}
