using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Hosting;
using Handwheel.Web.Sheets;
using Microsoft.Extensions.DependencyInjection;
using UglyToad.PdfPig;

namespace Handwheel.Web.Tests.Sheets;

public sealed class HandoffPageTests(DemoRecord demo) : IClassFixture<DemoRecord>
{
    [Fact]
    public async Task Says_what_is_raised_first_and_leaves_boxes_for_the_readings()
    {
        await using var shop = new ServiceCollection()
            .AddLogging()
            .AddHandwheelShop(new ShopDatabase(new ShopFolder(demo.In("shop")), Postgres: null))
            .BuildServiceProvider();
        await shop.GetRequiredService<OpenShop>().Run();
        var row = (await shop.GetRequiredService<RecordsReader>().Read()).Single(r => r.JobNumber == 2);
        var open = await shop.GetRequiredService<ProveOutReader>().Open(row.ProveOut);
        Assert.NotEmpty(open!.ProveOut.Ledger.Hazards);
        var bytes = HandoffPage.Print(
            new()
            {
                ProveOut = open.ProveOut,
                JobName = "Pump cover, operation 20",
                Head = row.Head,
                Words = new Dictionary<string, string>
                {
                    ["half-cut"] = "none",
                    ["odd"] = "Chips pack in the pocket. 軸",
                },
                Outgoing = "Day setter",
                Stands = "Handed over by Day setter, 2 Mar 14:00; not taken over yet.",
                Printed = SampleSheet.Printed,
            }
        );
        var (exit, output) = OutsideTool.Run("qpdf", "--check", OutsideTool.Keep("handoff.pdf", bytes));
        Assert.True(exit == 0, output);
        using var pdf = PdfDocument.Open(bytes);
        var text = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains("still raised by", text, StringComparison.Ordinal);
        Assert.True(
            text.IndexOf("still raised by", StringComparison.Ordinal)
                < text.IndexOf(Handoff.Headings[0].Title, StringComparison.Ordinal)
        );
        Assert.Contains("[U+8EF8]", text, StringComparison.Ordinal);
        Assert.InRange(pdf.NumberOfPages, 1, 2);
        var signed = string.Join(' ', pdf.GetPage(pdf.NumberOfPages).GetWords().Select(w => w.Text));
        Assert.Contains("Took over:", signed, StringComparison.Ordinal);
        // As many as the tablet will ask for, the tools' too, on the page that is signed.
        var asked = open.ProveOut.ToReadBack;
        Assert.Equal(24, asked.Count);
        Assert.All(
            asked,
            r => Assert.Contains(r.Axis.Length == 1 ? $"{r.Name} " : r.ToString(), signed, StringComparison.Ordinal)
        );
        Assert.All(Handoff.Headings, h => Assert.Contains(h.Title, text, StringComparison.Ordinal));
        var registers = open.ProveOut.Plan.Registers.Where(r =>
            r.Register.Axis.Length == 1 && r.Setup is { Nanometres: not 0 }
        );
        Assert.All(
            registers,
            r =>
                Assert.DoesNotContain(
                    r.Setup!.Value.ToRegisterText(open.ProveOut.Plan.Units),
                    text,
                    StringComparison.Ordinal
                )
        );
    }
}
