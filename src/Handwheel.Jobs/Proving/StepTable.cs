using System.Collections.Frozen;
using System.Globalization;

namespace Handwheel.Jobs.Proving;

/// <summary>The steps of one prove-out, in the order in which they are done.</summary>
sealed class StepTable
{
    readonly FrozenDictionary<string, StepRule> byId;

    StepTable(ProveOutPlan plan, bool airCut, IReadOnlyList<StepRule> rules)
    {
        (Plan, HasAirCut, Rules) = (plan, airCut, rules);
        byId = rules.ToFrozenDictionary(r => r.Id);
    }

    public ProveOutPlan Plan { get; }

    /// <summary>False: a proven program is set up again without air cut.</summary>
    public bool HasAirCut { get; }

    /// <summary>All but read-back and put-back, which come and go.</summary>
    public IReadOnlyList<StepRule> Rules { get; }

    public StepRule? Find(string id) => byId.GetValueOrDefault(id);

    public IEnumerable<StepRule> Of(Phase phase) => Rules.Where(r => r.Phase == phase);

    /// <summary>Registers that must be right for the program: work offsets, common offset, shifts, tool lengths.</summary>
    public IEnumerable<Register> UsedRegisters =>
        Plan.Registers.Select(r => r.Register).Concat(Plan.Tools.SelectMany(t => LengthRegisters(Plan, t))).Distinct();

    /// <summary>The registers whose Z the air cut raises.</summary>
    public IEnumerable<Register> RaisedRegisters =>
        Plan.Registers.Select(r => r.Register).Where(r => r.Axis == "z" && r.Name is not ("common" or "shift"));

    public static IEnumerable<Register> LengthRegisters(ProveOutPlan plan, PlannedTool tool)
    {
        if (tool.LengthOffset is not { } h)
            yield break;
        var name = "H" + h.ToString(CultureInfo.InvariantCulture);
        yield return new(name, "length");
        if (plan.Rules.ReadWear)
            yield return new(name, "wear");
    }

    public static StepTable For(ProveOutPlan plan, bool airCutWanted)
    {
        var airCut = plan.Subject.Purpose == Purpose.Prove || plan.Rules.AirCutWhenSetUpAgain || airCutWanted;
        List<StepRule> rules = [.. ReadySteps.For(plan)];
        if (airCut)
        {
            rules.AddRange(AirCutSteps.For(plan));
            rules.AddRange(RestoreSteps.For(plan));
        }
        rules.AddRange(
            CuttingSteps.FirstCut(
                plan,
                airCut ? ["ready.signed", "air-cut.signed", "restore.signed"] : ["ready.signed"]
            )
        );
        rules.AddRange(CuttingSteps.FirstPiece(plan));
        rules.AddRange(CuttingSteps.Release(plan));
        rules.AddRange(AnyTimeSteps.Parking(plan));
        return new(plan, airCut, [.. rules.Select(r => ShopSteps.Worded(plan.Rules, r))]);
    }

    /// <summary>The steps of a phase with what the shop adds, then the signature that ends it.</summary>
    public static IEnumerable<StepRule> Ended(
        IEnumerable<StepRule> steps,
        ProveOutPlan plan,
        Phase phase,
        string prefix,
        string why
    )
    {
        var own = steps.ToList();
        IReadOnlyList<string> begins = phase == Phase.Ready || own.Count == 0 ? [] : own[0].After;
        var all = ShopSteps.WithPhotos(plan, [.. own, .. ShopSteps.Extra(plan, phase, prefix, begins)]).ToList();
        var last = all.Select(s => s.Id).ToList();
        all.Add(
            new()
            {
                Id = prefix + ".signed",
                Phase = phase,
                Card = Said.In("Signature"),
                Title = Said.In($"Sign: {PhaseName(phase)} is done"),
                Where = Said.In("At the machine, after looking at it once more"),
                Why = why,
                Takes = Takes.Signature,
                Signature = SignedAs.Did,
                After = last,
                Follows = last,
                CanDeviate = false,
            }
        );
        return all;
    }

    public static string PhaseName(Phase phase) =>
        phase switch
        {
            Phase.Ready => Said.In("ready"),
            Phase.AirCut => Said.In("air cut"),
            Phase.Restore => Said.In("restore"),
            Phase.FirstCut => Said.In("first cut"),
            Phase.FirstPiece => Said.In("first piece"),
            Phase.Release => Said.In("release"),
            Phase.ReadBack => Said.In("read back"),
            _ => Said.In("parking"),
        };
}
