using Handwheel.Jobs.Templates;

namespace Handwheel.Jobs.Proving;

/// <summary>What a shop's rules put on top of the step table: steps and photos at the end, words beside the app's own.</summary>
static class ShopSteps
{
    /// <summary>The shop's own steps of a phase.</summary>
    /// <param name="prefix">What the ids of the phase begin with.</param>
    /// <param name="after">What they wait for.</param>
    public static IEnumerable<StepRule> Extra(
        ProveOutPlan plan,
        Phase phase,
        string prefix,
        IReadOnlyList<string> after
    ) =>
        plan
            .Rules.ExtraSteps.Where(e => e.Phase == phase)
            .Select(extra => new StepRule
            {
                Id = $"{prefix}.shop.{extra.Key}",
                Phase = phase,
                Card = Said.In("This shop's own"),
                Title = extra.Title,
                Where = extra.Where ?? Said.In("As the shop's instruction says"),
                Why = extra.Why,
                Takes = extra.AsksWords ? Takes.TickWithWords : Takes.Tick,
                After = after,
            });

    /// <summary>A photo behind each step that the shop wants one of. A step opened again asks for its photo again.</summary>
    public static IEnumerable<StepRule> WithPhotos(ProveOutPlan plan, IEnumerable<StepRule> steps)
    {
        foreach (var step in steps)
        {
            yield return step;
            if (Wanted(plan.Rules, step))
                yield return new()
                {
                    Id = step.Id + ".photo",
                    Phase = step.Phase,
                    Card = step.Card,
                    Title = Said.In("Photo: ") + Worded(plan.Rules, step).Title,
                    Where = step.Where,
                    Why = Said.In("This shop wants to see later how it was."),
                    Takes = Takes.Photo,
                    After = [step.Id],
                    Follows = [step.Id],
                    Cautions =
                    [
                        Said.In("Take it from where you stand safely: no hand and no tablet among what can move."),
                    ],
                };
        }
    }

    static bool Wanted(ShopRulesForProving rules, StepRule step) =>
        rules.Photos?.Contains(StepKinds.Of(step.Id), StringComparer.Ordinal) == true
        || (rules.PhotoOfTable && step.Id == "ready.table")
        || rules.ExtraSteps.Any(e => e.Photo && step.Id.EndsWith(".shop." + e.Key, StringComparison.Ordinal));

    public static StepRule Worded(ShopRulesForProving rules, StepRule step)
    {
        var kind = StepKinds.Of(step.Id);
        var title = rules.Wording.GetValueOrDefault(step.Id) ?? rules.Wording.GetValueOrDefault(kind);
        return step with
        {
            Title = title ?? step.Title,
            Standard = title is null ? null : step.Title,
            ShopSays = rules.Added?.GetValueOrDefault(kind),
        };
    }
}
