using System.Diagnostics;
using System.Text.Json;
using Handwheel.Jobs.Schemas;
using Handwheel.Web.Commands;

namespace Handwheel.Web.Tests.Commands;

public sealed class CommandLineTests
{
    [Theory]
    [InlineData]
    [InlineData("--urls", "http://127.0.0.1:0")]
    [InlineData("--environment=Development")]
    public async Task Without_a_verb_the_web_app_is_to_be_served(params string[] args)
    {
        var ran = await Ran.Command(args);
        Assert.Null(ran.Status);
        Assert.Equal("", ran.Out + ran.Error);
    }

    [Theory]
    [InlineData("--help")]
    [InlineData("-h")]
    [InlineData("help")]
    public async Task Help_lists_every_verb(string word)
    {
        var ran = await Ran.Command(word);
        Assert.Equal(0, ran.Status);
        foreach (var verb in new[] { "check", "reading", "schema" })
            Assert.Contains("handwheel " + verb, ran.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check", "--subprograms")]
    [InlineData("reading", "--other")]
    [InlineData("schema", "FORMAT")]
    public async Task Every_verb_says_how_it_is_called(string verb, string word)
    {
        var ran = await Ran.Command(verb, "--help");
        Assert.Equal(0, ran.Status);
        Assert.Contains(word, ran.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_verb_that_is_not_known_is_refused_with_the_nearest()
    {
        var ran = await Ran.Command("chek", "a.nc");
        Assert.Contains("found the verb \"chek\"", ran.Refusal(), StringComparison.Ordinal);
        Assert.Contains("did you mean \"check\"", ran.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("setup", "handwheel-setup/1")]
    [InlineData("check", "handwheel-check/1")]
    [InlineData("record", "handwheel-record/1")]
    public async Task Schema_prints_the_published_text(string format, string title)
    {
        var ran = await Ran.Command("schema", format);
        Assert.Equal(0, ran.Status);
        Assert.Equal(title, ran.Json.GetProperty("title").GetString());
        Assert.Equal(SchemaTexts.Find($"handwheel-{format}-1.json"), System.Text.Encoding.UTF8.GetBytes(ran.Out));
    }

    [Theory]
    [InlineData("schema")]
    [InlineData("schema", "stups")]
    [InlineData("schema", "setup", "more")]
    public async Task A_schema_that_does_not_exist_is_refused(params string[] args) =>
        (await Ran.Command(args)).Refusal();

    [Fact]
    public async Task The_executable_answers_as_the_command_does()
    {
        var assembly = typeof(CommandLine).Assembly.Location;
        var start = new ProcessStartInfo("dotnet")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        foreach (var word in new[] { assembly, "reading", "--expected", "-15.125", "--read", "-12.125", "--json" })
            start.ArgumentList.Add(word);
        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.Equal("", await error);
        Assert.Equal(1, process.ExitCode);
        using var json = JsonDocument.Parse(await output);
        Assert.Equal("unknown", json.RootElement.GetProperty("cause").GetString());
    }
}
