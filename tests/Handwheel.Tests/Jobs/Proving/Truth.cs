using Handwheel.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>A step as somebody who watches sees it.</summary>
readonly record struct Seen(string Id, Phase Phase, StepState State);

/// <summary>
/// The interlocks, kept by somebody who only watches: what was typed and what became done. It knows nothing of the code that
/// refuses. Baselines here are always those of the small shop.
/// </summary>
sealed class Truth
{
    readonly Dictionary<string, decimal> last = [];
    int lastBaseline = -1;
    int lastRaised = -1;
    int clock;
    bool handoff;
    Guid outgoing;
    HashSet<string> readBack = [];

    public Truth Copy()
    {
        var copy = new Truth
        {
            lastBaseline = lastBaseline,
            lastRaised = lastRaised,
            clock = clock,
            wasBaselined = wasBaselined,
            handoff = handoff,
            outgoing = outgoing,
            readBack = [.. readBack],
        };
        foreach (var (register, value) in last)
            copy.last[register] = value;
        return copy;
    }

    public string State =>
        string.Join(",", last.OrderBy(l => l.Key, StringComparer.Ordinal))
        + (lastRaised > lastBaseline)
        + handoff
        + string.Join(",", readBack.Order(StringComparer.Ordinal));

    /// <summary>What an accepted act broke; null: nothing.</summary>
    public string? Watch(
        Act act,
        Actor by,
        IReadOnlyList<Seen> before,
        IReadOnlyList<Seen> after,
        Standing standing,
        Ledger ledger
    )
    {
        clock++;
        var wasDone = before.Where(s => s.State is StepState.Done or StepState.Deviation).Select(s => s.Id).ToHashSet();
        var newly = after
            .Where(s => s.State is StepState.Done or StepState.Deviation && !wasDone.Contains(s.Id))
            .Select(s => s.Id)
            .ToList();
        var raised = last.TryGetValue("G55.z", out var z) && z != Baseline("G55.z");
        if (act is ReadingTyped reading)
        {
            var register = Register(reading.Step);
            if (
                register is not null
                && reading.Step.StartsWith("ready.", StringComparison.Ordinal)
                && raised
                && lastBaseline >= 0
                && wasBaselined
            )
                return "3: a baseline or a length was read while raised";
            if (register is not null)
            {
                last[register] = decimal.Parse(
                    reading.Typed,
                    System.Globalization.NumberStyles.Number,
                    System.Globalization.CultureInfo.InvariantCulture
                );
                readBack.Remove(register);
                if (reading.Step == "ready.offset.G55.z" && newly.Contains(reading.Step))
                    (lastBaseline, wasBaselined) = (clock, true);
                if (reading.Step == "air-cut.raised.G55.z" && newly.Contains(reading.Step))
                    lastRaised = clock;
            }
        }
        if (act is BaselineChanged or LengthChanged && raised && wasBaselined)
            return "3: a work offset was set or a tool measured while raised";
        if (act is BaselineChanged { Axis: "z" })
            wasBaselined = false;
        if (last.Any(l => ledger.Last(Of(l.Key))?.Value.In(Handwheel.Nc.Units.Inch) != l.Value))
            return "4: the ledger does not hold what was last read";
        if (
            act is DeviationSigned && !by.Has(Roles.Supervisor)
            || standing == Standing.Released && !by.Has(Roles.Supervisor)
        )
            return "6: signed by somebody who is no supervisor";
        if (
            act is LengthChanged or ToolReplaced
            && after.Any(s => s.State == StepState.Done && RestsOnLength.Contains(s.Id))
        )
            return "4: a step that rests on the tool's length stands done";
        if (
            act is BaselineChanged { Axis: "z" }
            && after.Any(s => s.State == StepState.Done && RestsOnZ.Contains(s.Id))
        )
            return "4: a step that rests on the baseline stands done";
        if (
            newly.Contains("air-cut.raised.G55.z")
            && after.Any(s => s.Phase == Phase.Restore && s.State == StepState.Done)
        )
            return "1: restored stands done after another raise";
        var broken = newly.Select(id => Broken(id, by)).FirstOrDefault(b => b is not null);
        if (broken is not null)
            return broken;
        if (handoff && act is TookOver)
        {
            if (by.Person == outgoing)
                return "8: taken over by who handed over";
            if (readBack.Count > 0)
                return "8: taken over without the read-back";
            handoff = false;
        }
        if (act is HandoffWithdrawn)
            handoff = false;
        if (act is HandedOver or TakingOverAlone)
            (handoff, outgoing, readBack) = (true, act is HandedOver ? by.Person : Guid.Empty, [.. last.Keys]);
        if (
            standing == Standing.Released
            && after.Any(s => s.Phase != Phase.Parking && s.State is not (StepState.Done or StepState.Deviation))
        )
            return "6: released with steps open";
        return null;
    }

    static readonly string[] RestsOnLength =
    [
        "ready.tool.1.length",
        "air-cut.tool.1.machine-z",
        "air-cut.tool.1.gauge",
        "first-cut.tool.1.machine-z",
        "first-cut.tool.1.entry",
        "first-cut.cut",
        "first-piece.1",
    ];

    static readonly string[] RestsOnZ =
    [
        "ready.offset.G55.z",
        "air-cut.raised.G55.z",
        "air-cut.tool.1.machine-z",
        "restore.offset.G55.z",
        "first-cut.tool.1.machine-z",
    ];

    bool wasBaselined;

    string? Broken(string step, Actor by)
    {
        if (
            step.StartsWith("first-cut.", StringComparison.Ordinal)
            && last.FirstOrDefault(l => l.Value != Baseline(l.Key)) is { Key: not null } off
        )
            return $"1: {step} done while {off.Key} was last read as {off.Value}";
        if (step == "restore.offset.G55.z" && last["G55.z"] != Baseline("G55.z"))
            return "1: taken for restored and is not";
        if (step == "air-cut.raised.G55.z" && last["G55.z"] != Baseline("G55.z") + 3)
            return "2: taken for raised and is not";
        if (step.StartsWith("first-cut.", StringComparison.Ordinal) && last.Count < 10)
            return $"1: {step} done before every register was read";
        if (
            step.StartsWith("air-cut.tool.", StringComparison.Ordinal)
            && (last.GetValueOrDefault("G55.z") != Baseline("G55.z") + 3 || lastRaised < lastBaseline)
        )
            return $"2: {step} done without the raise";
        if (handoff && !step.StartsWith("read-back.", StringComparison.Ordinal))
            return $"8: {step} done by {by.Name} while the handoff was open";
        return null;
    }

    static Register Of(string key) => new(key[..key.LastIndexOf('.')], key[(key.LastIndexOf('.') + 1)..]);

    static string? Register(string step)
    {
        var parts = step.Split('.');
        return parts switch
        {
            ["ready", "tool", var key, "length"] => $"H{key}.length",
            [_, "offset" or "raised", var name, var axis] => $"{name}.{axis}",
            ["put-back" or "read-back", var name, var axis] => $"{name}.{axis}",
            _ => null,
        };
    }

    static decimal Baseline(string register) =>
        register switch
        {
            "G55.x" => -22.5m,
            "G55.y" => -9.25m,
            "G55.z" => -18.125m,
            "H1.length" => SmallShop.Length(1),
            "H2.length" => SmallShop.Length(2),
            _ => 0,
        };
}
