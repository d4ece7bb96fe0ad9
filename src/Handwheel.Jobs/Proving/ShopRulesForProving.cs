using System.Text.Json.Serialization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>What a shop may decide about its prove-outs. None of it weakens an interlock.</summary>
public sealed record ShopRulesForProving
{
    /// <summary>Another person signs that the registers were put back.</summary>
    public bool SecondPersonAtRestore { get; init; }

    /// <summary>A proven program that is set up again is air cut again.</summary>
    public bool AirCutWhenSetUpAgain { get; init; }

    /// <summary>The wear of each length register is read as well.</summary>
    public bool ReadWear { get; init; } = true;

    /// <summary>The supervisor who releases did none of the steps.</summary>
    public bool ReleaseByAnotherPerson { get; init; }

    /// <summary>A photo of the table is asked for.</summary>
    public bool PhotoOfTable { get; init; }

    /// <summary>Highest rapid override for the first cut, percent.</summary>
    public decimal FirstCutRapidPercent { get; init; } = MostFirstCutRapidPercent;

    /// <summary>Largest first-piece correction that reopens only the measuring; null: <see cref="MostCorrection"/>.</summary>
    public Length? CorrectionLimit { get; init; }

    /// <summary>How far the tallest thing may measure from what the setup describes; null: <see cref="MostHeightTolerance"/>.</summary>
    public Length? HeightTolerance { get; init; }

    /// <summary>Another title for a step, by its kind (<see cref="Templates.StepKinds"/>); the app's own stays beside it.</summary>
    public IReadOnlyDictionary<string, string> Wording { get; init; } = new Dictionary<string, string>();

    /// <summary>Steps of the shop's own: at the end of a phase, before it is signed.</summary>
    public IReadOnlyList<ExtraStep> ExtraSteps { get; init; } = [];

    /// <summary>Words of the shop below a step's own, by its kind; null: none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyDictionary<string, string>? Added { get; init; }

    /// <summary>Kinds of steps after which a photo is asked for; null: none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Photos { get; init; }

    /// <summary>Which cards of ready come first, see <see cref="ReadyOrder"/>; null: the usual order.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? ReadyFirst { get; init; }

    /// <summary>The versions of the shop's templates that these rules come from; null: the app's own rules.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<TemplateVersion>? Versions { get; init; }

    /// <summary>Percent; a shop may ask for less.</summary>
    public const decimal MostFirstCutRapidPercent = 25;

    /// <summary>0.020 in or 0.5 mm; a shop may ask for less.</summary>
    public static Length MostCorrection(Units units) => Length.From(units == Units.Inch ? 0.020m : 0.5m, units);

    /// <summary>0.040 in or 1 mm; a shop may ask for less.</summary>
    public static Length MostHeightTolerance(Units units) => Length.From(units == Units.Inch ? 0.040m : 1m, units);

    public Length CorrectionLimitIn(Units units) => AtMost(CorrectionLimit, MostCorrection(units));

    public Length HeightToleranceIn(Units units) => AtMost(HeightTolerance, MostHeightTolerance(units));

    /// <summary>A limit is only ever tightened.</summary>
    static Length AtMost(Length? limit, Length most) => limit is { } length ? Length.Min(length, most) : most;
}

/// <summary>A step that a shop adds. <c>Key</c>: lower-case letters, digits and hyphens.</summary>
public sealed record ExtraStep(Phase Phase, string Key, string Title, string Why)
{
    /// <summary>Where to look; null: as the shop's instruction says.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Where { get; init; }

    /// <summary>Words are asked for with the tick.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public bool AsksWords { get; init; }

    /// <summary>A photo is asked for after it.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public bool Photo { get; init; }
}

/// <summary>A version of a template as a plan names it.</summary>
/// <param name="For"><c>every machine</c>, or the machine's name.</param>
/// <param name="Number">The shop's running number of template versions.</param>
/// <param name="Sha256">Digest of the template's canonical text.</param>
public sealed record TemplateVersion(string For, long Number, string Sha256);
