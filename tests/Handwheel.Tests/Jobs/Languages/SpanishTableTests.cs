using System.Text.Json;
using System.Text.RegularExpressions;
using Handwheel.Jobs.Findings;
using Handwheel.Jobs.Languages;
using Handwheel.Tests.Tidy;

namespace Handwheel.Tests.Jobs.Languages;

/// <summary>Every text that the pages at the machine ask for has a Spanish one that fits it, and the tables hold no other.</summary>
public sealed partial class SpanishTableTests
{
    const string WaitsForReader = "native speaker of the trade";

    /// <summary>What is not translated yet; a text that is has to go from here.</summary>
    static readonly string[] NotYet = [];

    static IEnumerable<string> Sources =>
        Repository
            .Files("src", "*.cs")
            .Concat(Repository.Files("src", "*.razor"))
            .Where(f => !f.Contains("/Languages/", StringComparison.Ordinal));

    static readonly Lazy<HashSet<string>> AskedInCode = new(() =>
        Sources
            .SelectMany(f => SaidKeys.InCode(Repository.Read(f)))
            .Concat(AllRules.Infos.Select(i => i.Id.Replace('-', ' ')))
            .ToHashSet(StringComparer.Ordinal)
    );

    static readonly Lazy<HashSet<string>> KeptInCode = new(() =>
        Sources.SelectMany(f => SaidKeys.KeptInCode(Repository.Read(f))).ToHashSet(StringComparer.Ordinal)
    );

    static readonly Lazy<HashSet<string>> AskedInScripts = new(() =>
        Directory
            .EnumerateFiles(Path.Combine(Repository.Root, "wwwroot"), "*.js")
            .Where(f => Path.GetFileName(f) is not "said.js")
            .SelectMany(f => SaidKeys.InScript(File.ReadAllText(f)))
            .ToHashSet(StringComparer.Ordinal)
    );

    static Dictionary<string, Translation> ScriptTable()
    {
        var script = Repository.Read("wwwroot/words-es.js");
        var table = script[script.IndexOf('{', StringComparison.Ordinal)..].TrimEnd().TrimEnd(';');
        using var json = JsonDocument.Parse(table);
        return json
            .RootElement.EnumerateObject()
            .ToDictionary(
                t => t.Name,
                t => new Translation(
                    t.Value.GetProperty("es").GetString()!,
                    t.Value.TryGetProperty("waits", out var waits) ? waits.GetString() : null
                ),
                StringComparer.Ordinal
            );
    }

    [Fact]
    public void Every_text_of_the_code_has_a_Spanish_one_and_none_is_left_over()
    {
        Assert.True(AskedInCode.Value.Count > 800, "the sources were not found");
        Assert.Equal(NotYet.Order(), AskedInCode.Value.Except(SpanishTable.All.Keys).Order());
        Assert.Empty(SpanishTable.All.Keys.Except(AskedInCode.Value));
    }

    /// <summary>Words of the follower's refusals are in a file of their own: they come as values, and <see cref="KeptTextsTests"/> asks for them.</summary>
    [Fact]
    public void Every_text_that_is_kept_and_said_later_has_a_Spanish_one_and_none_is_left_over()
    {
        Assert.True(KeptInCode.Value.Count > 150, "the sources were not found");
        using var faults = JsonDocument.Parse(Repository.Read("src/Handwheel.Jobs/Languages/Spanish/Kept/faults.json"));
        var refusals = faults.RootElement.EnumerateObject().Select(t => t.Name);
        Assert.Empty(KeptInCode.Value.Except(SpanishTable.Kept.Keys));
        Assert.Empty(SpanishTable.Kept.Keys.Except(KeptInCode.Value).Except(refusals));
        Assert.All(SpanishTable.Kept.Values, t => Assert.Equal(WaitsForReader, t.Waits));
    }

    [Fact]
    public void Every_text_of_the_scripts_has_a_Spanish_one_and_none_is_left_over()
    {
        Assert.True(AskedInScripts.Value.Count > 50, "the scripts were not found");
        var table = ScriptTable();
        Assert.Empty(AskedInScripts.Value.Except(table.Keys));
        Assert.Empty(table.Keys.Except(AskedInScripts.Value));
    }

    [Fact]
    public void A_translation_has_the_values_the_edges_and_the_marks_of_its_text() =>
        Assert.Empty(
            SpanishTable
                .All.Concat(SpanishTable.Kept)
                .Concat(ScriptTable())
                .Where(t => !Fits(t.Key, t.Value))
                .Select(t => $"{t.Key} → {t.Value.Text}")
        );

    [Theory]
    [InlineData("Read {0}", "Lea {0}", true)]
    [InlineData("Read {0}", "Lea", false)]
    [InlineData("{0} of {1}", "{1} de {0}", true)]
    [InlineData("First: ", "Primero:", false)]
    [InlineData("First", "", false)]
    public void What_does_not_fit_is_seen(string english, string spanish, bool fits) =>
        Assert.Equal(fits, Fits(english, new(spanish, null)));

    static bool Fits(string english, Translation translation) =>
        translation.Text.Trim().Length > 0
        && Values(english).SetEquals(Values(translation.Text))
        && english.StartsWith(' ') == translation.Text.StartsWith(' ')
        && english.EndsWith(' ') == translation.Text.EndsWith(' ')
        && translation.Waits is null or WaitsForReader;

    static HashSet<string> Values(string text) =>
        Value().Matches(text).Select(m => m.Value).ToHashSet(StringComparer.Ordinal);

    /// <summary>Steps, refusals, interlocks and what is said of readings: what a hand is put near the spindle on.</summary>
    [Theory]
    [InlineData("src/Handwheel.Jobs/Proving")]
    [InlineData("src/Handwheel.Jobs/Readings")]
    public void Safety_texts_wait_for_a_reader_of_the_trade(string folder)
    {
        var asked = Repository.Files(folder, "*.cs").SelectMany(f => SaidKeys.InCode(Repository.Read(f))).ToList();
        Assert.NotEmpty(asked);
        Assert.All(asked, key => Assert.Equal(WaitsForReader, SpanishTable.All[key].Waits));
    }

    [Fact]
    public void Texts_are_found_as_the_compiler_reads_them()
    {
        const string code = """
            Said.In("plain"); Said.In( $"{a.B("x")} of {c:0.0}, " + $"and {(d ? Said.In($"in {e}") : "")}" ); Said.In($"{{0}} \"q\"");
            """;
        Assert.Equal(["plain", "{0} of {1}, and {2}", "in {0}", "{{0}} \"q\""], SaidKeys.InCode(code));
        Assert.Equal(["Kept {0}, {1}."], SaidKeys.InScript("x = said`Kept ${f(`a${b}`)}, ${c}.`;"));
        Assert.Throws<FormatException>(() =>
            SaidKeys.InCode("Said.In(words); // and what follows it here is long enough").ToList()
        );
    }

    [GeneratedRegex(@"\{\d+\}", RegexOptions.NonBacktracking)]
    private static partial Regex Value();
}
