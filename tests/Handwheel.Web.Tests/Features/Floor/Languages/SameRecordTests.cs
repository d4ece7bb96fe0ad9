using System.Text.Json;
using System.Text.RegularExpressions;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.Floor.Languages;

/// <summary>What a Spanish tablet leaves in the record is, word for word, what an English one leaves.</summary>
public sealed partial class SameRecordTests
{
    [Fact]
    public async Task A_prove_out_on_a_Spanish_tablet_leaves_the_same_record()
    {
        var (english, spanish) = (await Record("en"), await Record("es"));
        Assert.Contains("Offsets still raised", string.Join('\n', english.Pages), StringComparison.Ordinal);
        Assert.Contains("Orígenes todavía elevados", string.Join('\n', spanish.Pages), StringComparison.Ordinal);
        Assert.True(english.Words.Count > 300, "the record has hardly a word");
        Assert.Contains(english.Words, w => w.Contains("G54 Z still raised 2.0000 in", StringComparison.Ordinal));
        Assert.Equal(english.Words, spanish.Words);
    }

    /// <summary>Every text of the record, with what is chance or clock in it taken out: names in hexadecimal, times, signatures, the line asked for.</summary>
    static async Task<(List<string> Words, List<string> Pages)> Record(string language)
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        using var tablet = new TabletVisitor(shop, language);
        var proveOut = await new Way(shop, tablet, looksAtEveryStep: false).Walk();
        using var record = JsonDocument.Parse(await tablet.Text($"/api/records/{proveOut}.json"));
        var words = Texts(record.RootElement).Select(t => Chance().Replace(t, "…")).ToList();
        return (words, [.. tablet.Seen.Select(s => s.Page.Body!.TextContent)]);
    }

    static IEnumerable<string> Texts(JsonElement at) =>
        at.ValueKind switch
        {
            JsonValueKind.Object => at.EnumerateObject().SelectMany(p => Texts(p.Value).Select(t => $"{p.Name}: {t}")),
            JsonValueKind.Array => at.EnumerateArray().SelectMany(Texts),
            JsonValueKind.String => [at.GetString()!],
            _ => [],
        };

    [GeneratedRegex(
        @"[0-9a-f]{8}-[0-9a-f-]{27}|[0-9a-f]{32,}|\d{4}-\d\d-\d\dT[0-9:.]+(Z|\+00:00)|\d{1,2} [A-Z][a-z]{2} (\d{4} )?\d\d:\d\d|[A-Za-z0-9_+/=-]{80,}|(block|asked\w*|where): .*|typed: [A-Z%].*",
        RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking
    )]
    private static partial Regex Chance();
}
