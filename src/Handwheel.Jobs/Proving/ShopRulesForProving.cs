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
    public decimal FirstCutRapidPercent { get; init; } = 25;

    /// <summary>Largest first-piece correction that reopens only the measuring; null: 0.020 in or 0.5 mm.</summary>
    public Length? CorrectionLimit { get; init; }

    /// <summary>How far the tallest thing may measure from what the setup describes; null: 0.040 in or 1 mm.</summary>
    public Length? HeightTolerance { get; init; }

    /// <summary>Another title for a step, by its id.</summary>
    public IReadOnlyDictionary<string, string> Wording { get; init; } = new Dictionary<string, string>();

    /// <summary>Steps of the shop's own: ticks at the end of a phase, before it is signed.</summary>
    public IReadOnlyList<ExtraStep> ExtraSteps { get; init; } = [];

    public Length CorrectionLimitIn(Units units) =>
        CorrectionLimit ?? Length.From(units == Units.Inch ? 0.020m : 0.5m, units);

    public Length HeightToleranceIn(Units units) =>
        HeightTolerance ?? Length.From(units == Units.Inch ? 0.040m : 1m, units);
}

/// <summary>A tick that a shop adds. <c>Key</c>: lower-case letters, digits and hyphens.</summary>
public sealed record ExtraStep(Phase Phase, string Key, string Title, string Why);
