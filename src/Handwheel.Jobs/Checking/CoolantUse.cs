using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Which coolant words are in force while each tool is in the spindle.</summary>
sealed class CoolantUse
{
    readonly Dictionary<int, CoolantWords> words = [];

    public void Look(in ControlState state) => words[state.Tool] = words.GetValueOrDefault(state.Tool) | state.Coolant;

    /// <summary><c>mist</c> (M7) and <c>flood</c> (M8); empty: neither word.</summary>
    public IReadOnlyList<string> Of(int tool)
    {
        var used = words.GetValueOrDefault(tool);
        return
        [
            .. new[] { (CoolantWords.Mist, "mist"), (CoolantWords.Flood, "flood") }
                .Where(w => (used & w.Item1) != CoolantWords.None)
                .Select(w => w.Item2),
        ];
    }
}
