using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Templates;
using Handwheel.Nc;

namespace Handwheel.Web.Features.Templates;

/// <summary>What a template says, in words for people.</summary>
static class TemplateWords
{
    const int ExampleMost = 80;

    /// <summary>A kind of step: <c>air cut, each tool: Gauge block between the tip and what is under it</c>.</summary>
    public static string Of(string kind)
    {
        if (StepKinds.Find(kind) is not { } known)
            return kind;
        var many = kind.Contains(".tool.", StringComparison.Ordinal) ? ", each tool" : "";
        var example = known.Example.Length > ExampleMost ? known.Example[..ExampleMost].TrimEnd() + "…" : known.Example;
        var before = kind.Contains('*', StringComparison.Ordinal) && !known.TakesTitle ? "for example " : "";
        return $"{PhaseOf(known.Phase)}{many}: {before}{example}";
    }

    /// <summary>A phase as the file names it.</summary>
    public static string Phase(string name) => PhaseOf((Phase)ProvingTemplateFile.Phases.ToList().IndexOf(name));

    public static string PhaseOf(Phase phase) => Floor.StepWords.Of(phase);

    /// <summary>A group of the cards of ready.</summary>
    public static string Group(string group) =>
        group switch
        {
            ReadyOrder.Check => "the check's findings",
            ReadyOrder.Program => "the program in the control",
            ReadyOrder.Table => "the table",
            ReadyOrder.Tools => "the tools",
            ReadyOrder.Offsets => "the work offsets",
            _ => "the machine made ready",
        };

    /// <summary>The rules and limits with what holds where nothing is said.</summary>
    public static IEnumerable<(string What, string Is)> Rules(ProvingTemplate template)
    {
        yield return ("Another person reads the registers at restore and signs", YesNo(template.SecondPersonAtRestore));
        yield return ("A proven program that is set up again is air cut again", YesNo(template.AirCutWhenSetUpAgain));
        yield return ("The supervisor who releases did none of the steps", YesNo(template.ReleaseByAnotherPerson));
        yield return (
            "Highest rapid override for the first cut",
            template.FirstCutRapidPercent is { } percent
                ? percent.ToString("0.#", System.Globalization.CultureInfo.InvariantCulture) + " %"
                : "25 %, the most"
        );
        yield return (
            "Largest first-piece correction that reopens only the measuring",
            Limit(template.CorrectionLimit, template.Units, "0.020 in or 0.5 mm, the most")
        );
        yield return (
            "How far the tallest thing may measure from what the setup describes",
            Limit(template.HeightTolerance, template.Units, "0.040 in or 1 mm, the most")
        );
        yield return (
            "Order of the cards of ready",
            template.ReadyFirst.Count == 0
                ? "the usual one"
                : string.Join(", ", ReadyOrder.With(template.ReadyFirst).Select(Group))
        );
    }

    static string YesNo(bool yes) => yes ? "yes" : "no";

    static string Limit(Length? length, Units units, string otherwise) =>
        length is { } limit ? $"{limit.ToRegisterText(units)} {units.Symbol()}" : otherwise;
}
