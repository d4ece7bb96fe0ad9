namespace Handwheel.Nc;

/// <summary>Codes that the plain way knows beside G0 to G3, each at most once in a block, and words that belong to them.</summary>
[Flags]
enum PlainCodes : ushort
{
    None = 0,

    /// <summary>G90.</summary>
    Absolute = 1,

    /// <summary>G91.</summary>
    Incremental = 2,

    /// <summary>G98.</summary>
    ToInitial = 4,

    /// <summary>G99.</summary>
    ToR = 8,

    /// <summary>G80.</summary>
    Cancel = 16,

    /// <summary>M98.</summary>
    Call = 32,

    /// <summary>M99.</summary>
    Return = 64,
    P = 128,
    Q = 256,

    /// <summary>O: the program begins.</summary>
    Begins = 512,
}

// What 2.5D programs repeat: canned cycles and their end, G90 and G91, calls of subprograms. Every block does what Execute would do.
unsafe partial class Follower<TSink>
{
    const int WholeMost = 999_999_999;

    /// <summary>The block that was followed last leads to another place than the next line.</summary>
    bool jumped;

    static byte* SkipComment(byte* p, byte* limit)
    {
        for (p++; p < limit; p++)
        {
            if (*p == ')')
                return p + 1;
            // Brackets inside are for the general way.
            if (*p is (byte)'(' or (byte)'\n' or (byte)'\r')
                return null;
        }
        return null;
    }

    static byte* ReadWhole(byte* p, out int value)
    {
        p = PlainNumber.TryReadAny(p, out var number, out _, out var hasPoint);
        value = (int)number;
        return hasPoint || number is < 0 or > WholeMost ? null : p;
    }

    byte* ReadG(byte* p)
    {
        p = ReadWhole(p, out var code);
        plainWords.HasWord = true;
        return code switch
        {
            <= 3 => TakeMotion(p, Motion.Rapid + (byte)code),
            73 or (>= 81 and <= 86) or 89 => TakeMotion(p, MotionOf(code * 10)),
            80 => Take(p, PlainCodes.Cancel, PlainCodes.Cancel),
            90 => Take(p, PlainCodes.Absolute, PlainCodes.Absolute | PlainCodes.Incremental),
            91 => Take(p, PlainCodes.Incremental, PlainCodes.Absolute | PlainCodes.Incremental),
            98 => Take(p, PlainCodes.ToInitial, PlainCodes.ToInitial | PlainCodes.ToR),
            99 => Take(p, PlainCodes.ToR, PlainCodes.ToInitial | PlainCodes.ToR),
            _ => null,
        };
    }

    byte* TakeMotion(byte* p, Motion motion)
    {
        if (plainWords.Motion != Motion.None)
            return null;
        plainWords.Motion = motion;
        return p;
    }

    /// <summary>Null where one of the <paramref name="group"/> is there already.</summary>
    byte* Take(byte* p, PlainCodes code, PlainCodes group)
    {
        if ((plainWords.Codes & group) != PlainCodes.None)
            return null;
        plainWords.Codes |= code;
        return p;
    }

    byte* ReadM(byte* p)
    {
        p = ReadWhole(p, out var code);
        plainWords.HasWord = true;
        return code switch
        {
            98 => Take(p, PlainCodes.Call, PlainCodes.Call | PlainCodes.Return),
            99 => Take(p, PlainCodes.Return, PlainCodes.Call | PlainCodes.Return),
            _ => null,
        };
    }

    byte* ReadP(byte* p)
    {
        plainWords.HasWord = true;
        return Take(ReadWhole(p, out plainWords.P), PlainCodes.P, PlainCodes.P);
    }

    byte* ReadQ(byte* p, long* scales)
    {
        plainWords.HasWord = true;
        return Take(PlainNumber.ReadUsual(p, scales, plainDecimals, out plainWords.Q), PlainCodes.Q, PlainCodes.Q);
    }

    /// <summary>The number of the program that begins here; where another one has begun, the general way ends it.</summary>
    byte* ReadProgramNumber(byte* p) => begun ? null : Take(ReadWhole(p, out _), PlainCodes.Begins, PlainCodes.Begins);

    /// <summary>False, with nothing done, where these words together are not plain.</summary>
    bool ExecuteCodes()
    {
        patternHolds = false;
        ref var words = ref plainWords;
        var also = words.Codes;
        if (also == PlainCodes.Begins && words.Axis.Given == 0 && !words.HasWord)
        {
            begun = true;
            return true;
        }
        if (
            pendingChanges != Changes.None
            || settings.SuppressesHolds.Count > 0
            || state.Compensation != CutterCompensation.Off
        )
            return false;
        if ((also & (PlainCodes.Call | PlainCodes.Return)) != PlainCodes.None)
            return ExecuteJump(also);
        var cancels = (also & PlainCodes.Cancel) != PlainCodes.None;
        var motion =
            cancels ? basicMotion
            : words.Motion != Motion.None ? words.Motion
            : state.Motion;
        if ((cancels && words.Motion != Motion.None) || !FitCodes(motion))
            return false;
        begun = true;
        changes = words.Whole ? Changes.WholeNumber : Changes.None;
        if ((words.Axis.Given & AxisWords.FBit) != 0)
            UseFeed(words.Feed);
        if (cancels)
            (state.Motion, hole) = (basicMotion, default);
        else if (words.Motion != Motion.None)
            UseMotion(words.Motion);
        UseModes(also);
        TellChanges();
        if (state.IsCycle)
            RunPlainCycle();
        else if (motion is Motion.ArcClockwise or Motion.ArcCounterclockwise)
            GoAround(words.Axis);
        else if ((words.Axis.Given & AxisWords.XYZ) != 0)
            GoPlain(words.Axis.Given & AxisWords.XYZ, words.Axis.X, words.Axis.Y, words.Axis.Z);
        state.BlocksExecuted++;
        Sink.BlockEnd(in state);
        return true;
    }

    /// <summary>Every word of the block is one that this motion uses.</summary>
    bool FitCodes(Motion motion)
    {
        var moves = plainWords.Axis.Given & ~AxisWords.FBit;
        var words = plainWords.Codes & (PlainCodes.P | PlainCodes.Q);
        return motion switch
        {
            Motion.None => moves == 0 && words == PlainCodes.None,
            Motion.Rapid or Motion.Feed => (moves & ~AxisWords.XYZ) == 0 && words == PlainCodes.None,
            Motion.ArcClockwise or Motion.ArcCounterclockwise => words == PlainCodes.None,
            _ => (moves & AxisWords.IJK) == 0 && (words & PlainCodes.P) == PlainCodes.None && state.Plane == Plane.XY,
        };
    }

    void UseModes(PlainCodes also)
    {
        if ((also & (PlainCodes.Absolute | PlainCodes.Incremental)) != PlainCodes.None)
        {
            state.Incremental = (also & PlainCodes.Incremental) != PlainCodes.None;
            state.Stated |= Stated.Distance;
        }
        if ((also & (PlainCodes.ToInitial | PlainCodes.ToR)) != PlainCodes.None)
            state.ReturnToR = (also & PlainCodes.ToR) != PlainCodes.None;
    }

    void RunPlainCycle()
    {
        axisWords = plainWords.Axis;
        axisWords.Given &= ~AxisWords.FBit;
        var at = BeginHole(PlaceAxis.Z);
        if ((plainWords.Codes & PlainCodes.Q) != PlainCodes.None)
            hole.Peck = Math.Abs(plainWords.Q);
        ReadLevels(at, PlaceAxis.Z);
        MakeHoles(1, rotary: false);
    }

    /// <summary>M98 with P, or M99, and nothing beside it that moves.</summary>
    bool ExecuteJump(PlainCodes also)
    {
        ref var words = ref plainWords;
        var calling = (also & PlainCodes.Call) != PlainCodes.None;
        const PlainCodes Others = PlainCodes.Cancel | PlainCodes.Q;
        if (words.Axis.Given != 0 || words.Motion != Motion.None || (also & Others) != PlainCodes.None || state.IsCycle)
            return false;
        if (calling != ((also & PlainCodes.P) != PlainCodes.None) || (!calling && calls.Count == 0))
            return false;
        if (calling && settings.Reads.SubprogramCall != "P")
            return false;
        TextPlace? start = calling ? texts.Find(new(words.P, null, state.File, state.Line)) : null;
        if (calling && start is null)
            return false;
        begun = true;
        UseModes(also);
        state.BlocksExecuted++;
        Sink.BlockEnd(in state);
        pos = state.BlockStart + state.BlockLength;
        pos += text.Span[pos] == '\r' ? 2 : 1;
        line = state.Line + 1;
        jumped = true;
        if (start is { } place)
            Begin(place, inside: false, 1, null);
        else
            ReturnFromSubprogram(null);
        return true;
    }
}
