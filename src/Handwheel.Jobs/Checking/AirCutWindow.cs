using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// Collects what decides the raise of an air cut: the lowest tip and the highest machine Z that any move in work
/// coordinates commands, and what would undo the raise.
/// </summary>
sealed class AirCutWindow
{
    readonly List<(long Order, string Why)> undone = [];

    public long LowestTip { get; private set; } = long.MaxValue;
    public Where LowestAt { get; private set; }
    public long HighestMachineZ { get; private set; } = long.MinValue;
    public Where HighestAt { get; private set; }

    /// <summary>The first block whose tip is not known; null: all are known.</summary>
    public Where? TipUnknownAt { get; private set; }
    public Where? MachineZUnknownAt { get; private set; }

    /// <summary>What takes the raise away, in words with the line, first place first.</summary>
    public IReadOnlyList<string> Undone =>
        [.. undone.OrderBy(u => u.Order).Select(u => u.Why).Distinct(StringComparer.Ordinal).Take(5)];

    /// <summary>Z commanded in work coordinates, from <paramref name="low"/> to <paramref name="high"/> in machine coordinates.</summary>
    public void Commanded(in ControlState state, Facts facts, long low, long high, int rest)
    {
        if (rest != 0)
        {
            MachineZUnknownAt ??= Where.Of(state);
            TipUnknownAt ??= Where.Of(state);
            return;
        }
        if (high > HighestMachineZ)
        {
            HighestMachineZ = high;
            HighestAt = Where.Of(state);
        }
        if (!facts.OwnKnown)
            TipUnknownAt ??= Where.Of(state);
        else if (low - facts.Own < LowestTip)
        {
            LowestTip = low - facts.Own;
            LowestAt = Where.Of(state);
        }
    }

    /// <summary>The Z commanded by a run of feed moves, whose tips and heights are known.</summary>
    public void Commanded(in ControlState state, Facts facts, FeedRun run, in RunBox box)
    {
        if (box.HighZ > HighestMachineZ)
        {
            HighestMachineZ = box.HighZ;
            HighestAt = Where.Of(run.BlockOf(state, box.FirstAtZ(run, box.HighZ)));
        }
        if (box.LowZ - facts.Own < LowestTip)
        {
            LowestTip = box.LowZ - facts.Own;
            LowestAt = Where.Of(run.BlockOf(state, box.FirstAtZ(run, box.LowZ)));
        }
    }

    /// <param name="order">Executed blocks at that moment, for the order.</param>
    public void Undo(long order, string why)
    {
        if (undone.Count < 1000)
            undone.Add((order, why));
    }
}
