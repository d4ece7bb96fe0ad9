using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Handwheel.Tests.Tidy;

/// <summary>House rules that a compiler does not know. Each has a sample that it must refuse.</summary>
public sealed partial class TidyTests
{
    const int LinesMost = 400;

    static readonly Dictionary<string, string[]> MayReference = new(StringComparer.Ordinal)
    {
        ["Handwheel.Nc"] = [],
        ["Handwheel.Jobs"] = ["Handwheel.Nc"],
        ["Handwheel.Data"] = ["Handwheel.Jobs"],
        ["Handwheel.Launcher"] = ["Handwheel.Jobs"],
        ["Handwheel.Web"] = ["Handwheel.Data", "Handwheel.Migrations.Sqlite", "Handwheel.Migrations.Postgres"],
    };

    [Fact]
    public void Arrows_between_projects_point_one_way()
    {
        foreach (var (project, allowed) in MayReference)
            Assert.Empty(ForbiddenReferences(Repository.Read($"src/{project}/{project}.csproj"), allowed));
    }

    [Fact]
    public void An_arrow_the_wrong_way_is_seen() =>
        Assert.Equal(
            ["Handwheel.Web"],
            ForbiddenReferences(
                """<Project><ItemGroup><ProjectReference Include="../Handwheel.Web/Handwheel.Web.csproj" /></ItemGroup></Project>""",
                ["Handwheel.Nc"]
            )
        );

    static IEnumerable<string> ForbiddenReferences(string project, string[] allowed) =>
        XDocument
            .Parse(project)
            .Descendants("ProjectReference")
            .Select(reference =>
                Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value.Replace('\\', '/'))
            )
            .Except(allowed, StringComparer.Ordinal);

    [Fact]
    public void The_reader_uses_nothing_but_the_base_library() =>
        Assert.DoesNotContain(
            "PackageReference",
            Repository.Read("src/Handwheel.Nc/Handwheel.Nc.csproj"),
            StringComparison.Ordinal
        );

    [Fact]
    public void No_file_is_longer_than_a_reader_can_hold()
    {
        var long_ = Repository
            .Files("src", "*.cs")
            .Concat(Repository.Files("src", "*.razor"))
            .Concat(Repository.Files("tests", "*.cs"))
            .Where(file => TooLong(Repository.Read(file)))
            .ToList();
        Assert.Empty(long_);
    }

    [Fact]
    public void A_long_file_is_seen() => Assert.True(TooLong(new string('\n', LinesMost + 2)));

    static bool TooLong(string text) => text.Count(c => c == '\n') > LinesMost;

    [Fact]
    public void Nothing_is_left_unfinished()
    {
        var unfinished = Repository
            .Files("src", "*.cs")
            .Concat(Repository.Files("src", "*.razor"))
            .Where(file => Unfinished().IsMatch(Repository.Read(file)));
        Assert.Empty(unfinished);
    }

    [Theory]
    [InlineData("throw new NotImplementedException();")]
    [InlineData("// TODO: later")]
    public void Unfinished_code_is_seen(string sample) => Assert.Matches(Unfinished(), sample);

    [GeneratedRegex(
        @"NotImplementedException|\b(?:TODO|FIXME|HACK)\b",
        RegexOptions.None,
        matchTimeoutMilliseconds: 1000
    )]
    private static partial Regex Unfinished();

    [Fact]
    public void Package_versions_stand_in_one_file()
    {
        var elsewhere = Repository
            .Files(".", "*.csproj")
            .Where(file =>
                XDocument
                    .Parse(Repository.Read(file))
                    .Descendants("PackageReference")
                    .Any(package => package.Attribute("Version") is not null)
            );
        Assert.Empty(elsewhere);
    }

    [Fact]
    public void The_readme_gives_the_two_commands_each_on_one_line()
    {
        var blocks = ShellBlocks(Repository.Read("README.md"));
        Assert.Equal("dotnet run -c Release --project src/Handwheel.Web -- demo", blocks[0]);
        Assert.Equal("bash tests/run", blocks[1]);
        Assert.Contains(blocks[1], Repository.Read(".ci/run"), StringComparison.Ordinal);
    }

    static List<string> ShellBlocks(string markdown) =>
        ShellBlock().Matches(markdown).Select(match => match.Groups["command"].Value.Trim()).ToList();

    [GeneratedRegex(
        @"^```sh\r?\n(?<command>.*?)^```",
        RegexOptions.Singleline | RegexOptions.Multiline | RegexOptions.ExplicitCapture,
        matchTimeoutMilliseconds: 1000
    )]
    private static partial Regex ShellBlock();
}
