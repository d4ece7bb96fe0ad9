using System.Text;
using System.Text.RegularExpressions;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Findings;
using Handwheel.Jobs.Languages;
using Handwheel.Jobs.Setups;
using Handwheel.Tests.Jobs.Checking;
using Handwheel.Tests.Tidy;

namespace Handwheel.Tests.Jobs.Languages;

/// <summary>
/// What a plan keeps of the check, in English, is said in Spanish: every message that the programs of the rules' own pages and the corpus
/// bring out, as they come, so that a rule whose message has no translation fails here.
/// </summary>
public sealed partial class KeptTextsTests
{
    static readonly Lazy<IReadOnlyList<(string From, string Text, string Given)>> Messages = new(() =>
        [
            .. Corpus
                .Planted.SelectMany(p =>
                    Texts(
                        Check.Run(Encoding.UTF8.GetBytes(p.Program), "corpus.nc", p.Setup),
                        p.Name,
                        p.Program + Encoding.UTF8.GetString(SetupFile.Write(p.Setup))
                    )
                )
                .DistinctBy(t => t.Text),
        ]
    );

    static IEnumerable<(string From, string Text, string Given)> Texts(CheckResult check, string from, string given) =>
        check
            .Findings.Where(f => f.Level is not Level.Note)
            .Select(f => f.Line > 0 ? $"Line {f.Line}: {f.Message}" : f.Message)
            .Concat(check.NearestPasses.Select(p => $"Nearest pass {p.Number}: {p.Message} (without the raise)."))
            .Concat(check.AirCut.Why is { } why ? [why] : [])
            .Select(t => (from, t, given));

    [Fact]
    public void Every_message_that_reaches_a_tablet_is_said_in_Spanish_to_its_last_word()
    {
        Assert.True(Messages.Value.Count > 100, "the corpus brought hardly a message");
        using var spanish = Said.Speak(Language.Spanish);
        Assert.Empty(
            Messages
                .Value.Select(t => StillEnglish(t.Text, t.Given) is { } why ? $"{t.From}: {why}" : null)
                .OfType<string>()
        );
    }

    [Fact]
    public void Every_rule_that_asks_for_a_person_brought_a_message()
    {
        var brought = Corpus.Planted.Select(p => p.Hazard).ToHashSet();
        Assert.All(AllRules.Infos.Where(i => i.Level is not Level.Note), i => Assert.Contains(i.Id, brought));
    }

    [Fact]
    public void What_was_not_translated_is_seen()
    {
        using var spanish = Said.Speak(Language.Spanish);
        Assert.NotNull(StillEnglish("Line 3: the gremlin takes the clamp.", ""));
        Assert.NotNull(
            StillEnglish("Line 3: “X” in column 4 does not make sense. Expected: nothing that was ever translated.", "")
        );
        Assert.Null(StillEnglish("Line 3: “X” in column 4 does not make sense. Expected: a letter and a number.", ""));
    }

    /// <summary>Words that are the same in both, beside names and values that the setup or the program brought.</summary>
    static string? StillEnglish(string english, string given)
    {
        var said = Said.Again(english);
        if (said == english)
            return english;
        var words = Words(said).Intersect(Words(english)).Except(Words(given + Shared.Value)).ToList();
        return words.Count == 0 ? null : $"{string.Join(", ", words)} in: {said}";
    }

    static IEnumerable<string> Words(string text) => Word().Matches(text).Select(m => m.Value.ToLowerInvariant());

    /// <summary>Names of sources of the cutting table, which are cited as they are; words that both languages have.</summary>
    static readonly Lazy<string> Shared = new(() =>
        Repository.Read("src/Handwheel.Jobs/CuttingTables/built-in.json") + " control once rev min hold real decimal"
    );

    [Theory]
    [InlineData(
        "Line 7: T2 drill has the length 5.0000 in, T4 3.0000 in: gauge lengths and touch-off distances are mixed in one list.",
        "Línea 7: T2 drill tiene la altura 5.0000 in, T4 3.0000 in: se mezclan en una lista alturas medidas y distancias de toque."
    )]
    [InlineData(
        "the program writes Z of G54 at line 3, so a raise would be lost; the program was followed only to line 9",
        "el programa escribe Z de G54 en la línea 3, así que se perdería una elevación; el programa se siguió solo hasta la línea 9"
    )]
    [InlineData(
        "Nearest pass 1: The holder of T3 passes 0.2500 in above left clamp (spare); tall, at line 12 (without the raise).",
        "Paso más cercano 1: El portaherramientas de T3 pasa a 0.2500 in por encima de left clamp (spare); tall, en la línea 12 (sin la elevación)."
    )]
    [InlineData(
        "H2 with T1, whose own length offset is H1. The tip goes 1.0000 in below where the program says.",
        "H2 con T1, cuyo corrector de altura propio es H1. La punta va 1.0000 in por debajo de donde dice el programa."
    )]
    public void Values_keep_their_places(string english, string spanish)
    {
        Assert.Equal(english, Said.Again(english));
        using var spoken = Said.Speak(Language.Spanish);
        Assert.Equal(spanish, Said.Again(english));
    }

    [Theory]
    [InlineData("")]
    [InlineData("Something that an older version kept; with {0} braces.")]
    [InlineData("; ")]
    public void What_nobody_knows_is_said_as_it_stands(string kept)
    {
        using var spanish = Said.Speak(Language.Spanish);
        Assert.Equal(kept, Said.Again(kept));
    }

    /// <summary>The follower's own words come to a message as values: each literal of its refusals stands in a text that is translated.</summary>
    [Fact]
    public void What_the_follower_refuses_with_is_translated()
    {
        var keys = string.Join('\n', SpanishTable.Kept.Keys.Select(k => Hole().Replace(k, "{}")));
        var said = Repository
            .Files("src/Handwheel.Nc", "*.cs")
            .SelectMany(f => Refusal().Matches(Repository.Read(f)))
            .SelectMany(m => Literal().Matches(m.Value))
            .Select(m => m.Groups["text"].Value.Trim(' ', '<', '>'))
            .Where(t => Word().IsMatch(t))
            .Select(t => Hole().Replace(InterpolatedHole().Replace(t, "{}"), "{}"))
            .ToHashSet(StringComparer.Ordinal);
        Assert.True(said.Count > 70, "the refusals were not found");
        using var spanish = Said.Speak(Language.Spanish);
        Assert.DoesNotContain(said, t => !keys.Contains(t, StringComparison.Ordinal) && Said.Again(t) == t);
    }

    [GeneratedRegex(@"\{\d+\}", RegexOptions.NonBacktracking)]
    private static partial Regex Hole();

    [GeneratedRegex(@"\{\w+\}", RegexOptions.NonBacktracking)]
    private static partial Regex InterpolatedHole();

    [GeneratedRegex(@"\b[a-z]{3,}\b", RegexOptions.NonBacktracking)]
    private static partial Regex Word();

    [GeneratedRegex("\"(?<text>[^\"\n]*)\"", RegexOptions.NonBacktracking)]
    private static partial Regex Literal();

    /// <summary>A call that says a fault, to the end of its statement.</summary>
    [GeneratedRegex(
        @"\b((CannotFollow|Fail)\(\s*[a-z$""(]|FaultKind\.(CannotRead|CannotFollow|NeverEnds),)[^;]*;",
        RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking
    )]
    private static partial Regex Refusal();
}
