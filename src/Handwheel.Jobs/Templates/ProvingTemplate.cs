using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Jobs.Templates;

/// <summary>
/// What a shop says about its prove-outs, for every machine or for one: the document <c>handwheel-proving/1</c>. It adds steps and
/// words, asks for photos and tightens limits; there is nothing in it that could leave out a step or change what is compared.
/// </summary>
public sealed record ProvingTemplate
{
    /// <summary>The units of the two lengths.</summary>
    public required Units Units { get; init; }

    /// <summary>See <see cref="ShopRulesForProving.SecondPersonAtRestore"/>.</summary>
    public bool SecondPersonAtRestore { get; init; }

    /// <summary>See <see cref="ShopRulesForProving.AirCutWhenSetUpAgain"/>.</summary>
    public bool AirCutWhenSetUpAgain { get; init; }

    /// <summary>See <see cref="ShopRulesForProving.ReleaseByAnotherPerson"/>.</summary>
    public bool ReleaseByAnotherPerson { get; init; }

    /// <summary>Percent, above 0 and at most <see cref="ShopRulesForProving.MostFirstCutRapidPercent"/>; null: that.</summary>
    public decimal? FirstCutRapidPercent { get; init; }

    /// <summary>At most <see cref="ShopRulesForProving.MostCorrection"/>; null: that.</summary>
    public Length? CorrectionLimit { get; init; }

    /// <summary>At most <see cref="ShopRulesForProving.MostHeightTolerance"/>; null: that.</summary>
    public Length? HeightTolerance { get; init; }

    /// <summary>Which cards of ready come first, by the names of <see cref="ReadyOrder.All"/>; the others follow in their usual order.</summary>
    public IReadOnlyList<string> ReadyFirst { get; init; } = [];

    /// <summary>Each kind of step at most once.</summary>
    public IReadOnlyList<StepWording> Steps { get; init; } = [];

    /// <summary>Each key at most once.</summary>
    public IReadOnlyList<ExtraStep> ExtraSteps { get; init; } = [];

    /// <summary>Nothing is said: every step as the app has it.</summary>
    public static ProvingTemplate Nothing(Units units) => new() { Units = units };
}

/// <summary>What a shop says about one kind of step.</summary>
/// <param name="Kind">One of <see cref="StepKinds.All"/>.</param>
/// <param name="Title">The step in the shop's words, shown above the app's; empty: the app's alone. Only where <see cref="StepKind.TakesTitle"/>.</param>
/// <param name="Words">Added below the step; may be empty.</param>
/// <param name="Photo">A photo is asked for, as a step of its own.</param>
public sealed record StepWording(string Kind, string Title, string Words, bool Photo);
