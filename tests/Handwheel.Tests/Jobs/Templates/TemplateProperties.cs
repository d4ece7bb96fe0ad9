using CsCheck;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Templates;
using Handwheel.Tests.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Templates;

/// <summary>Whatever a shop puts into its templates, no step goes, nothing is compared otherwise and no interlock gives way.</summary>
public class TemplateProperties
{
    static readonly ShopRulesForProving None = new() { ReadWear = false };

    [Fact]
    public void Every_step_stays_what_it_is_and_waits_for_no_less() =>
        Gen.Select(RandomTemplates.Any, RandomTemplates.Any, Gen.Bool, Gen.Bool)
            .Sample(
                (shop, machine, airCut, again) =>
                {
                    var rules = RandomTemplates.Rules(shop, machine);
                    var purpose = again ? Purpose.SetUpAgain : Purpose.Prove;
                    var before = StepTable.For(Plan(2, None, purpose, airCut), airCutWanted: false);
                    var after = StepTable.For(Plan(2, rules, purpose, airCut), airCutWanted: false);
                    foreach (var step in before.Rules)
                        SameOrStricter(step, after.Find(step.Id));
                    Assert.True(after.HasAirCut || !before.HasAirCut);
                    Assert.Equal(before.UsedRegisters, after.UsedRegisters);
                    Assert.Equal(before.RaisedRegisters, after.RaisedRegisters);
                    Assert.Equal(after.Rules.Select(r => r.Phase).Order(), after.Rules.Select(r => r.Phase));
                    Assert.True(
                        rules.CorrectionLimitIn(Handwheel.Nc.Units.Inch)
                            <= None.CorrectionLimitIn(Handwheel.Nc.Units.Inch)
                    );
                    Assert.True(
                        rules.HeightToleranceIn(Handwheel.Nc.Units.Inch)
                            <= None.HeightToleranceIn(Handwheel.Nc.Units.Inch)
                    );
                },
                iter: 300
            );

    static void SameOrStricter(StepRule before, StepRule? after)
    {
        Assert.True(after is not null, before.Id + " is gone");
        Assert.Equal(before.Title, after.Standard ?? after.Title);
        Assert.Superset(before.After.ToHashSet(), after.After.ToHashSet());
        Assert.Superset(before.Follows.ToHashSet(), after.Follows.ToHashSet());
        Assert.True(after.AtMost <= before.AtMost);
        // what is left is the same to the letter: what it takes and compares, blind or not, what it rests on, where to look
        Assert.Equivalent(
            before,
            after with
            {
                Title = before.Title,
                Standard = null,
                ShopSays = null,
                After = before.After,
                Follows = before.Follows,
                AtMost = before.AtMost,
            },
            strict: true
        );
    }

    [Fact]
    public void No_sequence_of_actions_breaks_an_interlock_under_any_template() =>
        Gen.Select(RandomTemplates.Any, RandomTemplates.Any, Gen.Int[0, 1_000_000].Array[20, 160])
            .Sample(
                (shop, machine, choices) =>
                    Assert.Null(InterlockProperties.Broken(Plan(1, RandomTemplates.Rules(shop, machine)), choices)),
                iter: 200
            );

    [Fact]
    public void No_state_breaks_an_interlock_under_any_template() =>
        Gen.Select(RandomTemplates.Any, RandomTemplates.Any)
            .Sample(
                (shop, machine) =>
                {
                    var (states, broken, _) = SmallModel.Explore(
                        Fault.None,
                        most: 200,
                        Plan(1, RandomTemplates.Rules(shop, machine))
                    );
                    Assert.True(broken is null, broken);
                    Assert.True(states > 100, $"only {states} states");
                },
                iter: 12,
                threads: 1
            );

    [Fact]
    public void A_careful_setter_gets_to_release_under_any_template() =>
        Gen.Select(RandomTemplates.Any, RandomTemplates.Any)
            .Sample(
                (shop, machine) =>
                {
                    var walk = new Walk(Plan(1, RandomTemplates.Rules(shop, machine))).Begin().Until();
                    Assert.Equal(Standing.Released, walk.ProveOut.Standing);
                    Assert.All(
                        walk.ProveOut.Steps.Where(s => s.Phase != Phase.Parking),
                        s => Assert.Equal(StepState.Done, s.State)
                    );
                },
                iter: 30
            );

    [Fact]
    public void A_template_written_and_read_is_the_same() =>
        RandomTemplates.Any.Sample(
            template =>
                Assert.Equivalent(
                    template,
                    ProvingTemplateFile.Read(ProvingTemplateFile.Write(template), "template.json"),
                    strict: true
                ),
            iter: 200
        );
}
