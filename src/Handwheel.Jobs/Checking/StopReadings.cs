using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>What the control shows at a stop, and what stands under the tip, without the raise and with it.</summary>
static class StopReadings
{
    public static Stop Of(StopDraft draft, int number, RaiseChoice raise, Facts facts)
    {
        var state = draft.State;
        var figures = facts.Figures;
        var ownInEffect = state.LengthCommanded;
        var from = Axis3.Programmed(state, draft.From, ownInEffect);
        var to = Axis3.Programmed(state, draft.To, ownInEffect);
        var machine = Axis3.Machine(draft.To);
        var toGo = to - from;
        var lifts = (draft.ToLifted ? 1 : 0) - (draft.FromLifted ? 1 : 0);
        var tip = ownInEffect && draft.OwnKnown && draft.To.RestZ == 0 ? draft.To.Z - draft.Own : (long?)null;
        var tipRaised =
            tip
            + (
                draft.ToLifted ? raise.Suggested
                : raise.Suggested is null ? null
                : 0
            );
        var zero = state.RestZ == 0 ? state.WorkZ + state.CommonZ : (long?)null;
        var below = Below(draft, tipRaised, facts);
        if (draft.Beside)
            facts.NotChecked.Say(
                $"X and Y of the programmed path at stops under G41 and G42: stop {Figures.Whole(number)}, line {Figures.Whole(state.Line)}, gives those of the tool's centre"
            );
        return new Stop
        {
            Number = number,
            Kind = draft.Kind,
            Tool = state.Tool,
            LengthOffset = ownInEffect ? state.H : null,
            WorkOffset = state.WorkOffset.ToString(),
            Line = state.Line,
            File = facts.Texts.FileName(draft.At),
            Block = facts.Texts.Block(draft.At),
            From = from.Out(figures),
            To = to.Out(figures),
            MachineTo = machine.Out(figures),
            MachineToRaised = machine.Raised(raise.Suggested, draft.ToLifted ? 1 : 0).Out(figures),
            DistanceToGo = toGo.Out(figures),
            DistanceToGoRaised = toGo.Raised(raise.Suggested, lifts).Out(figures),
            TipAbovePartZero = figures.Out(tip - zero),
            TipAbovePartZeroRaised = figures.Out(tipRaised - zero),
            AirBelowRaised = figures.Out(tipRaised - below?.Top),
            Below = below?.Name,
            Gauge = tipRaised is { } at && below is not null ? Gauge(at - below.Top, figures.Units) : null,
        };
    }

    /// <summary>The highest part of stock or holding under the tool; null where nothing is, or where it cannot be told.</summary>
    static Solid? Below(StopDraft draft, long? tipRaised, Facts facts)
    {
        if (tipRaised is null || draft.To.RestX != 0 || draft.To.RestY != 0)
            return null;
        if (draft.Radius is not { } radius)
        {
            facts.NotChecked.Say($"air under T{Figures.Whole(draft.State.Tool)}: it has no diameter");
            return null;
        }
        if (facts.Table.Unplaced is { } unplaced)
        {
            facts.NotChecked.Say($"air under the tools: the place of {unplaced.Name} is not known");
            return null;
        }
        return facts.Table.Under(draft.To.X, draft.To.Y, radius);
    }

    /// <summary>The largest whole gauge block that goes under, and the rest as a feeler; null below the smallest block.</summary>
    public static string? Gauge(long air, Units units)
    {
        ReadOnlySpan<int> blocks = units == Units.Inch ? [6, 4, 3, 2, 1] : [150, 100, 75, 50, 25];
        foreach (var block in blocks)
        {
            var height = Length.From(block, units);
            if (height.Nanometres > air)
                continue;
            var rest = Length.FromNanometres(air) - height;
            return $"{height.ToRegisterText(units)} + {rest.ToRegisterText(units)}";
        }
        return null;
    }
}
