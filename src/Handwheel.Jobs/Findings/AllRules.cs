using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>Every rule there is. A rule that is not here does not exist: pages, help and tests go by this list.</summary>
public static class AllRules
{
    /// <summary>Ids, levels and titles, in the order of their ids.</summary>
    public static IReadOnlyList<RuleInfo> Infos { get; } =
    [
        .. For(new Facts(Empty(), new ProgramTexts("", [])))
            .Select(r => r.Info)
            .OrderBy(i => i.Id, StringComparer.Ordinal),
    ];

    internal static Rule[] For(Facts facts) =>
        [
            new CannotReadRule(facts),
            new CannotFollowRule(facts),
            new SameGroupTwiceRule(facts),
            new NoEndRule(facts),
            new NeverEndsRule(facts),
            new UnitsNotStatedRule(facts),
            new UnitsDifferRule(facts),
            new WholeNumberLengthsRule(facts),
            new NoFeedRule(facts),
            new FeedModeLeftOnRule(facts),
            new BlockDeleteMattersRule(facts),
            new ToolNotListedRule(facts),
            new ListedToolUnusedRule(facts),
            new LengthOffsetIsNotTheToolsRule(facts),
            new MovesWithoutLengthOffsetRule(facts),
            new LengthOffsetUnknownRule(facts),
            new DiameterOffsetIsNotTheToolsRule(facts),
            new CompensationLeftOnRule(facts),
            new ToolChangeLowRule(facts),
            new XyzApproachInOneRule(facts),
            new LengthValueSuspiciousRule(facts),
            new DiameterOffsetMissingRule(facts),
            new CompensationEntryRule(facts),
            new NoSafeRestartRule(facts),
            new HolderContactRule(facts),
            new LowBetweenHolesRule(facts),
            new RapidIntoStockRule(facts),
            new ShankContactRule(facts),
            new PlungeRule(facts),
            new NoCoolantRule(facts),
            new HoldsSuppressedRule(facts),
            new WorkOffsetNotSetRule(facts),
            new WorkOffsetUnusedRule(facts),
            new MovesBeforeWorkOffsetRule(facts),
            new ProgramWritesOffsetsRule(facts),
            new ShiftedCoordinatesRule(facts),
            new NotRaisedRule(facts),
            new OutsideTravelRule(facts),
            new OutsideTravelWhenRaisedRule(facts),
            new NoAirCutWindowRule(facts),
            new LowReferenceReturnRule(facts),
            new RapidIntoHoldingRule(facts),
            new FeedIntoHoldingRule(facts),
            new RapidBelowApproachRule(facts),
            new BelowStockRule(facts),
            new ArcRadiiDifferRule(facts),
            new ArcNoCentreRule(facts),
            new ArcFullCircleByRadiusRule(facts),
            new IncrementalLeftOnRule(facts),
            new OneMoreAxisRule(facts),
            new StopThenMovesClampsRule(facts),
            new OverSpindleLimitRule(facts),
            new OverFeedLimitRule(facts),
            new SpindleNotTurningRule(facts),
            new WrongSpindleDirectionRule(facts),
            new TapFeedRule(facts),
            new CuttingSpeedRule(facts),
            new ChipLoadRule(facts),
            new DepthOfCutRule(facts),
        ];

    static Setup Empty() =>
        new()
        {
            Units = Units.Inch,
            Machine = new Machine { Travel = new Travel(default, default, default) },
            WorkOffsets = new Dictionary<WorkOffsetName, Offset>(),
            Tools = [],
        };
}
