using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Demo;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Tests.Data;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Features.Records;

/// <summary>What a supervisor sees of a prove-out before signing it as reviewed.</summary>
public sealed class ReviewPageTests
{
    const string Restored = "restore.offset.G55.z";

    [Fact]
    public async Task Values_are_on_the_page_above_the_signature_once_nothing_is_left_to_be_read_blind()
    {
        await using var app = new ShopApp();
        var sample = await SampleShop.In(app.Services);
        using var browser = app.CreateClient();
        await sample.SignIn(browser);
        var setter = new DemoPerson(
            "administrator",
            Roles.Administrator | Roles.Supervisor | Roles.Setter,
            SampleShop.Pin,
            SampleShop.Password
        );
        var by = new Actor(sample.Administrator, setter.Name, setter.Roles);
        var actors = new Dictionary<string, Actor> { [setter.Name] = by };
        var reader = app.Services.GetRequiredService<ProveOutReader>();
        var log = (await reader.Open(sample.ProveOut))!.Log;
        var walk = new DemoWalk(
            app.Services.GetRequiredService<TakeAct>(),
            reader,
            new DemoClock(TimeProvider.System.GetUtcNow())
        );

        await walk.Run(log, _ => setter, actors, Restored);
        await walk.Do(log, (await Now()).ProveOut, new ReadingTyped(Restored, "-77.7777"), setter, by);
        Assert.DoesNotContain("-77.7777", await Page(), StringComparison.Ordinal);
        await walk.Do(
            log,
            (await Now()).ProveOut,
            new ReadingTyped(
                Restored,
                (await Now())
                    .ProveOut.Plan.Registers.First(r => r.Register.ToString() == "G55 Z")
                    .Setup!.Value.ToRegisterText(Handwheel.Nc.Units.Inch)
            ),
            setter,
            by
        );
        await walk.Run(log, _ => setter, actors, "release.signed");

        var page = await Page();
        Assert.Contains("-77.7777, not right", page, StringComparison.Ordinal);
        Assert.True(
            page.IndexOf("-77.7777", StringComparison.Ordinal)
                < page.IndexOf("Sign as reviewed and release", StringComparison.Ordinal)
        );

        await walk.Do(log, (await Now()).ProveOut, new SentBack([Restored], "read it again"), setter, by);
        Assert.DoesNotContain("-77.7777", await Page(), StringComparison.Ordinal);

        async Task<OpenedProveOut> Now() => (await reader.Open(sample.ProveOut))!;
        Task<string> Page() => browser.GetStringAsync(new Uri($"/records/{sample.ProveOut}", UriKind.Relative));
    }
}
