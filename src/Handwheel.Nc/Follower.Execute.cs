namespace Handwheel.Nc;

// One block in the general way, in the order that the control executes it: modes and offsets first, then what the block does, then
// the codes that act after the motion (NISTIR 6556, table 8; tool change after a reference return, M5, M9 and M19 after the motion: common practice).
partial class Follower<TSink>
{
    Changes changes;
    AxisWords axisWords;

    void Execute()
    {
        var words = reader.Words;
        changes = pendingChanges | (words.Slash ? Changes.Slash : Changes.None);
        pendingChanges = Changes.None;
        if (codes[CodeGroup.Macro] is { } macro && macro != 670)
        {
            ExecuteMacroCall(macro, words);
            return;
        }
        if (codes.Has(CodeGroup.Macro))
            modalMacro = null;
        if (settings.SuppressesHolds.Count > 0 && SuppressesHolds(words))
            changes |= Changes.HoldsSuppressed;
        var once = codes[CodeGroup.OneShot];
        if (codes.Has(CodeGroup.ToolChange))
            state.Stated = Stated.None;
        SetUnits();
        SetFeed(words);
        SetSpeed(words);
        SetNextTool(words);
        var returns = once is 280 or 300;
        if (codes.Has(CodeGroup.ToolChange) && !returns)
            ChangeTool(words);
        SetMotion();
        SetModes(words);
        ReadAxisWords(words, once);
        SetOffsets(words, once);
        TellChanges();
        SetTurning(words);
        RefuseUnderTurning(once);
        if (once is { } code)
            DoOnce(code, words);
        if (!UsesAxisWords(once) && !TurningUsesAxisWords)
            Move(words);
        if (codes.Has(CodeGroup.ToolChange) && returns)
            ChangeTool(words);
        SetAfterMotion();
        TellChanges();
        RefuseUnused(words);
        if (state.FeedMode == FeedMode.InverseTime)
            state.FeedGiven = false;
        state.BlocksExecuted++;
        TellBlockEnd();
        state.ExactStop = exactStop;
        GoOn(words);
    }

    bool SuppressesHolds(BlockWords words)
    {
        foreach (var code in words.M)
            if (settings.SuppressesHolds.Contains(codes.Name('M', code.Tenths)))
                return true;
        foreach (var code in words.G)
            if (settings.SuppressesHolds.Contains(codes.Name('G', code.Tenths)))
                return true;
        return false;
    }

    void TellChanges()
    {
        if (changes == Changes.None)
            return;
        TellModal(changes);
        changes = Changes.None;
    }

    static bool UsesAxisWords(int? once) => once is 100 or 280 or 300 or 520 or 920 or 921 or 922 or 923;

    void DoOnce(int code, BlockWords words)
    {
        switch (code)
        {
            case 40:
                Dwell(words);
                break;
            case 100:
                WriteRegister(words);
                break;
            case 280:
                ReturnToReference(1);
                break;
            case 300:
                ReturnToSecond(words);
                break;
            case 520:
                SetLocalShift();
                break;
            default:
                SetCoordinateShift(code);
                break;
        }
    }

    /// <summary>The lengths that a motion or an offset may use.</summary>
    void ReadAxisWords(BlockWords words, int? once)
    {
        axisWords = default;
        if (once == 40 && !words.Has('P'))
            return;
        axisWords.X = AxisLength(words, 'X', 1);
        axisWords.Y = AxisLength(words, 'Y', 2);
        axisWords.Z = AxisLength(words, 'Z', 4);
        var arc = state.Motion is Motion.ArcClockwise or Motion.ArcCounterclockwise;
        if (arc || state.IsCycle)
        {
            axisWords.I = AxisLength(words, 'I', AxisWords.IBit);
            axisWords.J = AxisLength(words, 'J', AxisWords.JBit);
            axisWords.R = AxisLength(words, 'R', AxisWords.RBit);
        }
        if (arc)
            axisWords.K = AxisLength(words, 'K', AxisWords.KBit);
        if (words.HasAny("ABC"))
        {
            changes |= Changes.Rotary;
            words.Use("ABC");
        }
    }

    long AxisLength(BlockWords words, char letter, uint bit)
    {
        if (!words.Has(letter))
            return 0;
        axisWords.Given |= bit;
        return LengthOf(words[letter], letter);
    }

    long LengthOf(in NcNumber number, char letter)
    {
        if (!number.HasPoint && !number.Computed && !number.IsZero)
            changes |= Changes.WholeNumber;
        var length = number.Nanometres(unit, wholeUnit);
        if (Math.Abs(length) == NcNumber.LengthMost)
            Refuse(FaultKind.CannotRead, letter.ToString(), number.Column, "a length below 100 km");
        return length;
    }

    /// <summary>The whole number behind a letter; a fault and null where there is none.</summary>
    int? WholeOf(BlockWords words, char letter)
    {
        ref readonly var number = ref words[letter];
        if (number.IsWhole(out var whole) && whole >= 0)
            return whole;
        Refuse(FaultKind.CannotRead, letter.ToString(), number.Column, "a whole number");
        return null;
    }

    void Dwell(BlockWords words)
    {
        var letter =
            words.Has('P') ? 'P'
            : words.Has('X') ? 'X'
            : 'U';
        if (!words.Has(letter))
        {
            CannotFollow("G4 without P", 0, "P, or X with seconds");
            return;
        }
        Dwell(letter == 'P' ? DwellOf(words['P']) : words[letter].Value);
    }

    double DwellOf(in NcNumber number) => settings.Reads.DwellPIsSeconds ? number.Value : number.Value / 1000;

    void Dwell(double seconds) => TellDwell(Math.Max(0, seconds));

    /// <summary>Words that no code of the block asks for are said, never skipped in silence.</summary>
    void RefuseUnused(BlockWords words)
    {
        if (codes.HasForeign || codes.Has(CodeGroup.Call))
            return;
        if (words.Unused() is { } letter)
            CannotFollow(letter.ToString(), words[letter].Column, "a code in the block that uses this word");
    }
}
