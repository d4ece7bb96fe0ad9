using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>All rules of one run, and which of them want to see moves at the moment. What happens often is told only to the rules that do something about it.</summary>
sealed class RuleSet
{
    readonly Rule[] rules;
    readonly Rule[] watchers;
    readonly Rule[] oddMoves;
    readonly Rule[] lowMoves;
    readonly Rule[] rapidMoves;
    readonly Rule[] cycleMoves;
    readonly Rule[] holesAgain;
    readonly (Rule Rule, Changes Hears)[] modal;
    readonly Rule[] toolChanges;
    readonly List<Rule> watching = [];

    public RuleSet(Facts facts)
    {
        rules = AllRules.For(facts);
        watchers = Hearing(nameof(Rule.Watches));
        oddMoves = Hearing(nameof(Rule.OddMove));
        lowMoves = Hearing(nameof(Rule.LowMove));
        rapidMoves = Hearing(nameof(Rule.RapidMove));
        cycleMoves = Hearing(nameof(Rule.CycleMove));
        holesAgain = Hearing(nameof(Rule.HoleAgain));
        modal = [.. rules.Where(r => r.Hears != Changes.None).Select(r => (r, r.Hears))];
        toolChanges = Hearing(nameof(Rule.ToolChange));
        Travel = rules.OfType<OutsideTravelRule>().Single();
        BlockDelete = rules.OfType<BlockDeleteMattersRule>().Single();
        Restart = rules.OfType<NoSafeRestartRule>().Single();
        Material = new MaterialRules(facts, rules);
        Holding = new HoldingRules(
            facts,
            rules.OfType<RapidIntoHoldingRule>().Single(),
            rules.OfType<FeedIntoHoldingRule>().Single(),
            rules.OfType<LowBetweenHolesRule>().Single(),
            rules.OfType<HolderContactRule>().Single()
        );
    }

    /// <summary>Looked at for every move, so the run asks it directly.</summary>
    public OutsideTravelRule Travel { get; }
    public HoldingRules Holding { get; }
    public BlockDeleteMattersRule BlockDelete { get; }
    public NoSafeRestartRule Restart { get; }
    public MaterialRules Material { get; }

    /// <summary>The rules that override this method.</summary>
    Rule[] Hearing(string method) =>
        Array.FindAll(rules, r => r.GetType().GetMethod(method)!.DeclaringType != typeof(Rule));

    /// <summary>Some rule wants to see the next move.</summary>
    public bool Watching { get; private set; }

    /// <summary>Something modal changed: asks every rule again.</summary>
    public void Look(in ControlState state)
    {
        watching.Clear();
        foreach (var rule in watchers)
        {
            if (rule.Watches(state))
                watching.Add(rule);
        }
        Watching = watching.Count > 0;
    }

    public void Move(in ControlState state, in Leg leg)
    {
        var enough = false;
        foreach (var rule in watching)
        {
            rule.Move(state, leg);
            enough |= rule.SeenEnough;
        }
        if (!enough)
            return;
        watching.RemoveAll(r => r.SeenEnough);
        Watching = watching.Count > 0;
    }

    public void ArcMove(in ControlState state, in Leg leg, in Arc arc)
    {
        foreach (var rule in watching)
            rule.ArcMove(state, leg, arc);
    }

    public void OddMove(in ControlState state, in Leg leg)
    {
        foreach (var rule in oddMoves)
            rule.OddMove(state, leg);
    }

    public void LowMove(in ControlState state, in Leg leg)
    {
        foreach (var rule in lowMoves)
            rule.LowMove(state, leg);
    }

    public void LowArc(in ControlState state, in Leg leg, in Arc arc)
    {
        foreach (var rule in lowMoves)
            rule.LowArc(state, leg, arc);
    }

    public void RapidMove(in ControlState state, in Leg leg)
    {
        foreach (var rule in rapidMoves)
            rule.RapidMove(state, leg);
    }

    public void CycleMove(in ControlState state, in Leg leg)
    {
        foreach (var rule in cycleMoves)
            rule.CycleMove(state, leg);
    }

    public void HoleAgain(in HoleShape hole)
    {
        foreach (var rule in holesAgain)
            rule.HoleAgain(hole);
    }

    public void Modal(in ControlState state, Changes changes)
    {
        foreach (var (rule, hears) in modal)
        {
            if ((changes & hears) != Changes.None)
                rule.Modal(state, changes);
        }
        Material.Modal(state, changes);
        Look(state);
    }

    public void ToolChange(in ControlState state, int previousTool, in Place before)
    {
        foreach (var rule in toolChanges)
            rule.ToolChange(state, previousTool, before);
    }

    public void RegisterWritten(in ControlState state, in RegisterWrite write)
    {
        foreach (var rule in rules)
            rule.RegisterWritten(state, write);
        Look(state);
    }

    public void ShiftSet(in ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ)
    {
        foreach (var rule in rules)
            rule.ShiftSet(state, kind, axes, fromMachineZ);
        Material.ShiftSet(state, kind, axes);
        Look(state);
    }

    public void Fault(in ControlState state, in Fault fault)
    {
        foreach (var rule in rules)
            rule.Fault(state, fault);
        Material.Fault(state, fault);
    }

    public void End(in ControlState state, RunEnd end)
    {
        foreach (var rule in rules)
            rule.End(state, end);
    }

    public void BeforeRaise(Totals totals)
    {
        foreach (var rule in rules)
            rule.BeforeRaise(totals);
    }

    public void Judge(RaiseChoice raise, Totals totals)
    {
        foreach (var rule in rules)
            rule.Judge(raise, totals);
    }
}
