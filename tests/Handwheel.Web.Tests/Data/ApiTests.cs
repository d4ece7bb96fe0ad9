using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.People;
using Handwheel.Web.Features.ProveOuts;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Data;

public sealed class ApiTests(ShopApp app) : IClassFixture<ShopApp>
{
    const string Pin = "204865";

    T Get<T>()
        where T : notnull => app.Services.GetRequiredService<T>();

    async Task<(HttpClient Client, Person Person)> SignedIn(Roles roles)
    {
        var client = app.CreateClient(new() { AllowAutoRedirect = false });
        var person = (
            await Get<AddPerson>()
                .Run(TestShop.Boss, "person " + Guid.NewGuid().ToString("N"), roles, Pin, "gauge block under the tip")
        ).Must;
        var answer = await client.PostAsJsonAsync(
            "/api/sign-in",
            new { person = person.Id, password = "gauge block under the tip" }
        );
        Assert.Equal(HttpStatusCode.NoContent, answer.StatusCode);
        return (client, person);
    }

    async Task<Guid> ProveOut()
    {
        var setup = TestJob.File("bearing-cap-op10.setup.json");
        var facts = System.Text.Json.Nodes.JsonNode.Parse(setup.Bytes)!.AsObject();
        var name = "Mill " + Guid.NewGuid().ToString("N");
        facts["machine"]!["name"] = name;
        var named = new Upload("setup.json", Encoding.UTF8.GetBytes(facts.ToJsonString()));
        var machine = (await Get<AddMachine>().Run(TestShop.Boss, name, facts.ToJsonString())).Must;
        var job = (
            await Get<MakeJob>().Run(TestShop.Boss, machine.Id, TestJob.File("bearing-cap-op10.nc"), named, [])
        ).Must;
        return (await Get<StartProveOut>().Run(TestShop.Boss, TestShop.Desk, job.Id)).Must.Id;
    }

    static HttpRequestMessage Act(Guid proveOut, string? key, string body)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, $"/api/prove-outs/{proveOut}/acts")
        {
            Content = new StringContent(body, Encoding.UTF8, "application/json"),
        };
        if (key is not null)
            request.Headers.Add("Idempotency-Key", key);
        return request;
    }

    const string Note = """{ "basedOn": 1, "act": { "kind": "note", "text": "chips" } }""";

    [Fact]
    public async Task An_act_is_taken_and_answered_with_its_number()
    {
        var (client, _) = await SignedIn(Roles.Setter);
        var proveOut = await ProveOut();
        var answer = await client.SendAsync(Act(proveOut, "a1", Note));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var again = await client.SendAsync(Act(proveOut, "a1", Note));
        Assert.Equal(await answer.Content.ReadAsByteArrayAsync(), await again.Content.ReadAsByteArrayAsync());
        var shown = await client.GetFromJsonAsync<JsonElement>($"/api/prove-outs/{proveOut}");
        Assert.Equal(2, shown.GetProperty("number").GetInt64());
    }

    [Fact]
    public async Task An_act_of_a_page_that_somebody_else_opened_is_not_this_persons()
    {
        var (client, person) = await SignedIn(Roles.Setter);
        var proveOut = await ProveOut();
        using var ofOther = Act(proveOut, "other", Note);
        ofOther.Headers.Add("Handwheel-By", Guid.NewGuid().ToString());
        var answer = await client.SendAsync(ofOther);
        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        Assert.Contains(
            "this page was opened by somebody else",
            await answer.Content.ReadAsStringAsync(),
            StringComparison.Ordinal
        );
        using var own = Act(proveOut, "other", Note);
        own.Headers.Add("Handwheel-By", person.Id.ToString());
        Assert.Equal(HttpStatusCode.OK, (await client.SendAsync(own)).StatusCode);
        var shown = await client.GetFromJsonAsync<JsonElement>($"/api/prove-outs/{proveOut}");
        Assert.Equal(2, shown.GetProperty("number").GetInt64());
    }

    [Theory]
    [InlineData(null, Note, HttpStatusCode.BadRequest, "Idempotency-Key is missing")]
    [InlineData("b1", "not json", HttpStatusCode.BadRequest, "")]
    [InlineData("b2", "{}", HttpStatusCode.BadRequest, "basedOn")]
    [InlineData("b3", """{ "basedOn": 1, "act": { "kind": "fly" } }""", HttpStatusCode.BadRequest, "")]
    [InlineData(
        "b4",
        """{ "basedOn": 1, "act": { "kind": "note", "text": "x", "colour": 1 } }""",
        HttpStatusCode.BadRequest,
        "colour"
    )]
    [InlineData(
        "b5",
        """{ "basedOn": 9, "act": { "kind": "note", "text": "x" } }""",
        HttpStatusCode.UnprocessableEntity,
        "based on entry 9"
    )]
    [InlineData(
        "b6",
        """{ "basedOn": 1, "act": { "kind": "begun", "plan": "x" } }""",
        HttpStatusCode.UnprocessableEntity,
        "job"
    )]
    public async Task What_cannot_be_taken_is_refused_in_words(
        string? key,
        string body,
        HttpStatusCode status,
        string reason
    )
    {
        var (client, _) = await SignedIn(Roles.Setter);
        var answer = await client.SendAsync(Act(await ProveOut(), key, body));
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal(status, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        Assert.Contains(reason, text, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_tablet_kept_is_marked_so_with_both_clocks_and_sent_again_it_is_the_same()
    {
        var (client, _) = await SignedIn(Roles.Setter);
        var proveOut = await ProveOut();
        string Kept(string kept) =>
            $$"""{ "basedOn": 1, "act": { "kind": "note", "text": "chips" }, "kept": {{kept}} }""";
        var first = await client.SendAsync(
            Act(proveOut, "k1", Kept("""{ "recorded": "2026-03-02T05:58:20.123Z", "waited": 100 }"""))
        );
        Assert.Equal(HttpStatusCode.OK, first.StatusCode);
        var later = await client.SendAsync(
            Act(proveOut, "k1", Kept("""{ "recorded": "2026-03-02T05:58:20.123Z", "waited": 160 }"""))
        );
        Assert.Equal(await first.Content.ReadAsStringAsync(), await later.Content.ReadAsStringAsync());
        var entry = (await Get<ProveOutReader>().Open(proveOut))!.Entries[^1];
        Assert.Equal(new KeptOnTablet(DateTimeOffset.Parse("2026-03-02T05:58:20.123Z", null), 100), entry.Kept);
        foreach (
            var (kept, status) in new[]
            {
                ("""{ "recorded": "yesterday", "waited": 1 }""", HttpStatusCode.BadRequest),
                ("""{ "recorded": "2026-03-02T05:58:20Z" }""", HttpStatusCode.BadRequest),
                ("true", HttpStatusCode.BadRequest),
                ("""{ "recorded": "2026-03-02T05:58:20Z", "waited": -1 }""", HttpStatusCode.UnprocessableEntity),
            }
        )
            Assert.Equal(
                status,
                (await client.SendAsync(Act(proveOut, Guid.NewGuid().ToString(), Kept(kept)))).StatusCode
            );
        Assert.Equal(entry.Number, (await Get<ProveOutReader>().Open(proveOut))!.ProveOut.Last);
    }

    [Fact]
    public async Task A_disabled_person_s_next_write_is_refused_with_401()
    {
        var (client, person) = await SignedIn(Roles.Setter);
        var proveOut = await ProveOut();
        var (_, admin) = await SignedIn(Roles.Administrator);
        Assert.Null(
            await Get<EditPerson>()
                .Run(
                    new Actor(admin.Id, admin.Name, admin.Roles),
                    person.Id,
                    await VersionOf(person.Id),
                    person.Roles,
                    disabled: true
                )
        );
        Assert.Equal(HttpStatusCode.Unauthorized, (await client.SendAsync(Act(proveOut, "c1", Note))).StatusCode);
    }

    async Task<long> VersionOf(Guid person)
    {
        await using var db = await Get<IDbContextFactory<HandwheelDb>>().CreateDbContextAsync();
        return (await db.People.SingleAsync(p => p.Id == person)).Version;
    }

    [Theory]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    [InlineData("Sec-Fetch-Site", "same-site")]
    [InlineData("Origin", "https://elsewhere.example")]
    [InlineData("Origin", "null")]
    public async Task Another_site_cannot_act_in_a_person_s_name(string header, string value)
    {
        var (client, _) = await SignedIn(Roles.Setter);
        var request = Act(await ProveOut(), "d1", Note);
        request.Headers.Add(header, value);
        Assert.Equal(HttpStatusCode.Forbidden, (await client.SendAsync(request)).StatusCode);
    }

    [Fact]
    public async Task What_a_form_of_another_site_can_send_is_not_read()
    {
        var (client, _) = await SignedIn(Roles.Setter);
        var request = Act(await ProveOut(), "e1", Note);
        request.Content = new StringContent(Note, Encoding.UTF8, "text/plain");
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, (await client.SendAsync(request)).StatusCode);
    }

    [Fact]
    public async Task A_photo_is_named_only_after_it_has_arrived()
    {
        var (client, _) = await SignedIn(Roles.Setter);
        var proveOut = await ProveOut();
        byte[] picture = [0xFF, 0xD8, 0xFF, 1, 2, 3];
        var digest = StoredFile.Digest(picture);
        var act = $$"""{ "basedOn": 1, "act": { "kind": "photo-added", "sha256": "{{digest}}" } }""";
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await client.SendAsync(Act(proveOut, "f1", act))).StatusCode);
        var content = new ByteArrayContent(picture);
        content.Headers.ContentType = new("image/jpeg");
        Assert.Equal(HttpStatusCode.OK, (await client.PostAsync("/api/photos", content)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.SendAsync(Act(proveOut, "f2", act))).StatusCode);
        Assert.Equal(picture, await client.GetByteArrayAsync($"/api/photos/{digest}"));
    }
}
