using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>The bar: every planted hazard is found, and no clean program has a stop.</summary>
public sealed class CorpusTests
{
    public static TheoryData<string> Planted() => [.. Corpus.Planted.Select(p => p.Name)];

    public static TheoryData<string> Clean() => [.. Corpus.Clean.Select(p => p.Name)];

    [Theory]
    [MemberData(nameof(Planted))]
    public void A_planted_hazard_is_found(string name)
    {
        var program = Corpus.Planted.Single(p => p.Name == name);
        Assert.Contains(Setups.Run(program.Program, program.Setup).Findings, f => f.Id == program.Hazard);
    }

    [Theory]
    [MemberData(nameof(Clean))]
    public void A_clean_program_has_no_stop(string name)
    {
        var program = Corpus.Clean.Single(p => p.Name == name);
        var result = Setups.Run(program.Program, program.Setup);
        Assert.Empty(result.Findings.Where(f => f.Level == Level.Stop).Select(f => $"{f.Id} {f.Line} {f.Message}"));
        // the pages' second programs show one thing each and may have a check of another kind
        if (name.StartsWith("page of", StringComparison.Ordinal))
            return;
        Assert.Empty(result.Findings.Where(f => f.Level > Level.Note).Select(f => $"{f.Id} {f.Line} {f.Message}"));
        Assert.DoesNotContain(result.NotChecked, n => n.StartsWith("rapids through stock", StringComparison.Ordinal));
    }

    [Fact]
    public void The_corpus_is_large_enough() =>
        Assert.True(Corpus.Planted.Count >= 60 + 40 && Corpus.Clean.Count >= 40 + 40);
}
