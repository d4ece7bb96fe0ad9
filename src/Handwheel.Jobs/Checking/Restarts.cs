using System.Globalization;
using System.Text;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// From which line each tool can be started again: the block that brings it in, what is modal there in the computed run, and what a
/// start there must not be thought to have.
/// </summary>
sealed class Restarts(Facts facts)
{
    const int PlacesMost = 500;

    readonly List<(ControlState State, List<string> Cautions)> places = [];
    readonly Dictionary<(int File, int Line), int> times = [];

    /// <summary>Where the main text has program numbers, in order; looked for once, when the run is over.</summary>
    readonly List<int> heads = [];
    bool turned;
    bool written;

    public void ToolChange(in ControlState state)
    {
        var place = (state.File, state.Line);
        if (times.TryGetValue(place, out var before))
            times[place] = before + 1;
        else if (places.Count < PlacesMost)
        {
            times[place] = 1;
            places.Add((state, Cautions(state)));
        }
    }

    public void RegisterWritten() => written = true;

    public void ShiftSet(ShiftKind kind, Axes axes)
    {
        if (kind == ShiftKind.Turned)
            turned = axes != Axes.None;
    }

    /// <param name="relied">By tool change, what the tool's moves rely on and nothing has stated since.</param>
    public IReadOnlyList<Restart> Out(Func<int, Stated> relied)
    {
        if (places.Count == 0)
            return [];
        var main = facts.Texts.Bytes(0).Span;
        FindHeads(main);
        var reckons = main.Contains((byte)'#');
        return [.. places.Select(p => Out(p.State, p.Cautions, reckons, relied))];
    }

    Restart Out(in ControlState state, List<string> cautions, bool reckons, Func<int, Stated> relied)
    {
        var at = Where.Of(state);
        var missing = relied(state.ToolChanges);
        var count = times[(state.File, state.Line)];
        List<string> careful = [];
        if (Subprogram(state) is { } name)
            careful.Add($"the block is in {name}: a start there does not come back to what called it");
        careful.AddRange(cautions);
        if (reckons)
            careful.Add("the program reckons with parameters (#): they hold what the broken run left in them");
        if (count > 1)
            careful.Add(
                string.Create(CultureInfo.InvariantCulture, $"the block is executed {count} times: this is its first")
            );
        return new Restart
        {
            Tool = state.Tool,
            Line = state.Line,
            File = facts.Texts.FileName(at),
            Block = facts.Texts.Block(at),
            FromTheTop = state.ToolChanges <= 1,
            InForce = InForce(state, missing),
            NotStated = [.. Words.Where(w => (missing & w.Word) != Stated.None).Select(w => w.Text)],
            Cautions = careful,
        };
    }

    static readonly (Stated Word, string Text)[] Words =
    [
        (Stated.WorkOffset, "the work offset (G54 …)"),
        (Stated.Distance, "G90 or G91"),
        (Stated.Feed, "F"),
        (Stated.Speed, "S"),
    ];

    /// <summary>What is told by the state at that moment.</summary>
    List<string> Cautions(in ControlState state)
    {
        var careful = new List<string>();
        if ((state.ShiftX | state.ShiftY | state.ShiftZ) != 0)
            careful.Add("a shift (G52, G92) is in force here, and a reset may take it away");
        if (turned)
            careful.Add("rotation, scaling or mirror is in force here, and a reset may take it away");
        if (written)
            careful.Add("the program has written registers before this line");
        if (state.Compensation != CutterCompensation.Off)
            careful.Add("cutter compensation is in force here");
        if (state.IsCycle)
            careful.Add("a canned cycle is in force here");
        return careful;
    }

    /// <summary>The modal words as they stand after the block, in the usual order; the work offset only where the tool relies on it.</summary>
    static List<string> InForce(in ControlState state, Stated relied)
    {
        var codes = ModalWords.AlwaysOne(state);
        if (state.Compensation == CutterCompensation.Off)
            codes.Add("G40");
        if (state.LengthMode == LengthMode.Off)
            codes.Add("G49");
        if (!state.IsCycle)
            codes.Add("G80");
        if (state.ExactStop)
            codes.Add("G61");
        if ((relied & Stated.WorkOffset) != Stated.None)
            codes.Add(state.WorkOffset.ToString());
        return codes;
    }

    /// <summary>The subprogram that the block stands in; null: the main program.</summary>
    string? Subprogram(in ControlState state)
    {
        if (state.File > 0)
            return "the subprogram " + facts.Texts.FileName(Where.Of(state));
        var start = state.BlockStart;
        var here = heads.FindLastIndex(h => h <= start);
        return here <= 0 ? null : "subprogram " + Head(facts.Texts.Bytes(0).Span[heads[here]..]);
    }

    void FindHeads(ReadOnlySpan<byte> text)
    {
        for (var at = 0; at < text.Length; at++)
        {
            var next = text[at..].IndexOfAny((byte)'O', (byte)':');
            if (next < 0)
                return;
            at += next;
            var starts = at == 0 || text[at - 1] is (byte)'\n' or (byte)'\r';
            if (starts && at + 1 < text.Length && text[at + 1] is >= (byte)'0' and <= (byte)'9')
                heads.Add(at);
        }
    }

    static string Head(ReadOnlySpan<byte> text)
    {
        var length = 1;
        while (length < text.Length && text[length] is >= (byte)'0' and <= (byte)'9')
            length++;
        return Encoding.ASCII.GetString(text[..length]);
    }
}
