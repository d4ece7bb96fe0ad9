namespace Handwheel.Web.Tests.Commands;

public sealed class ReadingCommandTests
{
    [Fact]
    public async Task A_match_ends_with_0()
    {
        var ran = await Ran.Command("reading", "--expected", "-15.125", "--read", "-15.1250");
        Assert.Equal(0, ran.Status);
        Assert.Equal("Match. -15.1250 is right: -15.1250 was expected.\n", ran.Out);
        Assert.Equal("", ran.Error);
    }

    [Theory]
    [InlineData("--read", "-21.125")]
    [InlineData("--read=-21.125")]
    public async Task Negative_numbers_are_values_and_a_slip_ends_with_1(params string[] read)
    {
        var ran = await Ran.Command([
            "reading",
            "--expected",
            "-15.125",
            .. read,
            "--baseline",
            "-18.125",
            "--raise",
            "3",
            "--json",
        ]);
        Assert.Equal(1, ran.Status);
        var json = ran.Json;
        Assert.False(json.GetProperty("match").GetBoolean());
        Assert.Equal("-6", json.GetProperty("difference").GetRawText());
        Assert.Equal("opposite-sign", json.GetProperty("cause").GetString());
        Assert.Contains("wrong way", json.GetProperty("message").GetString(), StringComparison.Ordinal);
        Assert.Contains("-15.1250", json.GetProperty("remedy").GetString(), StringComparison.Ordinal);
        Assert.Equal(0, json.GetProperty("alsoPossible").GetArrayLength());
    }

    [Fact]
    public async Task Other_registers_may_be_given_more_than_once()
    {
        foreach (
            var others in new string[][]
            {
                ["--other", "G54 Z=-12.5", "--other", "H2=4.75"],
                ["--other", "G54 Z=-12.5", "H2=4.75"],
            }
        )
        {
            var ran = await Ran.Command(["reading", "--expected", "-15.125", "--read", "4.75", .. others, "--json"]);
            Assert.Equal("other-register", ran.Json.GetProperty("cause").GetString());
            Assert.Contains("H2", ran.Json.GetProperty("message").GetString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_text_names_the_cause_and_the_others()
    {
        var ran = await Ran.Command("reading", "--expected", "3", "--read", "-3", "--baseline", "0", "--raise", "3");
        Assert.Equal(1, ran.Status);
        Assert.StartsWith("No match (opposite-sign). ", ran.Out, StringComparison.Ordinal);
        Assert.Contains("Also possible: typed-as-value, sign-lost.", ran.Out, StringComparison.Ordinal);
        Assert.DoesNotContain('\e', ran.Out);
    }

    [Theory]
    [InlineData("--increment", "0.001", "38.0005", true)]
    [InlineData("--increment", "0.001", "38.0006", false)]
    [InlineData("--increment", "1", "38.4", true)]
    public async Task Within_half_the_increment_is_a_match(string option, string increment, string expected, bool match)
    {
        var ran = await Ran.Command("reading", "--expected", expected, "--read", "38", option, increment);
        Assert.Equal(match ? 0 : 1, ran.Status);
    }

    [Theory]
    [InlineData("--read: \"12,5\" has a comma", "--expected", "12.5", "--read", "12,5")]
    [InlineData("--expected: \"12.5mm\" is more than a number", "--expected", "12.5mm", "--read", "12.5")]
    [InlineData(
        "38.0005 has 4 decimals, the register has 3",
        "--expected",
        "38",
        "--read",
        "38.0005",
        "--increment",
        "0.001"
    )]
    [InlineData(
        "--raise: found -3, expected the raise as it was made",
        "--expected",
        "1",
        "--read",
        "1",
        "--raise",
        "-3"
    )]
    [InlineData(
        "--increment: found 0, expected a number above 0",
        "--expected",
        "1",
        "--read",
        "1",
        "--increment",
        "0"
    )]
    [InlineData("--other: found \"G54\", expected NAME=VALUE", "--expected", "1", "--read", "1", "--other", "G54")]
    [InlineData("--other H2: \"4,75\" has a comma", "--expected", "1", "--read", "1", "--other", "H2=4,75")]
    [InlineData("say in what with --increment", "--expected", "-15.125", "--read", "-15.12504")]
    [InlineData("has 5 decimals", "--expected", "-15.125", "--read", "-15.12504", "--increment", "0.0001")]
    [InlineData("--expected", "--read", "1")]
    [InlineData("--read", "--expected", "1")]
    [InlineData("--read", "--expected", "1", "--read")]
    [InlineData("did you mean \"--baseline\"", "--expected", "1", "--read", "1", "--baselin", "2")]
    public async Task A_wrong_command_line_is_refused_in_one_sentence(string words, params string[] args)
    {
        var ran = await Ran.Command(["reading", .. args]);
        Assert.Contains(words, ran.Refusal(), StringComparison.Ordinal);
    }
}
