using Handwheel.Data;
using Handwheel.Web.Features.Records;

namespace Handwheel.Web.Tests.Features.Records;

public sealed class RecordsAskedTests
{
    static readonly RecordRow[] Rows =
    [
        Row(1, "bracket", "Mill 2", day: 1, ProveOutEnd.Released, entries: 40),
        Row(2, "Cover", "mill 1", day: 2, ProveOutEnd.Open, entries: 7),
        Row(3, "arm", "Mill 1", day: 3, ProveOutEnd.Abandoned, entries: 7),
    ];

    [Theory]
    [InlineData("begun", true, "3 2 1")]
    [InlineData("begun", false, "1 2 3")]
    [InlineData("part", false, "3 1 2")]
    [InlineData("machine", false, "3 2 1")]
    [InlineData("entries", true, "1 3 2")]
    [InlineData("no such column", false, "1 2 3")]
    public void The_list_is_sorted_by_its_columns(string by, bool descending, string jobs) =>
        Assert.Equal(jobs, Jobs(new() { By = by, Descending = descending }));

    [Fact]
    public void A_heading_pressed_again_turns_the_order_round()
    {
        var once = new RecordsAsked().SortedBy("job");
        Assert.Equal(("1 2 3", "3 2 1"), (Jobs(once), Jobs(once.SortedBy("job"))));
        Assert.Equal("3 2 1", Jobs(once.SortedBy("begun")));
    }

    [Fact]
    public void Words_days_and_end_leave_what_is_wanted()
    {
        Assert.Equal("3 2", Jobs(new() { Search = " MILL 1 " }));
        Assert.Equal("2", Jobs(new() { Stands = ProveOutEnd.Open }));
        Assert.Equal("2", Jobs(new() { From = new(2026, 3, 2), To = new(2026, 3, 2) }));
    }

    /// <summary>A day is the shop's day: 23:30 in Greenwich is the next morning in Tokyo.</summary>
    [Fact]
    public void A_day_is_the_shops()
    {
        var asked = new RecordsAsked { From = new(2026, 3, 4) };
        Assert.Empty(asked.Of(Rows, TimeZoneInfo.Utc));
        Assert.Equal(3, Assert.Single(asked.Of(Rows, TimeZoneInfo.FindSystemTimeZoneById("Asia/Tokyo"))).JobNumber);
    }

    static string Jobs(RecordsAsked asked) =>
        string.Join(' ', asked.Of(Rows, TimeZoneInfo.Utc).Select(r => r.JobNumber));

    static RecordRow Row(int job, string part, string machine, int day, ProveOutEnd end, long entries) =>
        new(
            Guid.NewGuid(),
            job,
            part,
            "10",
            "A",
            machine,
            "part.nc",
            "",
            "day setter",
            new(2026, 3, day, 23, 30, 0, TimeSpan.Zero),
            null,
            end,
            entries,
            "00"
        );
}
