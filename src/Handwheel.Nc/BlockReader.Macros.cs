using System.Text;

namespace Handwheel.Nc;

enum FlowKind : byte
{
    None,
    Goto,
    While,
    EndOfLoop,

    /// <summary>Text sent to a printer or a file: nothing moves.</summary>
    Print,
}

/// <summary>What a block says about the block to follow next.</summary>
struct BlockFlow
{
    public FlowKind Kind;

    /// <summary>The block number, or the number of the loop.</summary>
    public int Number;

    /// <summary>The loop is to be run (once more).</summary>
    public bool Holds;
}

/// <summary>Taken over after the whole block has been read (NISTIR 6556, 3.3.3).</summary>
readonly record struct Assignment(ParameterName Name, ParameterValue Value, int Column);

// Parameters, expressions and the statements of the macro language.
sealed partial class BlockReader
{
    readonly List<Assignment> assignments = [];
    BlockFlow flow;

    public IReadOnlyList<Assignment> Assignments => assignments;
    public BlockFlow Flow => flow;

    /// <summary>What stands behind the letter is to be worked out: no plain number.</summary>
    bool IsComputed(ReadOnlySpan<byte> text)
    {
        var i = pos;
        var signs = 0;
        for (; i < lineEnd && (IsBlank(text[i]) || text[i] is (byte)'-' or (byte)'+'); i++)
            signs += IsBlank(text[i]) ? 0 : 1;
        return i < lineEnd && (signs > 1 || text[i] is (byte)'#' or (byte)'[' || Letter(text[i]) != '\0');
    }

    void ReadComputed(ReadOnlySpan<byte> text, char letter, int start)
    {
        var column = start - lineStart + 1;
        if (Letter(text[pos]) != '\0')
        {
            expressions.Begin(lineStart, start, lineEnd);
            if (ReadStatement(text))
                return;
            if (!IsFunction(text))
            {
                pos = start + 1;
                ReadMacro(text, letter, column);
                return;
            }
        }
        expressions.Begin(lineStart, pos, lineEnd);
        if (IsSignTwiceBeforeDigits(text))
        {
            Refuse(FaultKind.CannotRead, Spelled(letter), "one sign before the number");
            while (pos < lineEnd && (IsBlank(text[pos]) || text[pos] is (byte)'-' or (byte)'+'))
                pos++;
            var passed = new NcNumber();
            ReadNumber(text, ref passed);
            return;
        }
        var value = expressions.ReadValue(text);
        pos = expressions.Failed ? lineEnd : expressions.Pos;
        Words.HasWord |= letter is not ('N' or 'O');
        NoteRaise(value, isArgument: Words.MacroCall && letter is not ('N' or 'O' or 'P' or 'L'));
        if (value.Kind == ValueKind.Known)
            AddWord(
                letter,
                new()
                {
                    Computed = true,
                    ComputedValue = value.Number,
                    Raise = value.Raise,
                    Column = column,
                }
            );
    }

    /// <summary>What is worked out here is another value when the work offsets are raised; arguments of a macro carry that with them.</summary>
    void NoteRaise(in ParameterValue value, bool isArgument = false) =>
        Words.RestsOnRaise |= expressions.IndexDependsOnRaise || (value.DependsOnRaise && !isArgument);

    /// <summary><c>X--3</c>: two signs and a plain number, which is more likely a slip than meant.</summary>
    bool IsSignTwiceBeforeDigits(ReadOnlySpan<byte> text)
    {
        var i = pos;
        while (i < lineEnd && (IsBlank(text[i]) || text[i] is (byte)'-' or (byte)'+'))
            i++;
        return i < lineEnd && text[i] is (byte)'.' or (>= (byte)'0' and <= (byte)'9');
    }

    bool IsFunction(ReadOnlySpan<byte> text)
    {
        var name = new StringBuilder();
        var i = pos;
        for (; i < lineEnd && name.Length < 6; i++)
        {
            if (Letter(text[i]) is var letter and not '\0')
                name.Append(letter);
            else if (!IsBlank(text[i]))
                break;
        }
        return i < lineEnd && text[i] == '[' && Functions.Knows(name.ToString());
    }

    bool ReadStatement(ReadOnlySpan<byte> text)
    {
        if (expressions.TakeWord(text, "IF"))
            ReadIf(text);
        else if (expressions.TakeWord(text, "WHILE"))
            ReadWhile(text);
        else if (expressions.TakeWord(text, "GOTO"))
            ReadFlow(text, FlowKind.Goto, true, "GOTO");
        else if (expressions.TakeWord(text, "DO"))
            ReadFlow(text, FlowKind.While, true, "DO");
        else if (IsEnd(text))
            ReadFlow(text, FlowKind.EndOfLoop, true, "END");
        else if (IsPrint(text))
            (flow.Kind, expressions.Pos) = (FlowKind.Print, lineEnd);
        else
            return false;
        Words.HasWord = true;
        pos = expressions.Failed ? lineEnd : expressions.Pos;
        return true;
    }

    /// <summary>END with its number; not ENDIF and its like.</summary>
    bool IsEnd(ReadOnlySpan<byte> text)
    {
        var start = expressions.Pos;
        if (expressions.TakeWord(text, "END") && expressions.Pos < lineEnd && Letter(text[expressions.Pos]) == '\0')
            return true;
        expressions.Pos = start;
        return false;
    }

    bool IsPrint(ReadOnlySpan<byte> text) =>
        expressions.TakeWord(text, "DPRNT")
        || expressions.TakeWord(text, "BPRNT")
        || expressions.TakeWord(text, "POPEN")
        || expressions.TakeWord(text, "PCLOS");

    void ReadIf(ReadOnlySpan<byte> text)
    {
        var condition = expressions.ReadSum(text);
        var holds = condition.Number != 0;
        if (expressions.Failed)
            return;
        NoteRaise(condition);
        if (expressions.TakeWord(text, "GOTO"))
            ReadFlow(text, FlowKind.Goto, holds, "GOTO");
        else if (!expressions.TakeWord(text, "THEN"))
            Refuse(FaultKind.CannotFollow, "IF without THEN or GOTO", "THEN, or GOTO with a block number");
        else if (holds)
            return;
        else if (HasElse(text[expressions.Pos..lineEnd]))
            Refuse(FaultKind.CannotFollow, "ELSE", "an IF of its own for the other case");
        expressions.Pos = lineEnd;
    }

    /// <summary>The word ELSE outside comments: the other case, which is not followed.</summary>
    static bool HasElse(ReadOnlySpan<byte> rest)
    {
        var word = 0;
        var inComment = false;
        foreach (var c in rest)
        {
            if (c == ';' && !inComment)
                return false;
            inComment = inComment ? c != ')' : c == '(';
            if (inComment || IsBlank(c))
                continue;
            word =
                Letter(c) == "ELSE"[word] ? word + 1
                : Letter(c) == 'E' ? 1
                : 0;
            if (word == 4)
                return true;
        }
        return false;
    }

    void ReadWhile(ReadOnlySpan<byte> text)
    {
        var condition = expressions.ReadSum(text);
        if (expressions.Failed)
            return;
        NoteRaise(condition);
        if (expressions.TakeWord(text, "DO"))
        {
            ReadFlow(text, FlowKind.While, condition.Number != 0, "DO");
            return;
        }
        Refuse(FaultKind.CannotFollow, "WHILE without DO", "DO with the number of the loop");
        expressions.Pos = lineEnd;
    }

    void ReadFlow(ReadOnlySpan<byte> text, FlowKind kind, bool holds, string name)
    {
        if (kind == FlowKind.Goto && !holds)
            return;
        var value = expressions.ReadValue(text);
        if (expressions.Failed || value.IsUnknown)
            return;
        NoteRaise(value);
        var number = Math.Round(value.Number);
        if (Math.Abs(number - value.Number) > 0.0001 || number is < 0 or > 999_999_999)
        {
            Refuse(FaultKind.CannotFollow, name + " without a whole number", null);
            return;
        }
        flow = new()
        {
            Kind = kind,
            Number = (int)number,
            Holds = holds,
        };
    }

    /// <summary>A parameter at the beginning of what should be <c>#1=…</c>.</summary>
    void ReadAssignment(ReadOnlySpan<byte> text)
    {
        var column = Column;
        expressions.Begin(lineStart, pos + 1, lineEnd);
        var name = expressions.ReadParameterName(text);
        NoteRaise(default);
        pos = expressions.Pos;
        SkipBlanks(text);
        if (expressions.Failed || pos >= lineEnd || text[pos] != '=')
        {
            if (!expressions.Failed)
                Refuse(FaultKind.CannotRead, "#", "= behind the parameter");
            pos = lineEnd;
            return;
        }
        expressions.Begin(lineStart, pos + 1, lineEnd);
        var value = expressions.ReadSum(text);
        pos = expressions.Failed ? lineEnd : expressions.Pos;
        Words.HasWord = true;
        NoteRaise(value, isArgument: true);
        if (name is { } known)
            assignments.Add(new(known, value, column));
    }

    /// <summary>Words of a macro language that is not followed, whose names are runs of letters.</summary>
    void ReadMacro(ReadOnlySpan<byte> text, char letter, int column)
    {
        var name = new StringBuilder().Append(letter);
        for (; pos < lineEnd && name.Length < 8; pos++)
        {
            if (Letter(text[pos]) is var next and not '\0')
                name.Append(next);
            else if (!IsBlank(text[pos]))
                break;
        }
        faults.Add(new(FaultKind.CannotFollow, name.ToString(), column));
        pos = lineEnd;
    }
}
