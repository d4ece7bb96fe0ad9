using System.Text;

namespace Handwheel.Nc;

/// <summary>
/// Reads and works out values: numbers, parameters, functions and expressions in brackets (NISTIR 6556, 3.3.2; angles in degrees). What
/// makes no sense is a fault and the value is not known; never throws.
/// </summary>
sealed class ExpressionReader(Parameters parameters, Reads reads, List<Fault> faults)
{
    /// <summary>Brackets, signs and number signs inside each other.</summary>
    const int DeepestNesting = 50;
    const int NameLongest = 60;

    readonly ExpressionSum sum = new(reads);
    int lineStart;
    int end;
    int depth;

    /// <summary>Next byte to read.</summary>
    public int Pos { get; set; }

    /// <summary>The text could not be read on from here.</summary>
    public bool Failed { get; private set; }

    /// <summary>Which parameter is meant is worked out from a value that the raise of the work offsets changes.</summary>
    public bool IndexDependsOnRaise { get; private set; }

    public void Begin(int start, int pos, int lineEnd)
    {
        (lineStart, Pos, end) = (start, pos, lineEnd);
        (Failed, IndexDependsOnRaise, depth) = (false, false, 0);
        sum.Clear();
    }

    /// <summary>One value behind a letter: signs, then a number, a parameter, a function or brackets.</summary>
    public ParameterValue ReadValue(ReadOnlySpan<byte> text)
    {
        if (++depth > DeepestNesting)
            return Fail("brackets inside each other", "at most 50 deep");
        var negative = false;
        for (var c = Next(text); c is (byte)'-' or (byte)'+'; c = Next(text))
        {
            negative ^= c == '-';
            Pos++;
        }
        var value = ReadUnsigned(text);
        depth--;
        return negative && value.Kind == ValueKind.Known ? value.Negative : value;
    }

    /// <summary>Values with operators between them, up to what is no operator.</summary>
    public ParameterValue ReadSum(ReadOnlySpan<byte> text)
    {
        var first = sum.Begin();
        sum.Add(ReadValue(text));
        while (!Failed && ReadOperator(text) is { } sign)
        {
            sum.Add(sign);
            sum.Add(ReadValue(text));
        }
        if (Failed)
            return ParameterValue.Unknown;
        var value = sum.Take(first, out var refusal);
        if (refusal != null)
            faults.Add(new(FaultKind.CannotFollow, refusal, Column));
        return value;
    }

    /// <summary>The parameter behind a number sign, which has been read; null where it cannot be told which.</summary>
    public ParameterName? ReadParameterName(ReadOnlySpan<byte> text)
    {
        var c = Next(text);
        if (c == '<')
            return ReadName(text);
        if (c is not ((byte)'#' or (byte)'[') && !IsNumber(c))
        {
            Fail("#", "the number of a parameter behind #");
            return null;
        }
        if (++depth > DeepestNesting)
        {
            Fail("number signs behind each other", "at most 50");
            return null;
        }
        var column = Column;
        var index = ReadUnsigned(text);
        depth--;
        if (index.IsUnknown)
            return null;
        IndexDependsOnRaise |= index.DependsOnRaise;
        var whole = Math.Round(index.Number);
        if (Math.Abs(index.Number - whole) <= 0.0001 && whole is >= 0 and <= 999_999)
            return new((int)whole, null);
        faults.Add(new(FaultKind.CannotRead, "#", column, "a whole number from 0 to 999999 behind #"));
        return null;
    }

    int Column => Pos - lineStart + 1;

    byte Next(ReadOnlySpan<byte> text)
    {
        while (Pos < end && BlockReader.IsBlank(text[Pos]))
            Pos++;
        return Pos < end ? text[Pos] : (byte)0;
    }

    static bool IsNumber(byte c) => c is >= (byte)'0' and <= (byte)'9' or (byte)'.';

    ParameterValue ReadUnsigned(ReadOnlySpan<byte> text)
    {
        var c = Next(text);
        if (IsNumber(c))
            return ReadNumber(text);
        if (c == '[')
            return ReadBrackets(text);
        if (c == '#')
        {
            Pos++;
            return ReadParameterName(text) is { } name ? ValueOf(name) : ParameterValue.Unknown;
        }
        if (BlockReader.Letter(c) != '\0')
            return ReadFunction(text);
        return Fail(c == 0 ? "nothing" : ((char)c).ToString(), "a number, #, [ or a function");
    }

    ParameterValue ValueOf(ParameterName name)
    {
        parameters.Used = true;
        if (parameters.Get(name) is { } value)
            return value;
        if (parameters.Misses(name))
        {
            var set = name.Name == null ? $"a value: give it with --set '{name}=…'" : "a value before it is used";
            faults.Add(new(FaultKind.CannotFollow, name.ToString(), Column, set));
        }
        return ParameterValue.Unknown;
    }

    ParameterValue ReadNumber(ReadOnlySpan<byte> text)
    {
        long mantissa = 0;
        var (decimals, digits, point) = (0, 0, false);
        for (var c = Next(text); IsNumber(c); c = Next(text))
        {
            if (c == '.')
            {
                if (point)
                    return Fail("a second point", "one point in a number");
                point = true;
            }
            else if (digits++ >= 0 && (!point || decimals < NcNumber.DigitsMost - 1))
            {
                if (mantissa >= NcNumber.PowersOfTen[NcNumber.DigitsMost])
                    return Fail("a number too long", "at most 15 digits");
                mantissa = mantissa * 10 + (c - '0');
                decimals += point ? 1 : 0;
            }
            Pos++;
        }
        return digits == 0
            ? Fail(".", "a digit in a number")
            : ParameterValue.Of((double)mantissa / NcNumber.PowersOfTen[decimals]);
    }

    ParameterValue ReadBrackets(ReadOnlySpan<byte> text)
    {
        Pos++;
        var value = ReadSum(text);
        return Failed || Close(text) ? value : ParameterValue.Unknown;
    }

    bool Close(ReadOnlySpan<byte> text)
    {
        if (Next(text) == ']')
        {
            Pos++;
            return true;
        }
        Fail("brackets without end", "] or an operator");
        return false;
    }

    ParameterName? ReadName(ReadOnlySpan<byte> text)
    {
        var close = text[Pos..end].IndexOf((byte)'>');
        var name = new StringBuilder();
        for (var i = Pos + 1; i < Pos + close; i++)
            if (!BlockReader.IsBlank(text[i]))
                name.Append(char.ToLowerInvariant((char)text[i]));
        if (close < 0 || name.Length is 0 or > NameLongest)
        {
            Fail("#<", "a name of at most 60 letters and >");
            return null;
        }
        Pos += close + 1;
        return new(0, name.ToString());
    }

    ParameterValue ReadFunction(ReadOnlySpan<byte> text)
    {
        var column = Column;
        var name = new StringBuilder();
        for (var c = Next(text); BlockReader.Letter(c) is var letter and not '\0' && name.Length < 6; c = Next(text))
        {
            name.Append(letter);
            Pos++;
        }
        var spelled = name.ToString();
        if (!Functions.Knows(spelled) || Next(text) != '[')
        {
            faults.Add(new(FaultKind.CannotRead, spelled, column, "a function with brackets"));
            Failed = true;
            return ParameterValue.Unknown;
        }
        Pos++;
        var first = ReadSum(text);
        ParameterValue? second = null;
        if (!Failed && Functions.TakesTwo(spelled) && Next(text) == ',')
        {
            Pos++;
            second = ReadSum(text);
        }
        if (Failed || !Close(text))
            return ParameterValue.Unknown;
        if (spelled is "ATAN" or "ATN" && second == null && SlashAndBracket(text))
            second = ReadBrackets(text);
        if (Failed || first.IsUnknown || second is { IsUnknown: true })
            return ParameterValue.Unknown;
        if (Functions.Of(spelled, first.Number, second?.Number, reads) is { } result)
        {
            var depends = first.DependsOnRaise || second is { DependsOnRaise: true };
            return new(result, ValueKind.Known, depends ? double.NaN : 0);
        }
        faults.Add(new(FaultKind.CannotFollow, spelled + " of a value that has none", column));
        return ParameterValue.Unknown;
    }

    /// <summary>The second part of ATAN[y]/[x].</summary>
    bool SlashAndBracket(ReadOnlySpan<byte> text)
    {
        if (Next(text) != '/')
            return false;
        var slash = Pos++;
        if (Next(text) == '[')
            return true;
        Pos = slash;
        return false;
    }

    Operator? ReadOperator(ReadOnlySpan<byte> text)
    {
        var c = Next(text);
        if (c is (byte)'+' or (byte)'-' or (byte)'/')
        {
            Pos++;
            return c switch
            {
                (byte)'+' => Operator.Plus,
                (byte)'-' => Operator.Minus,
                _ => Operator.Divide,
            };
        }
        if (c == '*')
        {
            Pos++;
            if (Next(text) != '*')
                return Operator.Times;
            Pos++;
            return Operator.Power;
        }
        if (BlockReader.Letter(c) == '\0')
            return null;
        for (var sign = Operator.Mod; sign <= Operator.Le; sign++)
            if (TakeWord(text, ExpressionSum.Spelled(sign)))
                return sign;
        return null;
    }

    /// <summary>Takes this run of letters where it stands next.</summary>
    public bool TakeWord(ReadOnlySpan<byte> text, string word)
    {
        var start = Pos;
        foreach (var letter in word)
        {
            if (BlockReader.Letter(Next(text)) != letter)
            {
                Pos = start;
                return false;
            }
            Pos++;
        }
        return true;
    }

    ParameterValue Fail(string cause, string expected)
    {
        if (!Failed)
            faults.Add(new(FaultKind.CannotRead, cause, Column, expected));
        Failed = true;
        return ParameterValue.Unknown;
    }
}
