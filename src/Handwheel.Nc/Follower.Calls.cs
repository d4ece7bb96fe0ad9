using System.Globalization;

namespace Handwheel.Nc;

/// <summary>
/// A call that is under way: where it returns to, where it begins (inside a program whose number has been passed, or at one), how often it is still to run, how many
/// loops were open, and the locals that a macro call brought.
/// </summary>
readonly record struct Call(
    TextPlace Return,
    TextPlace Start,
    bool Inside,
    int Left,
    int Loops,
    MacroCall? Macro,
    long CallBefore
);

/// <param name="Locals">#1 to #33 as the call gives them.</param>
/// <param name="Modal">Called by a move under G66.</param>
sealed record MacroCall(ParameterValue?[] Locals, bool Modal);

// Ends, subprogram calls and returns.
partial class Follower<TSink>
{
    void GoOn(BlockWords words)
    {
        if (codes[CodeGroup.Stop] is 20 or 300)
            End(RunEnd.ProgramEnd);
        else if (codes[CodeGroup.Call] is 980 or 1980)
            CallSubprogram(words);
        else if (codes[CodeGroup.Call] == 970)
            CallInside(words, 'P', "M97");
        else if (codes[CodeGroup.Call] == 990)
            Return(words);
        else if (reader.Flow.Kind != FlowKind.None)
            FollowFlow(reader.Flow);
        else if (modalMacro != null)
            CallAfterMove();
    }

    /// <summary>The program number behind the address that the control wants, P as a rule.</summary>
    void CallSubprogram(BlockWords words)
    {
        var letter = settings.Reads.SubprogramCall is [var first, ..] ? char.ToUpperInvariant(first) : 'P';
        var code = codes.Is(CodeGroup.Call, 980) ? "M98" : "M198";
        if (words.Name == null && !words.Has(letter) && letter == 'P' && (words.Has('Q') || words.Has('H')))
        {
            CallInside(words, words.Has('Q') ? 'Q' : 'H', code);
            return;
        }
        if (FindProgram(words, letter, code, out var repeats) is not { } start)
            return;
        if (words.Has('Q') && letter == 'P')
        {
            if (WholeOf(words, 'Q') is not { } block || FindBlock(start.File, block, start.Pos) is not { } place)
                return;
            Begin(place, inside: true, repeats, null);
            return;
        }
        Begin(start, inside: false, repeats, null);
    }

    /// <summary>A call to a block of the same program (common practice).</summary>
    void CallInside(BlockWords words, char letter, string code)
    {
        if (!words.Has(letter) || WholeOf(words, letter) is not { } block)
        {
            CannotFollow(code + " without " + letter, 0, "the number of a block");
            return;
        }
        if (FindBlock(state.File, block, state.BlockStart) is { } place)
            Begin(place, inside: true, Repeats(words, 1), null);
    }

    /// <summary>The program that is called and how often; null with its fault said.</summary>
    TextPlace? FindProgram(BlockWords words, char letter, string code, out int repeats)
    {
        repeats = Repeats(words, 1);
        var outside = code == "M198";
        if (NameOf(words, letter) is { } called)
        {
            if (texts.Find(new(0, called, state.File, state.Line), outside) is { } named)
                return named;
            CannotFollow(
                "subprogram <" + called + "> is not there",
                0,
                "O<" + called + "> in the program, or a file of this name beside it"
            );
            return null;
        }
        if (letter is < 'A' or > 'Z' || !words.Has(letter) || WholeOf(words, letter) is not { } number)
        {
            CannotFollow(code + " without " + letter, 0, "the number of a subprogram");
            return null;
        }
        var place = texts.Find(new(number, null, state.File, state.Line), outside);
        // P with more than four digits: how often, then the number in four digits.
        if (place == null && number > 9_999 && !words.Has('L'))
        {
            repeats = number / 10_000;
            place = texts.Find(new(number % 10_000, null, state.File, state.Line), outside);
        }
        if (place is { } start)
            return start;
        var name = number.ToString(CultureInfo.InvariantCulture);
        CannotFollow("subprogram " + name + " is not there", 0, "O" + name + " in the program or in a file beside it");
        return null;
    }

    /// <summary>The name between &lt; and &gt;; without it, and without a number, the comment behind the call: some programs name a file so.</summary>
    string? NameOf(BlockWords words, char letter)
    {
        if (words.Name != null || words.Has(letter) || words.CommentOfCall.Length is <= 2 or > BlockReader.NameLongest)
            return words.Name;
        var (start, length) = words.CommentOfCall;
        return ProgramTexts.NormalName(text.Span.Slice(start + 1, length - 2)) is { Length: > 0 } name ? name : null;
    }

    int Repeats(BlockWords words, int otherwise) => words.Has('L') ? WholeOf(words, 'L') ?? otherwise : otherwise;

    void Begin(TextPlace start, bool inside, int repeats, MacroCall? macro)
    {
        if (repeats == 0)
            return;
        if (calls.Count >= options.CallsDeepest)
        {
            Refuse(FaultKind.NeverEnds, "calls too deep", 0);
            End(RunEnd.Limit);
            return;
        }
        calls.Push(new(new(state.File, pos, line), start, inside, repeats - 1, loops.Count, macro, callInForce));
        callInForce = ++callsBegun;
        if (macro != null)
            parameters.Enter(macro.Locals);
        GoTo(start, begun: inside);
    }

    void Return(BlockWords words)
    {
        int? block = words.Has('P') ? WholeOf(words, 'P') : null;
        if (calls.Count == 0)
            RepeatMain(block);
        else
            ReturnFromSubprogram(block);
    }

    /// <summary>M99 in the main program: it begins again, or goes to a block. Without parameters a way back is the same way for ever.</summary>
    void RepeatMain(int? block)
    {
        if (block is not { } number)
            End(RunEnd.Repeats);
        else if (FindBlock(state.File, number, state.BlockStart) is not { } place)
            return;
        else if (place.Pos <= state.BlockStart && !parameters.Used)
            End(RunEnd.Repeats);
        else if (!NeverLeaves(place))
            GoTo(place, begun: true);
    }

    void ReturnFromSubprogram(int? block)
    {
        var call = calls.Pop();
        loops.RemoveRange(call.Loops, loops.Count - call.Loops);
        if (call.Macro != null)
            parameters.Leave();
        if (call.Left > 0 && block == null)
        {
            calls.Push(call with { Left = call.Left - 1 });
            callInForce = ++callsBegun;
            if (call.Macro != null)
                parameters.Enter(call.Macro.Locals);
            GoTo(call.Start, begun: call.Inside);
            return;
        }
        callInForce = call.CallBefore;
        var target = call.Return;
        if (block is { } number)
            target = FindBlock(call.Return.File, number, Math.Max(0, call.Return.Pos - 1)) ?? target;
        GoTo(target, begun: true);
    }

    /// <summary>The block of this number in the program around a byte; null with its fault said.</summary>
    TextPlace? FindBlock(int file, int number, int from)
    {
        if (texts.Index(file).Block(number, from) is { } place)
            return place;
        CannotFollow(
            "N" + number.ToString(CultureInfo.InvariantCulture) + " is not there",
            0,
            "a block of this number"
        );
        return null;
    }

    void GoTo(TextPlace place, bool begun)
    {
        state.File = place.File;
        text = texts[place.File];
        pos = place.Pos;
        line = place.Line;
        this.begun = begun;
    }

    /// <summary>The text has ended, or another program begins.</summary>
    void LeaveText()
    {
        if (calls.Count == 0)
        {
            End(RunEnd.TextEnds);
            return;
        }
        CannotFollow("subprogram without M99", 0, "M99 at its end");
        effort++;
        ReturnFromSubprogram(null);
    }
}
