using System.Globalization;
using System.Text.RegularExpressions;
using Handwheel.Jobs.Languages;
using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// Somebody who reads no English, on a phone: chooses Spanish, types a reading that does not agree, loses the network and
/// comes back. Every screen on the way is measured for gloves and overflow, and nothing on it is a text that has a Spanish one. HANDWHEEL_SCREENS=all
/// does it on two tablets as well.
/// </summary>
public sealed partial class SpanishTabletTests(Browser browser) : IClassFixture<Browser>, IAsyncDisposable
{
    readonly JourneyShop shop = new();
    readonly List<string> faults = [];
    BadNetwork network = null!;
    IBrowserContext context = null!;
    TabletPage tablet = null!;
    string screen = "";

    IPage Page => tablet.Page;
    ILocator Saved => Page.Locator("#saved");

    static string InSpanish(string english)
    {
        using var spanish = Said.Speak(Language.Spanish);
        return Said.In(english);
    }

    ILocator Button(string english) =>
        Page.GetByRole(AriaRole.Button, new() { Name = InSpanish(english), Exact = true }).First;

    public static TheoryData<int, int> Screens
    {
        get
        {
            var screens = new TheoryData<int, int> { { 390, 844 } };
            if (PageMeasure.Whole)
                screens.AddRange((1280, 800), (800, 1280));
            return screens;
        }
    }

    [Theory]
    [MemberData(nameof(Screens))]
    public async Task A_shift_is_worked_in_Spanish_with_and_without_the_network(int width, int height)
    {
        screen = width.ToString(CultureInfo.InvariantCulture);
        await shop.Open();
        var proveOut = await shop.WalkTo("restore.reset");
        var runner = $"/floor/prove-outs/{proveOut}";
        network = new BadNetwork(shop.Address);
        context = await browser.Tablet(network.Address, width, height, keepsPages: true);
        await context.AddCookiesAsync([shop.TabletCookie]);
        tablet = new TabletPage(await context.NewPageAsync());

        await ChooseSpanish(height);
        await SignIn();
        await Page.GotoAsync(runner);
        await tablet.KeepsPages();
        await Look("raised");
        await tablet.Press(InSpanish("Done, as it says here"));

        await Refused($"{runner}?step=restore.offset.G54.x");
        await tablet.TypeOnKeypad("typed", "-20.9");
        await tablet.Press(InSpanish("Record reading"));
        await Look("read-again", $"{runner}?step=restore.offset.G54.x");
        Assert.Equal(
            StepState.ReadAgain,
            (await shop.Opened(proveOut)).ProveOut.Steps.First(s => s.Id == "restore.offset.G54.x").State
        );
        await Look("handoff", $"/floor/machines/{shop.MachineId}/handoff");
        await Look("machine", $"/floor/machines/{shop.MachineId}");
        await WithoutTheNetwork($"{runner}?step=restore.offset.G54.y");
        Assert.Contains((await shop.Opened(proveOut)).Entries, e => e.Act.About == "restore.offset.G54.y");
        await Look("back", runner);
        PageMeasure.HasNo(faults);
    }

    /// <summary>The choice is found without scrolling and without reading a word.</summary>
    async Task ChooseSpanish(int height)
    {
        await Page.GotoAsync("/floor/sign-in");
        var choice = Page.GetByRole(AriaRole.Button, new() { Name = "Español", Exact = true }).First;
        var box = (await choice.BoundingBoxAsync())!;
        Assert.True(box.Y >= 0 && box.Y + box.Height <= height, $"the language stands at {box.Y} of {height}");
        Assert.NotEmpty(await StillEnglish()); // it sees English where there is some
        await choice.ClickAsync();
        await Assertions.Expect(Page.Locator("html[lang=es]")).ToHaveCountAsync(1);
        Assert.True(await Page.EvaluateAsync<int>("Object.keys(window.handwheelWords).length") > 50);
        await Look("people");
    }

    async Task SignIn()
    {
        await Page.GetByRole(AriaRole.Link, new() { Name = "Day setter", Exact = true }).ClickAsync();
        await tablet.TypeOnKeypad("pin", JourneyShop.Pin);
        await Look("pin");
        await Button("Sign in").ClickAsync();
        await Page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
    }

    async Task Refused(string step)
    {
        await Page.GotoAsync(step);
        await Page.Locator("#typed").FillAsync("-18,0625");
        await Button("Record reading").ClickAsync();
        await Assertions.Expect(Page.Locator("#refused")).ToContainTextAsync("coma");
        await Look("refused");
        await Page.GotoAsync(step);
    }

    async Task WithoutTheNetwork(string step)
    {
        await Page.GotoAsync(step);
        await tablet.KeepsPages();
        network.Fault = Fault.Reset;
        await tablet.TypeOnKeypad("typed", SpacerPlate.Reading("restore.offset.G54.y"));
        await Button("Record reading").ClickAsync();
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "waiting");
        await Assertions.Expect(Saved).ToContainTextAsync("NO GUARDADO");
        await Look("not-saved");
        await LeavesTheStepItsPlace();
        await Page.GetByRole(AriaRole.Link, new() { Name = "Seguir sin conexión" }).ClickAsync();
        await Assertions.Expect(Page.Locator("#kept-list")).ToContainTextAsync("todavía no juzgado");
        await Look("kept");
        await LeavesTheStepItsPlace();
        network.Fault = Fault.None;
        await Assertions.Expect(Page.Locator("html:not([data-kept])")).ToHaveCountAsync(1, new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
    }

    async Task Look(string name, string? path = null)
    {
        if (path is not null)
            await Page.GotoAsync(path);
        faults.AddRange((await PageMeasure.Faults(Page, axe: false)).Select(f => $"{name} {screen}: {f}"));
        faults.AddRange((await StillEnglish()).Select(t => $"{name} {screen} is still English: {t}"));
        await PageMeasure.Keep(Page, $"spanish-{name}-{screen}");
    }

    /// <summary>With a hazard, an entry that waits and no connection the banner takes less than half of the screen; pressed, the strip says all.</summary>
    async Task LeavesTheStepItsPlace()
    {
        var part = await Page.EvaluateAsync<double>("document.querySelector('.banner').offsetHeight / innerHeight");
        Assert.True(part < 0.45, $"the banner takes {part:P0} of the screen");
        var why = Saved.Locator(".explains").First;
        if (await Saved.Locator("[data-more]").IsVisibleAsync())
            await Saved.Locator("[data-more]").ClickAsync();
        var box = (await why.BoundingBoxAsync())!;
        Assert.True(box.Width > 20, $"“{await why.TextContentAsync()}” cannot be seen");
    }

    /// <summary>Texts of the page, seen or heard, that have a Spanish one. A language is named in itself.</summary>
    async Task<IEnumerable<string>> StillEnglish()
    {
        var texts = await Page.EvaluateAsync<string[]>(
            """
            () => {
                const found = new Set();
                const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
                while (walk.nextNode()) {
                    const parent = walk.currentNode.parentElement;
                    if (!parent.closest("body [lang], script, style")) found.add(walk.currentNode.data.trim());
                }
                for (const e of document.querySelectorAll("[aria-label]")) found.add(e.getAttribute("aria-label").trim());
                return [...found].filter((t) => /\p{L}{3}/u.test(t));
            }
            """
        );
        var words = await Page.EvaluateAsync<string[]>(
            "Object.entries(window.handwheelWords || {}).filter(([k, t]) => k !== t.es).map(([k]) => k.trim())"
        );
        return texts.Where(t => words.Contains(t) || English.Value.Any(e => e.Fits(t)));
    }

    static readonly Lazy<IReadOnlyList<EnglishText>> English = new(() =>
        [
            .. SpanishTable
                .All.Concat(SpanishTable.Kept)
                .Where(t => t.Key != t.Value.Text && Letters().Count(t.Key) > 2)
                .Select(t => new EnglishText(t.Key.Trim())),
        ]
    );

    /// <summary>A text with its values open; its pattern is made for those alone that begin alike.</summary>
    sealed class EnglishText(string key)
    {
        readonly string start = key.Split('{')[0];
        readonly Lazy<Regex> pattern = new(() =>
            new("^" + string.Join(".*", Hole().Split(key).Select(Regex.Escape)) + "$", RegexOptions.NonBacktracking)
        );

        public bool Fits(string text) =>
            text.StartsWith(start, StringComparison.Ordinal) && pattern.Value.IsMatch(text);
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        if (network is not null)
            await network.DisposeAsync();
        await shop.DisposeAsync();
    }

    [GeneratedRegex(@"\{\d+\}", RegexOptions.NonBacktracking)]
    private static partial Regex Hole();

    [GeneratedRegex(@"[a-z]{3,}", RegexOptions.NonBacktracking)]
    private static partial Regex Letters();
}
