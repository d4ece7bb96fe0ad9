using System.Net;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.Floor.Languages;

/// <summary>The shop's tablet without scripts, set to one language: pages are asked for and forms are posted as they stand.</summary>
sealed class TabletVisitor : IDisposable
{
    readonly HttpClientHandler handler = new() { UseCookies = true };
    readonly HttpClient client;
    readonly HtmlParser parser = new();

    /// <summary>Every page that came, for who looks at them.</summary>
    public List<(string Where, IHtmlDocument Page)> Seen { get; } = [];

    /// <param name="language">As the cookie says it: <c>en</c>, <c>es</c> or <c>marked</c>.</param>
    public TabletVisitor(JourneyShop shop, string language)
    {
        var address = new Uri(shop.Address);
        handler.CookieContainer.Add(address, new Cookie(shop.TabletCookie.Name, shop.TabletCookie.Value));
        handler.CookieContainer.Add(address, new Cookie("floor-choices", $"light-right-{language}"));
        client = new(handler) { BaseAddress = address };
        client.DefaultRequestHeaders.Add("Sec-Fetch-Site", "same-origin");
        // What the browser is set to is no choice.
        client.DefaultRequestHeaders.AcceptLanguage.ParseAdd("fr");
    }

    public Task<IHtmlDocument> Get(string path) => Page(client.GetAsync(path), path);

    public async Task<string> Text(string path) => await client.GetStringAsync(path);

    /// <summary>Sends a form with what it holds and what is filled in.</summary>
    public Task<IHtmlDocument> Post(IElement form, params (string Name, string Value)[] filled)
    {
        var fields = form.QuerySelectorAll<IHtmlInputElement>("input[type=hidden]")
            .ToDictionary(i => i.Name!, i => i.Value);
        foreach (var select in form.QuerySelectorAll<IHtmlSelectElement>("select"))
            fields[select.Name!] = select.Value ?? "";
        foreach (var (name, value) in filled)
            fields[name] = value;
        var to = form.GetAttribute("action")!;
        var what = string.Join(' ', filled.Select(f => $"{f.Name}={f.Value}"));
        return Page(client.PostAsync(to, new FormUrlEncodedContent(fields)), $"POST {to} {what}");
    }

    public async Task<IHtmlDocument> SignIn(string person, string pin = JourneyShop.Pin)
    {
        var people = await Get("/floor/sign-in");
        var link = people.QuerySelectorAll(".people a").Single(a => a.TextContent.Trim() == person);
        var chosen = await Get(link.GetAttribute("href")!);
        return await Post(chosen.QuerySelector("form[action='/floor/sign-in']")!, ("pin", pin));
    }

    public async Task<IHtmlDocument> SignInWithPassword(string person)
    {
        var people = await Get("/floor/sign-in");
        var link = people.QuerySelectorAll(".people a").Single(a => a.TextContent.Trim() == person);
        var chosen = await Get(link.GetAttribute("href") + "&password=true");
        return await Post(chosen.QuerySelector("form[action='/floor/sign-in']")!, ("password", JourneyShop.Password));
    }

    public static string StepOf(IHtmlDocument page) =>
        page.QuerySelector("article[data-step]")?.GetAttribute("data-step") ?? "";

    /// <summary>The form for an act, by what the act is called in the record.</summary>
    public static IElement? FormFor(IParentNode page, string kind) =>
        page.QuerySelectorAll("form[action*='/acts']")
            .FirstOrDefault(f =>
                f.QuerySelector<IHtmlInputElement>("input[name=act]")!
                    .Value.Contains($"\"kind\":\"{kind}\"", StringComparison.Ordinal)
            );

    /// <summary>Answers the step that the page shows, as somebody does who sees what the control shows.</summary>
    public async Task<IHtmlDocument> Answer(IHtmlDocument page)
    {
        var article = page.QuerySelector("article[data-step]")!;
        var (step, takes) = (StepOf(page), article.GetAttribute("data-takes"));
        return takes switch
        {
            "Seen" => await Post(FormFor(page, "findings-seen")!),
            "Tick" or "AgreesOrDiffers" => await Post(FormFor(page, "ticked")!),
            "TickWithWords" => await Post(FormFor(page, "ticked")!, ("act.saw", "as it should be")),
            "Reading" or "Percent" => await Post(
                FormFor(page, "reading-typed")!,
                ("act.typed", SpacerPlate.Reading(step))
            ),
            "Measurement" => await Post(
                FormFor(page, "first-piece-measured")!,
                ("act.typed", SpacerPlate.Reading(step))
            ),
            "Signature" => await Post(FormFor(page, "signed")!, ("pin", JourneyShop.Pin)),
            _ => throw new InvalidOperationException($"{step} takes {takes}"),
        };
    }

    async Task<IHtmlDocument> Page(Task<HttpResponseMessage> asked, string where)
    {
        using var answer = await asked;
        var page = await parser.ParseDocumentAsync(await answer.Content.ReadAsStringAsync());
        Assert.True((int)answer.StatusCode < 500, $"{where}: {answer.StatusCode}");
        Seen.Add((where, page));
        return page;
    }

    public void Dispose()
    {
        client.Dispose();
        handler.Dispose();
    }
}
