using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>The raise that follows from the window, the step and the shop's limit; with why there is none. Lengths in nm.</summary>
sealed record RaiseChoice
{
    public bool Possible { get; private init; }
    public long? Minimum { get; private init; }
    public long? Maximum { get; private init; }
    public long? Suggested { get; private init; }
    public string? Why { get; private init; }

    /// <summary>Both limits are known and the smallest raise that clears is more than travel allows.</summary>
    public bool NoWindow => Minimum > Maximum;

    /// <summary>There is a window, and the smallest multiple of the step that clears is above it.</summary>
    public long? StepTooHigh { get; private init; }

    public static RaiseChoice From(Facts facts)
    {
        var window = facts.Window;
        var limits = new RaiseChoice { Minimum = MinimumOf(facts), Maximum = MaximumOf(facts) };
        if (window.Undone.Count > 0)
            return limits with { Why = string.Join("; ", window.Undone) };
        if (WhyNotKnown(facts, limits) is { } unknown)
            return limits with { Why = unknown };
        return limits.NoWindow ? limits with { Why = WhyNoWindow(facts, limits) } : Suggest(facts, limits);
    }

    static long? MinimumOf(Facts facts)
    {
        if (facts.Table.HighestTop is not { } top || facts.Window.TipUnknownAt is not null)
            return null;
        var lowest = facts.Window.LowestTip;
        return lowest == long.MaxValue ? 0 : Math.Max(0, top + facts.Clearance - lowest);
    }

    static long? MaximumOf(Facts facts)
    {
        var highest = facts.Window.HighestMachineZ;
        return facts.Window.MachineZUnknownAt is not null || highest == long.MinValue
            ? null
            : facts.Setup.Machine.Travel.Z.High.Nanometres - highest;
    }

    static string? WhyNotKnown(Facts facts, RaiseChoice limits)
    {
        if (!facts.Table.Described)
            return Said.Kept("no stock and no holding are described, so the lowest safe raise is not known");
        if (facts.Table.Unknown is { } solid)
            return Said.Kept($"the height of {solid.Name} is not known: the setup gives no Z for its work offset");
        if (facts.Window.MachineZUnknownAt is { } machine)
            return Said.Kept(
                $"machine Z is not known at line {Figures.Whole(machine.Line)} (T{Figures.Whole(machine.Tool)}): it rests on a register that the setup does not give"
            );
        if (facts.Window.TipUnknownAt is { } tip)
            return Said.Kept(
                $"the length of T{Figures.Whole(tip.Tool)} is not known, so the tip is not known at line {Figures.Whole(tip.Line)}"
            );
        return limits.Maximum is null && limits.Minimum > 0 ? Said.Kept("the highest Z is not known") : null;
    }

    static string WhyNoWindow(Facts facts, RaiseChoice limits)
    {
        var figures = facts.Figures;
        var window = facts.Window;
        return Said.Kept(
            $"no window: {Spot(facts, window.LowestAt)} needs a raise of {figures.Say(limits.Minimum!.Value)}, "
                + $"but {Spot(facts, window.HighestAt)} allows at most {figures.Say(limits.Maximum!.Value)} under the upper Z limit, "
                + $"{figures.Say(limits.Minimum.Value - limits.Maximum.Value)} short"
        );
    }

    static string Spot(Facts facts, Where at) =>
        at.Line == 0
            ? Said.Kept("no move in Z")
            : Said.Kept($"T{Figures.Whole(at.Tool)} at line {Figures.Whole(at.Line)} ({facts.Texts.Block(at)})");

    static RaiseChoice Suggest(Facts facts, RaiseChoice limits)
    {
        var minimum = limits.Minimum!.Value;
        var step = facts.RaiseStep;
        var raise = minimum <= 0 || step <= 0 ? 0 : checked((minimum + step - 1) / step * step);
        var figures = facts.Figures;
        if (raise > limits.Maximum)
        {
            return limits with
            {
                Possible = true,
                StepTooHigh = raise,
                Why = Said.Kept(
                    $"no multiple of {figures.Say(step)} lies between {figures.Say(minimum)} and {figures.Say(limits.Maximum.Value)}: "
                        + $"{Spot(facts, facts.Window.LowestAt)} needs the one, {Spot(facts, facts.Window.HighestAt)} allows the other"
                ),
            };
        }
        if (facts.Setup.AirCut.MaximumRaise is { } most && raise > most.Nanometres)
        {
            return limits with
            {
                Possible = true,
                Why = Said.Kept(
                    $"the smallest multiple of {figures.Say(step)} that clears is {figures.Say(raise)} ({Spot(facts, facts.Window.LowestAt)}), "
                        + $"above the setup's own limit of {figures.Say(most.Nanometres)}"
                ),
            };
        }
        return limits with { Possible = true, Suggested = raise };
    }

    /// <summary>The document's part: limits, and each register that is raised.</summary>
    public AirCut Out(Facts facts, IEnumerable<WorkOffsetName> used) =>
        new()
        {
            Possible = Possible,
            MinimumRaise = facts.Figures.Out(Minimum),
            MaximumRaise = facts.Figures.Out(Maximum),
            SuggestedRaise = facts.Figures.Out(Suggested),
            Why = Why,
            Registers = [.. used.Select(name => Register(facts, name))],
        };

    RaisedRegister Register(Facts facts, WorkOffsetName name)
    {
        Length? z = facts.Setup.WorkOffsets.TryGetValue(name, out var offset) ? offset.Z : null;
        return new(
            name.ToString(),
            "z",
            facts.Figures.Out(z?.Nanometres),
            facts.Figures.Out(z?.Nanometres + Suggested)
        );
    }
}
