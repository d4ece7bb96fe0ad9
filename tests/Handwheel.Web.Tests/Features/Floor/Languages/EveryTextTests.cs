using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.Floor.Languages;

/// <summary>
/// A whole prove-out on a tablet in a language that puts marks around every text it is asked for: a word outside of them that is no
/// name and no value was never asked for, and could be read in no other language.
/// </summary>
public sealed class EveryTextTests
{
    /// <summary>Names, and the words that the setup, the program and the people of the shop brought; longest first where one holds another.</summary>
    static readonly string[] Data =
    [
        "Tablet by Mill 9",
        "tablet by Mill 9",
        "Mill 9",
        "Day setter",
        "Night setter",
        "New hand",
        "Supervisor",
        "Handwheel",
        "Spacer plate",
        "spacer-plate.setup.json",
        "spacer-plate.nc",
        "end mill",
        "jobber",
        "4FL",
        "drill",
        "thickness",
        "micrometer",
        "axes to the power-off position",
        "Axes to the power-off position",
        "as it should be",
        "a feeler of 0.010 does not go under",
        "none",
        "gone home",
        "--urls http://0.0.0.0:5080",
        "the casting is cracked",
    ];

    [Fact]
    public async Task No_text_at_the_machine_is_out_of_a_translation_s_reach()
    {
        TabletChoices.OffersMarks = true;
        await using var shop = new JourneyShop();
        await shop.Open();
        using var tablet = new TabletVisitor(shop, "marked");
        await new Way(shop, tablet, looksAtEveryStep: true).Walk();
        await new OtherWayOut(shop, tablet).Walk();
        Assert.True(tablet.Seen.Count > 100, "the walk did not get far");
        Assert.All(tablet.Seen, s => Assert.Equal("marked", s.Page.DocumentElement.GetAttribute("lang")));
        var bare = tablet
            .Seen.SelectMany(s => TextOutsideMarks.In(s.Page, Data).Select(t => $"{t}   | {s.Where}"))
            .DistinctBy(t => t.Split("   | ")[0])
            .ToList();
        Assert.True(bare.Count == 0, string.Join('\n', bare));
    }
}
