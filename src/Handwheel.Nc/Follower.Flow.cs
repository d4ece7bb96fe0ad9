using System.Globalization;

namespace Handwheel.Nc;

/// <summary>A loop that is open: its number, and the block that begins it.</summary>
readonly record struct Loop(int Number, TextPlace Start);

// Jumps and loops, and macro calls with their own parameters (common practice).
partial class Follower<TSink>
{
    /// <summary>G and letters that bring no parameter: G, L, N, O, P.</summary>
    static readonly int[] LocalOf = MakeLocals();

    /// <summary>Loops inside each other; more are no program's.</summary>
    const int LoopsMost = 100;

    readonly List<Loop> loops = [];
    ModalMacro? modalMacro;

    /// <summary>G66: the program that every move calls.</summary>
    sealed record ModalMacro(TextPlace Start, int Repeats, ParameterValue?[] Locals);

    static int[] MakeLocals()
    {
        var locals = new int[26];
        foreach (
            var (letter, local) in "ABCDEFHIJKMQRSTUVWXYZ".Zip([
                1,
                2,
                3,
                7,
                8,
                9,
                11,
                4,
                5,
                6,
                13,
                17,
                18,
                19,
                20,
                21,
                22,
                23,
                24,
                25,
                26,
            ])
        )
            locals[letter - 'A'] = local;
        return locals;
    }

    void FollowFlow(BlockFlow flow)
    {
        switch (flow.Kind)
        {
            case FlowKind.Goto:
                if (FindBlock(state.File, flow.Number, state.BlockStart) is { } place && !NeverLeaves(place))
                    GoTo(place, begun: true);
                break;
            case FlowKind.While:
                BeginLoop(flow);
                break;
            case FlowKind.EndOfLoop:
                EndLoop(flow.Number);
                break;
        }
    }

    int LoopsOfCaller => calls.TryPeek(out var call) ? call.Loops : 0;

    void BeginLoop(BlockFlow flow)
    {
        DropLoop(flow.Number);
        if (flow.Holds && loops.Count >= LoopsMost)
        {
            CannotFollow("loops inside each other", 0, "at most 100 deep");
            return;
        }
        if (flow.Holds)
        {
            loops.Add(new(flow.Number, new(state.File, state.BlockStart, state.Line)));
            return;
        }
        if (texts.Index(state.File).AfterLoop(flow.Number, state.BlockStart) is { } after)
            GoTo(after, begun: true);
        else
            CannotFollow("DO" + Digits(flow.Number) + " without its END", 0, "END" + Digits(flow.Number));
    }

    void EndLoop(int number)
    {
        var at = loops.FindLastIndex(l => l.Number == number);
        if (at < LoopsOfCaller)
        {
            CannotFollow("END" + Digits(number) + " without its DO", 0, "DO" + Digits(number) + " before it");
            return;
        }
        var start = loops[at].Start;
        loops.RemoveRange(at, loops.Count - at);
        if (!NeverLeaves(start))
            GoTo(start, begun: true);
    }

    /// <summary>A loop that was left by a jump and begins again.</summary>
    void DropLoop(int number)
    {
        var at = loops.FindLastIndex(l => l.Number == number);
        if (at >= LoopsOfCaller)
            loops.RemoveRange(at, loops.Count - at);
    }

    static string Digits(int number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>G65 or G66: letters are arguments here, not words; codes beside it act first.</summary>
    void ExecuteMacroCall(int code, BlockWords words)
    {
        SetUnits();
        SetMotion();
        SetModes(words, withD: false);
        if (codes[CodeGroup.WorkOffset] is { } offset and not 541)
            SetWorkOffset(offset, words, code);
        SetAfterMotion();
        TellChanges();
        var name = code == 650 ? "G65" : "G66";
        if (codes.Has(CodeGroup.ToolChange) || codes.Has(CodeGroup.OneShot))
            CannotFollow("another command beside " + name, 0, name + " in a block of its own");
        state.BlocksExecuted++;
        TellBlockEnd();
        var locals = LocalsOf(words);
        if (FindProgram(words, 'P', name, out var repeats) is not { } start)
            return;
        if (code == 650)
            Begin(start, inside: false, repeats, new(locals, Modal: false));
        else
            modalMacro = new(start, repeats, locals);
    }

    /// <summary>The arguments by their letters; I J K again and again fill #4 #5 #6, #7 #8 #9 and so on.</summary>
    static ParameterValue?[] LocalsOf(BlockWords words)
    {
        var locals = new ParameterValue?[Parameters.LocalsMost + 1];
        var group = 0;
        var last = 'Z';
        foreach (var (letter, value) in words.Arguments)
        {
            var local = LocalOf[letter - 'A'];
            if (letter is 'I' or 'J' or 'K')
            {
                group += letter <= last && last != 'Z' ? 1 : 0;
                last = letter;
                local += 3 * group;
            }
            if (local is > 0 and <= Parameters.LocalsMost)
                locals[local] = value;
        }
        return locals;
    }

    /// <summary>Under G66 a block that has moved calls the macro; moves of the macro itself do not.</summary>
    void CallAfterMove()
    {
        if (axisWords.Axes == Axes.None || codes.Has(CodeGroup.OneShot) || calls.Any(c => c.Macro is { Modal: true }))
            return;
        var macro = modalMacro!;
        Begin(macro.Start, inside: false, macro.Repeats, new(macro.Locals, Modal: true));
    }
}
