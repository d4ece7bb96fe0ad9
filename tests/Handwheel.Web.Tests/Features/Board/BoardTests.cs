using Bunit;
using Handwheel.Data;
using Handwheel.Web.Features.Board;
using Handwheel.Web.Tests.Data;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Features.Board;

public sealed class BoardTests : BunitContext
{
    static MachineCard Card(bool grave, params string[] hurts) =>
        new(
            Guid.NewGuid(),
            "Mill 2",
            grave,
            hurts,
            "Pump cover, op 20: air cut, 3 of 9 steps done",
            "T4, machine Z",
            3,
            null
        );

    [Fact]
    public void The_first_line_is_what_could_hurt_the_second_where_the_job_stands_the_third_what_is_next()
    {
        var card = Render<BoardCard>(p =>
            p.Add(x => x.Card, Card(true, "G55 Z still raised 3.0000 in, read 14:12, 3 h ago by night setter"))
        );
        var lines = card.FindAll("p:not(.actions)").Select(p => p.TextContent.Trim()).ToArray();

        Assert.StartsWith("G55 Z still raised 3.0000 in", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("Pump cover", lines[1], StringComparison.Ordinal);
        Assert.Contains("T4, machine Z", lines[2], StringComparison.Ordinal);
        Assert.Contains("WARNING", card.Find(".hazard").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_card_with_nothing_to_fear_has_no_hazard_colour() =>
        Assert.Empty(Render<BoardCard>(p => p.Add(x => x.Card, Card(false))).FindAll(".hazard"));

    [Fact]
    public async Task An_empty_board_says_what_to_do_first()
    {
        await using var app = new ShopApp();

        Assert.Contains("Add the first machine", Board(app).Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_stored_shows_on_an_open_board_without_loading_it_again()
    {
        await using var app = new ShopApp();
        var sample = await SampleShop.In(app.Services);
        var board = Board(app);
        Assert.Contains("Mill 1", board.Markup, StringComparison.Ordinal);

        await app
            .Services.GetRequiredService<ShopWriter>()
            .Write(async db =>
            {
                (await db.Machines.SingleAsync(m => m.Id == sample.Machine)).Name = "Mill 1 by the door";
                db.News.Add(new News(Machine: sample.Machine));
                return await db.SaveChangesAsync();
            });

        board.WaitForAssertion(() => Assert.Contains("by the door", board.Markup, StringComparison.Ordinal));
    }

    IRenderedComponent<BoardPage> Board(ShopApp app)
    {
        Services.AddSingleton(app.Services.GetRequiredService<IDbContextFactory<HandwheelDb>>());
        Services.AddSingleton(app.Services.GetRequiredService<BoardReader>());
        Services.AddSingleton(app.Services.GetRequiredService<ShopNews>());
        Services.AddSingleton(app.Services.GetRequiredService<TimeProvider>());
        SetRendererInfo(new RendererInfo("Server", isInteractive: true));
        return Render<BoardPage>();
    }
}
