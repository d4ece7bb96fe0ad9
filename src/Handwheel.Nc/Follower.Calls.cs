using System.Globalization;

namespace Handwheel.Nc;

/// <summary>Where a subprogram returns to, where it begins, and how often it is still to run.</summary>
readonly record struct Call(TextPlace Return, TextPlace Start, int Left);

// Ends, subprogram calls and returns.
partial class Follower<TSink>
{
    void GoOn(BlockWords words)
    {
        if (codes[CodeGroup.Stop] is 20 or 300)
            End(RunEnd.ProgramEnd);
        else if (codes[CodeGroup.Call] == 980)
            CallSubprogram(words);
        else if (codes[CodeGroup.Call] == 990)
            ReturnFromSubprogram();
    }

    /// <summary>The program number behind the address that the control wants, P as a rule; null with its fault said.</summary>
    void CallSubprogram(BlockWords words)
    {
        var letter = settings.Reads.SubprogramCall is [var first, ..] ? char.ToUpperInvariant(first) : 'P';
        if (letter is < 'A' or > 'Z' || !words.Has(letter) || WholeOf(words, letter) is not { } number)
        {
            CannotFollow("M98 without " + letter, 0, "the number of a subprogram");
            return;
        }
        var repeats = words.Has('L') ? WholeOf(words, 'L') ?? 1 : 1;
        var place = texts.Find(number, state.File);
        // P with more than four digits: how often, then the number in four digits.
        if (place == null && number > 9_999 && !words.Has('L'))
        {
            repeats = number / 10_000;
            place = texts.Find(number % 10_000, state.File);
        }
        if (place is not { } start)
        {
            var name = number.ToString(CultureInfo.InvariantCulture);
            CannotFollow(
                "subprogram " + name + " is not there",
                0,
                "O" + name + " in the program or in a file beside it"
            );
            return;
        }
        if (repeats == 0)
            return;
        if (calls.Count >= options.CallsDeepest)
        {
            Refuse(FaultKind.NeverEnds, "calls too deep", 0);
            End(RunEnd.Limit);
            return;
        }
        calls.Push(new(new(state.File, pos, line), start, repeats - 1));
        GoTo(start, begun: false);
    }

    void ReturnFromSubprogram()
    {
        if (!calls.TryPop(out var call))
        {
            End(RunEnd.Repeats);
            return;
        }
        if (call.Left > 0)
        {
            calls.Push(call with { Left = call.Left - 1 });
            GoTo(call.Start, begun: false);
            return;
        }
        GoTo(call.Return, begun: true);
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
        ReturnFromSubprogram();
    }
}
