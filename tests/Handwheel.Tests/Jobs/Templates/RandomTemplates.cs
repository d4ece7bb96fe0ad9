using CsCheck;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Templates;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Templates;

/// <summary>Templates with anything in them that the file lets a shop say.</summary>
static class RandomTemplates
{
    static readonly string[] Texts = ["", "torque wrench, drawer 3", "read \"NOTHING\" here", "T1 -18.1250"];

    static readonly Gen<string> Words = Gen.Int[0, Texts.Length - 1].Select(i => Texts[i]);

    static readonly Gen<decimal?> Share = Gen.OneOf(
        Gen.Const((decimal?)null),
        Gen.Int[1, 100].Select(p => (decimal?)p / 100)
    );

    static readonly Gen<StepWording> Wording = Gen.Select(
        Gen.Int[0, StepKinds.All.Count - 1],
        Words,
        Words,
        Gen.Bool,
        (at, title, words, photo) =>
        {
            var kind = StepKinds.All[at];
            return new StepWording(kind.Name, kind.TakesTitle ? title : "", words, photo && kind.TakesPhoto);
        }
    );

    static readonly Gen<ExtraStep> Extra = Gen.Select(
        Gen.Int[0, ProvingTemplateFile.Phases.Count - 1],
        Gen.Int[1, 9],
        Words,
        Gen.Bool,
        Gen.Bool,
        (phase, key, words, asks, photo) =>
            new ExtraStep((Phase)phase, "own-" + (char)('0' + key), "Look at the chip guard", words)
            {
                Where = words.Length > 0 ? words : null,
                AsksWords = asks,
                Photo = photo,
            }
    );

    public static readonly Gen<ProvingTemplate> Any = Gen.Select(
        Gen.Select(Gen.Bool, Gen.Bool, Gen.Bool, Gen.Bool),
        Gen.Select(Share, Share, Share),
        Gen.Shuffle(ReadyOrder.All.ToArray(), 0, ReadyOrder.All.Count),
        Wording.List[0, 12],
        Extra.List[0, 5],
        (yes, shares, first, steps, extra) =>
        {
            var units = yes.Item4 ? Units.Inch : Units.Millimetre;
            return new ProvingTemplate
            {
                Units = units,
                SecondPersonAtRestore = yes.Item1,
                AirCutWhenSetUpAgain = yes.Item2,
                ReleaseByAnotherPerson = yes.Item3,
                FirstCutRapidPercent = shares.Item1 is { } s ? decimal.Round(s * 24, 1) + 1 : null,
                CorrectionLimit = Of(ShopRulesForProving.MostCorrection(units), shares.Item2, units),
                HeightTolerance = Of(ShopRulesForProving.MostHeightTolerance(units), shares.Item3, units),
                ReadyFirst = first,
                Steps = [.. steps.DistinctBy(s => s.Kind)],
                ExtraSteps = [.. extra.DistinctBy(e => e.Key)],
            };
        }
    );

    static Length? Of(Length most, decimal? share, Units units) =>
        share is { } s ? Length.From(decimal.Round(most.In(units) * s, 5), units) : null;

    /// <summary>What a prove-out of the small shop goes by with a template for every machine and one for this machine.</summary>
    public static ShopRulesForProving Rules(ProvingTemplate shop, ProvingTemplate machine) =>
        TemplatesInForce.Rules(
            new(new("every machine", 1, ProvingTemplateFile.Digest(shop)), shop),
            new(new("Mill 2", 2, ProvingTemplateFile.Digest(machine)), machine)
        ) with
        {
            ReadWear = false,
        };
}
