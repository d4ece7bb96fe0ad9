using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Motions;

/// <summary>A difference in words with numbers, in the setup's units.</summary>
static class ComparedWords
{
    public static ToolCompared Of(
        MotionDifference difference,
        MotionDigest was,
        MotionDigest tool,
        Units units,
        bool movedInOrder
    )
    {
        var words = new List<string> { First(difference, was, tool, units) };
        if (!difference.OnlyCutting)
            words.Add(Lowest(was, tool, units));
        if (was.Uses != tool.Uses)
            words.Add(Text($"It comes in {Times(tool.Uses)}, before {Times(was.Uses)}."));
        if (movedInOrder)
            words.Add("It has another place in the order of tools.");
        var change = difference.OnlyCutting && !movedInOrder ? ToolChange.Cuts : ToolChange.Moves;
        return new(tool.Tool, change, string.Join(' ', words.Where(w => w.Length > 0)));
    }

    static string First(MotionDifference difference, MotionDigest was, MotionDigest tool, Units units)
    {
        var name = MotionComparison.Name(tool.Tool);
        var (before, after) = (difference.Before, difference.After);
        if (difference.OnlyCutting)
            return before is { } b && after is { } a
                ? $"{name} goes the same way and cuts differently from {Line(a, b)}: {Cutting(b, a, units)}."
                : $"{name} goes the same way and cuts differently.";
        if (before is { } old && after is { } now && difference.More == 0)
            return $"{name} {Deeper(was, tool, units)} from {Line(now, old)}: {Ends(old, now, units)}.";
        if (after is { } added)
            return Text(
                $"{name} {Deeper(was, tool, units)} from {Line(added, null)}: {Moves(difference.More)} more, first {Says(added, units)}."
            );
        return before is { } left
            ? Text(
                $"{name} {Deeper(was, tool, units)} from where line {left.Line} was: {Moves(-difference.More)} less, first {Says(left, units)}."
            )
            : $"{name} ends the program in another way.";
    }

    static string Deeper(MotionDigest was, MotionDigest tool, Units units) =>
        (was.Lowest, tool.Lowest) switch
        {
            ({ } old, { } now) when now < old => $"goes {Length(old - now, units)} deeper",
            ({ } old, { } now) when now > old => $"stays {Length(now - old, units)} higher",
            _ => "moves differently",
        };

    static string Lowest(MotionDigest was, MotionDigest tool, Units units) =>
        (was.Lowest, tool.Lowest) switch
        {
            ({ } old, { } now) when old == now => $"Lowest {Value(now, units)} as before.",
            ({ } old, { } now) => $"Lowest {Value(now, units)}, before {Value(old, units)}.",
            (null, { } now) => $"Lowest {Value(now, units)}, before nowhere in work coordinates.",
            ({ } old, null) => $"Nowhere in work coordinates, before lowest {Value(old, units)}.",
            _ => "",
        };

    /// <summary>What is not the same between two events in one place.</summary>
    static string Ends(in MotionEvent old, in MotionEvent now, Units units)
    {
        var says = new List<string>();
        if (old.Kind != now.Kind)
            says.Add($"{Kind(now)} for {Kind(old)}");
        Axis(says, "X", Axes.X, old.X, now.X, old, now, units);
        Axis(says, "Y", Axes.Y, old.Y, now.Y, old, now, units);
        Axis(says, "Z", Axes.Z, old.Z, now.Z, old, now, units);
        if ((old.LengthMode, old.H) != (now.LengthMode, now.H) && now.LengthMode >= 0 && old.LengthMode >= 0)
            says.Add($"{LengthOffset(now)}, before {LengthOffset(old)}");
        if ((old.CentreU, old.CentreV, old.Turns, old.Plane) != (now.CentreU, now.CentreV, now.Turns, now.Plane))
            says.Add("another arc");
        if (old.Compensation != now.Compensation || old.D != now.D)
            says.Add($"compensation {Compensation(now)}, before {Compensation(old)}");
        if (old.SpindleOn != now.SpindleOn)
            says.Add(
                now.SpindleOn
                    ? "the spindle turns, before it stood still"
                    : "the spindle stands still, before it turned"
            );
        if (old.Tapping != now.Tapping)
            says.Add(now.Tapping ? "tapping, before not" : "not tapping, before it was");
        if (old.Slash != now.Slash)
            says.Add(
                now.Slash ? "the block may be left out by block delete now" : "block delete does not reach it any more"
            );
        if (old.UnitsStated != now.UnitsStated)
            says.Add(
                now.UnitsStated ? "G20 or G21 is stated, before it was not" : "neither G20 nor G21 is stated any more"
            );
        if (
            (old.WrittenX, old.WrittenY, old.WrittenZ, old.WrittenLength)
            != (now.WrittenX, now.WrittenY, now.WrittenZ, now.WrittenLength)
        )
            says.Add("the program writes another value into the register that it rests on");
        if (says.Count == 0 && old.Words != now.Words)
            says.Add($"{Kind(now)} as another block");
        return says.Count == 0 ? "another block" : string.Join(", ", says);
    }

    static void Axis(
        List<string> says,
        string name,
        Axes axis,
        FramedPlace old,
        FramedPlace now,
        in MotionEvent oldEvent,
        in MotionEvent nowEvent,
        Units units
    )
    {
        var (had, has) = (
            (oldEvent.Axes & axis) != Axes.None || oldEvent.Kind == MotionKind.ToolIn,
            (nowEvent.Axes & axis) != Axes.None || nowEvent.Kind == MotionKind.ToolIn
        );
        if (had && has && old != now)
        {
            var from = nowEvent.Kind == MotionKind.ToolIn ? "comes in from " : "";
            var by =
                old.Frame == now.Frame
                    ? $" ({Length(Math.Abs(now.Value - old.Value), units)}{(axis == Axes.Z ? now.Value < old.Value ? " lower" : " higher" : "")})"
                    : "";
            says.Add(
                $"{from}{name} {Place(now, units)}{Frame(now, old)}, before {Place(old, units)}{Frame(old, now)}{by}"
            );
        }
        else if (has && !had)
            says.Add($"{name} {Place(now, units)}, before {name} stayed");
        else if (had && !has)
            says.Add($"{name} stays, before {Place(old, units)}");
    }

    static string Cutting(in MotionEvent old, in MotionEvent now, Units units)
    {
        var says = new List<string>();
        if (old.Feed != now.Feed || old.FeedMode != now.FeedMode)
            says.Add($"feed {Feed(now, units)}, before {Feed(old, units)}");
        if (old.Speed != now.Speed)
            says.Add(Text($"speed {now.Speed:0.###} rev/min, before {old.Speed:0.###}"));
        if (old.Direction != now.Direction)
            says.Add($"spindle {Direction(now)}, before {Direction(old)}");
        if (old.Coolant != now.Coolant)
            says.Add($"coolant {Coolant(now)}, before {Coolant(old)}");
        if (old.ExactStop != now.ExactStop)
            says.Add(now.ExactStop ? "exact stop on" : "exact stop off");
        if (old.Seconds != now.Seconds)
            says.Add(Text($"dwell {now.Seconds:0.###} s, before {old.Seconds:0.###} s"));
        return says.Count == 0 ? "a rate differs" : string.Join(", ", says);
    }

    static string Says(in MotionEvent told, Units units)
    {
        var to = new List<string>();
        foreach (
            var (name, axis, place) in ((string, Axes, FramedPlace)[])
                [("X", Axes.X, told.X), ("Y", Axes.Y, told.Y), ("Z", Axes.Z, told.Z)]
        )
            if ((told.Axes & axis) != Axes.None)
                to.Add(name + " " + Place(place, units));
        return to.Count == 0 ? Kind(told) : Kind(told) + " to " + string.Join(", ", to);
    }

    static string Kind(in MotionEvent told) =>
        told.Kind switch
        {
            MotionKind.ToolIn => "a tool change",
            MotionKind.Rapid => "rapid",
            MotionKind.Feed => "feed",
            MotionKind.MachineRapid => "rapid in machine coordinates",
            MotionKind.MachineFeed => "feed in machine coordinates",
            MotionKind.Return => "a reference return",
            MotionKind.Arc => "an arc",
            MotionKind.Dwell => "a dwell",
            MotionKind.Stop => told.Words == 1 ? "an optional stop" : "a program stop",
            MotionKind.Writes => "a register or shift that is set",
            _ => "another mode",
        };

    static string Line(in MotionEvent at, MotionEvent? before)
    {
        var file = at.File > 0 ? "a subprogram's " : "";
        return before is { } old && (old.Line != at.Line || old.File != at.File)
            ? Text($"{file}line {at.Line} (was line {old.Line})")
            : Text($"{file}line {at.Line}");
    }

    static string Place(FramedPlace place, Units units) =>
        place.Frame switch
        {
            > 0 => Value(place.Value, units),
            FramedPlace.Machine => "machine " + Value(place.Value, units),
            FramedPlace.Reference => "the reference position",
            FramedPlace.Start => "an unknown place",
            _ => Value(place.Value, units),
        };

    /// <summary>The work offset, where it is another one than on the other side.</summary>
    static string Frame(FramedPlace place, FramedPlace other) =>
        place.Frame > 0 && place.Frame != other.Frame ? " in " + new WorkOffsetName(place.Frame) : "";

    static string LengthOffset(in MotionEvent told) =>
        told.LengthMode switch
        {
            0 => "no length offset",
            1 => Text($"G43 H{told.H}"),
            _ => Text($"G44 H{told.H}"),
        };

    static string Compensation(in MotionEvent told) =>
        told.Compensation switch
        {
            CutterCompensation.Left => Text($"left, D{told.D}"),
            CutterCompensation.Right => Text($"right, D{told.D}"),
            _ => "off",
        };

    static string Direction(in MotionEvent told) =>
        told.Direction switch
        {
            SpindleDirection.Clockwise => "clockwise",
            SpindleDirection.Counterclockwise => "counterclockwise",
            _ => "stopped",
        };

    static string Coolant(in MotionEvent told) =>
        told.Coolant switch
        {
            CoolantWords.None => "off",
            CoolantWords.Mist => "mist",
            CoolantWords.Flood => "flood",
            _ => "mist and flood",
        };

    static string Feed(in MotionEvent told, Units units) =>
        told.FeedMode switch
        {
            FeedMode.PerMinute => Text($"{told.Feed / units.Nanometres():0.####} {units.Symbol()}/min"),
            FeedMode.PerRevolution => Text($"{told.Feed / units.Nanometres():0.#####} {units.Symbol()}/rev"),
            _ => Text($"{told.Feed:0.####} 1/min"),
        };

    static string Moves(int count) => Math.Abs(count) == 1 ? "one move" : Text($"{Math.Abs(count)} moves");

    static string Times(int uses) => uses == 1 ? "once" : Text($"{uses} times");

    static string Length(long nanometres, Units units) => $"{Value(nanometres, units)} {units.Symbol()}";

    static string Value(long nanometres, Units units) => Nc.Length.FromNanometres(nanometres).ToRegisterText(units);

    static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
