using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>What following a program needs to know of the control, taken from the setup.</summary>
public static class SettingsOf
{
    public static ControlSettings Control(Setup setup) =>
        new()
        {
            Units = setup.Units,
            Reads = setup.Machine.Reads,
            LeastIncrement = setup.LeastIncrement.Nanometres,
            WorkOffsets = setup.WorkOffsets.ToDictionary(o => o.Key, o => Value(o.Value)),
            CommonOffset = Value(setup.CommonOffset),
            LengthOffsets = FirstOf(setup.Tools, t => t.LengthOffset, t => Sum(t.Length, t.LengthWear)),
            LengthWears = FirstOf(setup.Tools, t => t.LengthOffset, t => t.LengthWear.Nanometres),
            DiameterOffsets = FirstOf(setup.Tools, t => t.DiameterOffset, t => Sum(t.DiameterValue, t.DiameterWear)),
            DiameterWears = FirstOf(setup.Tools, t => t.DiameterOffset, t => t.DiameterWear.Nanometres),
            Reference = Value(setup.Machine.Reference ?? default),
            SecondReference = Value(setup.Machine.SecondReference ?? default),
            ToolChangeZ = (setup.Machine.ToolChangeZ ?? setup.Machine.Travel.Z.High).Nanometres,
            Harmless = setup
                .Machine.Harmless.Concat(setup.Machine.SuppressesHolds)
                .Select(Normalised)
                .ToHashSet(StringComparer.Ordinal),
            SuppressesHolds = setup.Machine.SuppressesHolds.Select(Normalised).ToHashSet(StringComparer.Ordinal),
            FirstTool = FirstTool(setup),
        };

    /// <summary>The only tool of the setup, or 0: whatever is in the spindle.</summary>
    public static int FirstTool(Setup setup) => setup.Tools is [var only] ? only.Number : 0;

    /// <summary>How far the two radii of an arc may differ, nm: as given, else 0.0005 in or 0.01 mm.</summary>
    public static long ArcTolerance(Setup setup) =>
        setup.Machine.Reads.ArcTolerance ?? (setup.Units == Units.Inch ? 12_700 : 10_000);

    /// <summary><c>M08</c> is <c>M8</c>.</summary>
    static string Normalised(string code)
    {
        var upper = code.Trim().ToUpperInvariant();
        var digits = upper.Length > 1 ? upper[1..].TrimStart('0') : "";
        return upper.Length <= 1 ? upper
            : digits.Length == 0 || digits[0] == '.' ? upper[..1] + "0" + digits
            : upper[..1] + digits;
    }

    static OffsetValue Value(Offset offset) => new(offset.X?.Nanometres, offset.Y?.Nanometres, offset.Z?.Nanometres);

    static long? Sum(Length? value, Length wear) => value is { } given ? (given + wear).Nanometres : null;

    static Dictionary<int, long> FirstOf(IReadOnlyList<Tool> tools, Func<Tool, int?> register, Func<Tool, long?> value)
    {
        var values = new Dictionary<int, long>();
        foreach (var tool in tools)
        {
            if (register(tool) is { } number && value(tool) is { } nm)
                values.TryAdd(number, nm);
        }
        return values;
    }
}
