using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Findings;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Every rule's page is its help, its example and its test: the marked program has it, the other one nearly has it.</summary>
public sealed class FindingPagesTests
{
    public static TheoryData<string> Ids() => [.. AllRules.Infos.Select(i => i.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void The_example_has_it_at_the_marked_blocks_and_nowhere_else(string id)
    {
        var page = FindingPages.Of(id)!;
        var found = Check(page, page.Example).Findings.Where(f => f.Id == id).ToList();
        var marked = MarkedLines(page.Example);
        Assert.Equal(marked.Count == 0 ? [0] : marked, found.Select(f => f.Line));
        Assert.All(found, f => Assert.Equal(Marked(page.Example, f.Line), f.Block));
        Assert.All(found, f => Assert.Contains(' ', f.Message));
        Assert.All(found, f => Assert.EndsWith(".", f.Remedy, StringComparison.Ordinal));
        Assert.All(found, f => Assert.True(f.Level <= page.Rule.Level || id == "never-ends"));
        Assert.Contains(found, f => f.Level == page.Rule.Level || id == "below-stock");
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void The_example_that_nearly_has_it_is_quiet(string id)
    {
        var page = FindingPages.Of(id)!;
        Assert.DoesNotContain('⟦', page.NotThis);
        var result = Check(page, page.NotThis);
        Assert.DoesNotContain(result.Findings, f => f.Id == id);
        Assert.DoesNotContain(result.Findings, f => f.Level == Level.Stop);
    }

    [Fact]
    public void Every_rule_has_a_page_and_every_page_a_rule()
    {
        Assert.Equal(AllRules.Infos.Select(i => i.Id), FindingPages.Carried);
        Assert.Equal(FindingPages.Carried.Count, FindingPages.All.Count);
    }

    [Fact]
    public void A_rule_that_does_something_about_a_change_says_which() =>
        Assert.All(
            AllRules.For(new Facts(Setups.Inch(), new ProgramTexts("", []))),
            rule =>
                Assert.Equal(
                    rule.GetType().GetMethod(nameof(Rule.Modal))!.DeclaringType != typeof(Rule),
                    rule.Hears != Handwheel.Nc.Changes.None
                )
        );

    [Fact]
    public void Every_rule_is_in_the_list_once_and_named_like_its_file()
    {
        var rules = AllRules.For(new Facts(Setups.Inch(), new ProgramTexts("", [])));
        var types = typeof(AllRules).Assembly.GetTypes().Where(t => t.IsSubclassOf(typeof(Rule)));
        Assert.Equal(types.Select(t => t.Name).Order(), rules.Select(r => r.GetType().Name).Order());
        foreach (var rule in rules)
        {
            var words = rule.Info.Id.Split('-').Select(w => char.ToUpperInvariant(w[0]) + w[1..]);
            Assert.Equal(string.Concat(words) + "Rule", rule.GetType().Name);
        }
    }

    [Fact]
    public void A_page_with_another_title_is_refused()
    {
        var rule = new RuleInfo("no-feed", Level.Stop, "A feed move with no feed");
        var page = FindingPages.Of("no-feed")!.Markdown;
        Assert.Throws<InvalidOperationException>(() => FindingPages.Parse(rule, "# Another title\n" + page));
        Assert.Throws<InvalidOperationException>(() =>
            FindingPages.Parse(rule, page.Replace("## Why", "## Reason", StringComparison.Ordinal))
        );
    }

    static CheckResult Check(FindingPage page, string program)
    {
        var setup = SetupFile.Read(Encoding.UTF8.GetBytes(page.Setup!), page.Id + ".md");
        return Handwheel.Jobs.Checking.Check.Run(Encoding.UTF8.GetBytes(Plain(program)), "example.nc", setup);
    }

    static string Plain(string program) =>
        program.Replace("⟦", "", StringComparison.Ordinal).Replace("⟧", "", StringComparison.Ordinal);

    static List<int> MarkedLines(string program) =>
        [
            .. program
                .Split('\n')
                .Index()
                .Where(l => l.Item.Contains('⟦', StringComparison.Ordinal))
                .Select(l => l.Index + 1),
        ];

    static string Marked(string program, int line)
    {
        if (line == 0)
            return "";
        var text = program.Split('\n')[line - 1];
        Assert.StartsWith("⟦", text, StringComparison.Ordinal);
        return Plain(text);
    }
}
