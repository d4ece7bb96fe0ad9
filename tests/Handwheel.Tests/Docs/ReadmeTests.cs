using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Findings;
using Handwheel.Jobs.Readings;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Tests.Tidy;

namespace Handwheel.Tests.Docs;

/// <summary>What README.md says is so.</summary>
public sealed partial class ReadmeTests
{
    [Fact]
    public void The_list_of_findings_is_the_apps_own()
    {
        var table = new StringBuilder("| finding | level | |\n| --- | --- | --- |\n");
        foreach (var rule in AllRules.Infos)
            table.Append(
                CultureInfo.InvariantCulture,
                $"| [{rule.Id}](src/Handwheel.Jobs/Findings/{rule.Id}.md) | {rule.Level.ToString().ToLowerInvariant()} | {rule.Title} |\n"
            );
        WrittenPart.Holds("README.md", "findings", nameof(ReadmeTests), table.ToString());
    }

    [Fact]
    public void Every_file_that_the_documents_link_to_is_there()
    {
        foreach (var document in new[] { "README.md", "DEVELOPERS.md" })
        foreach (Match link in Link().Matches(Repository.Read(document)))
            Assert.True(
                Path.Exists(Path.Combine(Repository.Root, link.Groups["path"].Value)),
                $"{document}: {link.Groups["path"].Value}"
            );
    }

    [GeneratedRegex(@"\]\((?<path>(?!https?:|#)[^)]+)\)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Link();

    [Fact]
    public void The_example_check_says_what_the_readme_says()
    {
        const string folder = "src/Handwheel.Web/Features/Demo/Files/";
        var setup = SetupFile.Read(Bytes(folder + "bearing-cap-op10.setup.json"), "setup");
        var check = Check.Run(Bytes(folder + "bearing-cap-op10.nc"), "bearing-cap-op10.nc", setup);

        var readme = Repository.Read("README.md");
        Assert.Contains(
            FormattableString.Invariant($"suggests a raise of {check.AirCut.SuggestedRaise:0.0000}"),
            readme,
            StringComparison.Ordinal
        );
        Assert.Contains(
            $"window from {check.AirCut.MinimumRaise} to {check.AirCut.MaximumRaise}",
            readme,
            StringComparison.Ordinal
        );
        Assert.Contains(
            FormattableString.Invariant($"lists {check.Stops.Count} stops"),
            readme,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void The_example_reading_is_named_as_the_readme_says()
    {
        Assert.Contains(
            "--expected -15.125 --read -21.125 --baseline -18.125 --raise 3",
            Repository.Read("README.md"),
            StringComparison.Ordinal
        );
        var answer = Reading.Compare(
            ReadingQuestion.Of(Inch(-15.125m), Inch(-21.125m), Units.Inch, Inch(0.0001m), Inch(-18.125m), Inch(3m), [])
        );
        Assert.Equal("opposite-sign", answer.Cause);
    }

    static Length Inch(decimal value) => Length.From(value, Units.Inch);

    static byte[] Bytes(string path) => File.ReadAllBytes(Path.Combine(Repository.Root, path));
}
