using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Jobs.Templates;

/// <summary>A template with the version that it is.</summary>
public sealed record NumberedTemplate(TemplateVersion Version, ProvingTemplate Template);

/// <summary>The rules of a prove-out from the shop's template and the machine's: the stricter of two limits, the words and steps of both.</summary>
public static class TemplatesInForce
{
    /// <param name="shop">For every machine; null: none.</param>
    /// <param name="machine">For this machine; null: none.</param>
    public static ShopRulesForProving Rules(NumberedTemplate? shop, NumberedTemplate? machine)
    {
        NumberedTemplate[] both = [.. new[] { shop, machine }.OfType<NumberedTemplate>()];
        ProvingTemplate[] all = [.. both.Select(b => b.Template)];
        var rules = new ShopRulesForProving();
        if (all.Length == 0)
            return rules;
        var photos = all.SelectMany(t => t.Steps).Where(s => s.Photo).Select(s => s.Kind).Distinct().ToList();
        return rules with
        {
            SecondPersonAtRestore = all.Any(t => t.SecondPersonAtRestore),
            AirCutWhenSetUpAgain = all.Any(t => t.AirCutWhenSetUpAgain),
            ReleaseByAnotherPerson = all.Any(t => t.ReleaseByAnotherPerson),
            FirstCutRapidPercent = all.Min(t => t.FirstCutRapidPercent) ?? rules.FirstCutRapidPercent,
            CorrectionLimit = Least(all.Select(t => t.CorrectionLimit)),
            HeightTolerance = Least(all.Select(t => t.HeightTolerance)),
            Wording = all.SelectMany(t => t.Steps)
                .Where(s => s.Title.Length > 0)
                .GroupBy(s => s.Kind)
                .ToDictionary(g => g.Key, g => g.Last().Title),
            Added = all.SelectMany(t => t.Steps)
                .Where(s => s.Words.Length > 0)
                .GroupBy(s => s.Kind)
                .ToDictionary(g => g.Key, g => string.Join(' ', g.Select(s => s.Words))),
            Photos = photos.Count > 0 ? photos : null,
            ReadyFirst = all.LastOrDefault(t => t.ReadyFirst.Count > 0)?.ReadyFirst,
            ExtraSteps = Extra(shop?.Template.ExtraSteps ?? [], machine?.Template.ExtraSteps ?? []),
            Versions = [.. both.Select(b => b.Version)],
        };
    }

    static Length? Least(IEnumerable<Length?> limits)
    {
        var given = limits.OfType<Length>().ToList();
        return given.Count == 0 ? null : given.Min();
    }

    /// <summary>Both; a key that both have is told apart.</summary>
    static List<ExtraStep> Extra(IReadOnlyList<ExtraStep> shop, IReadOnlyList<ExtraStep> machine)
    {
        var taken = shop.Concat(machine).Select(e => e.Key).ToHashSet(StringComparer.Ordinal);
        var shops = shop.Select(e => e.Key).ToHashSet(StringComparer.Ordinal);
        return [.. shop, .. machine.Select(e => shops.Contains(e.Key) ? e with { Key = Other(e.Key, taken) } : e)];
    }

    static string Other(string key, HashSet<string> taken)
    {
        do key += "-here";
        while (!taken.Add(key));
        return key;
    }
}
