namespace Handwheel.Nc;

/// <summary>A G or M code: its number times ten, so that G54.1 is 541, and its column.</summary>
readonly record struct Code(int Tenths, int Column);

/// <summary>The words of one block, by letter. Used again for every block.</summary>
sealed class BlockWords
{
    const int CodesMost = 32;
    const int ArgumentsMost = 64;

    readonly NcNumber[] values = new NcNumber[26];
    readonly Code[] gCodes = new Code[CodesMost];
    readonly Code[] mCodes = new Code[CodesMost];
    int gCount;
    int mCount;
    uint present;
    uint used;

    readonly (char Letter, ParameterValue Value)[] arguments = new (char, ParameterValue)[ArgumentsMost];
    int argumentCount;

    /// <summary>The block begins with a slash, or goes on behind one.</summary>
    public bool Slash;

    /// <summary>It has a word other than N or O.</summary>
    public bool HasWord;

    /// <summary>A percent sign before, or behind, every word.</summary>
    public bool PercentFirst,
        PercentLast;

    /// <summary>G65 or G66 has been read: letters behind it are arguments.</summary>
    public bool MacroCall;

    /// <summary>The name of the program that is called, or null.</summary>
    public string? Name;

    /// <summary>A program begins here by name.</summary>
    public bool Label;

    /// <summary>The first comment behind a call, brackets included; length 0: there is none. Some programs name a file so.</summary>
    public (int Start, int Length) CommentOfCall;

    /// <summary>Something in the block was worked out from a value that is another one when the work offsets are raised.</summary>
    public bool RestsOnRaise;

    /// <summary>What stands behind G65 or G66, in order.</summary>
    public ReadOnlySpan<(char Letter, ParameterValue Value)> Arguments => arguments.AsSpan(0, argumentCount);

    public ReadOnlySpan<Code> G => gCodes.AsSpan(0, gCount);
    public ReadOnlySpan<Code> M => mCodes.AsSpan(0, mCount);

    public void Clear()
    {
        gCount = mCount = argumentCount = 0;
        Name = null;
        CommentOfCall = default;
        present = used = 0;
        Slash = HasWord = PercentFirst = PercentLast = MacroCall = Label = RestsOnRaise = false;
    }

    /// <summary>M98 or M198, G65 or G66 has been read.</summary>
    public bool Calls => MacroCall || M is [.., { Tenths: 980 or 1980 }];

    public bool Has(char letter) => (present & Bit(letter)) != 0;

    public bool HasAny(string letters)
    {
        foreach (var letter in letters)
            if (Has(letter))
                return true;
        return false;
    }

    /// <summary>The word's number; asking for it counts as using the word.</summary>
    public ref readonly NcNumber this[char letter]
    {
        get
        {
            used |= Bit(letter);
            return ref values[letter - 'A'];
        }
    }

    public void Use(string letters)
    {
        foreach (var letter in letters)
            used |= Bit(letter);
    }

    /// <summary>The first letter that no code of the block has asked for, or null.</summary>
    public char? Unused()
    {
        var left = present & ~used;
        return left == 0 ? null : (char)('A' + System.Numerics.BitOperations.TrailingZeroCount(left));
    }

    /// <summary>False when the letter is there already; the last one counts (NISTIR 6556, 3.3.6).</summary>
    public bool Add(char letter, in NcNumber number)
    {
        var first = !Has(letter);
        present |= Bit(letter);
        values[letter - 'A'] = number;
        HasWord |= letter is not ('N' or 'O');
        if (MacroCall && argumentCount < ArgumentsMost)
            arguments[argumentCount++] = (letter, new(number.Value, ValueKind.Known, number.Raise));
        return first;
    }

    /// <summary>False when there are too many codes to be meant.</summary>
    public bool AddCode(char letter, Code code)
    {
        HasWord = true;
        MacroCall |= letter == 'G' && code.Tenths is 650 or 660;
        if (letter == 'G' && gCount < CodesMost)
            gCodes[gCount++] = code;
        else if (letter == 'M' && mCount < CodesMost)
            mCodes[mCount++] = code;
        else
            return false;
        return true;
    }

    static uint Bit(char letter) => 1u << (letter - 'A');
}
