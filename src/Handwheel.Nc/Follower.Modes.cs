namespace Handwheel.Nc;

// Modal codes and words.
partial class Follower<TSink>
{
    long unit;

    /// <summary>What a length without a point counts, nm; 0: whole units.</summary>
    long wholeUnit;
    bool exactStop;
    bool arcCentresAbsolute;

    /// <summary>The last of G0 to G3, in force again after G80.</summary>
    Motion basicMotion;

    void UseUnits(Units units)
    {
        state.Units = units;
        unit = units.Nanometres();
        var usual = units == Units.Inch ? 2_540 : 1_000;
        var increment = units == settings.Units ? settings.LeastIncrement : usual;
        wholeUnit = settings.Reads.WholeNumbersAreIncrements ? increment : 0;
        UsePlainScale();
    }

    void SetUnits()
    {
        if (codes[CodeGroup.Units] is not { } code)
            return;
        var units = code == 200 ? Units.Inch : Units.Millimetre;
        if (units != state.Units || !state.UnitsStated)
            changes |= Changes.Units;
        state.UnitsStated = true;
        UseUnits(units);
    }

    void SetFeed(BlockWords words)
    {
        if (codes[CodeGroup.FeedMode] is { } code)
        {
            var mode = code switch
            {
                930 => FeedMode.InverseTime,
                940 => FeedMode.PerMinute,
                _ => FeedMode.PerRevolution,
            };
            if (mode != state.FeedMode)
            {
                changes |= Changes.FeedMode;
                state.FeedMode = mode;
                state.FeedGiven = false;
            }
        }
        if (words.Has('F'))
            UseFeed(words['F'].Value * (state.FeedMode == FeedMode.InverseTime ? 1 : unit));
    }

    void UseFeed(double feed)
    {
        state.Stated |= Stated.Feed;
        if (feed == state.Feed && state.FeedGiven == feed > 0)
            return;
        state.Feed = feed;
        state.FeedGiven = feed > 0;
        changes |= Changes.Feed;
    }

    void SetSpeed(BlockWords words)
    {
        if (!words.Has('S'))
            return;
        state.Stated |= Stated.Speed;
        var speed = words['S'].Value;
        if (speed == state.SpindleSpeed)
            return;
        state.SpindleSpeed = speed;
        changes |= Changes.Spindle;
    }

    void SetSpindle(SpindleDirection direction)
    {
        if (direction == state.Spindle)
            return;
        state.Spindle = direction;
        changes |= Changes.Spindle;
    }

    void SetCoolant(CoolantWords coolant)
    {
        if (coolant == state.Coolant)
            return;
        state.Coolant = coolant;
        changes |= Changes.Coolant;
    }

    void SetNextTool(BlockWords words)
    {
        if (!words.Has('T') || WholeOf(words, 'T') is not { } tool)
            return;
        state.NextTool = tool;
        toolGiven = true;
        changes |= Changes.NextTool;
    }

    void SetMotion()
    {
        if (codes[CodeGroup.Motion] is not { } code)
            return;
        if (code == 800)
            (state.Motion, hole) = (basicMotion, default);
        else
            UseMotion(MotionOf(code));
    }

    void UseMotion(Motion motion)
    {
        state.Motion = motion;
        if (state.IsCycle)
            return;
        basicMotion = motion;
        if (hole.Running)
            hole = default;
    }

    static Motion MotionOf(int code) =>
        code switch
        {
            0 => Motion.Rapid,
            10 => Motion.Feed,
            20 => Motion.ArcClockwise,
            30 => Motion.ArcCounterclockwise,
            730 => Motion.Cycle73,
            740 => Motion.Cycle74,
            760 => Motion.Cycle76,
            _ => Motion.Cycle81 + (byte)(code / 10 - 81),
        };

    void SetModes(BlockWords words, bool withD = true)
    {
        var spindle = codes[CodeGroup.Spindle];
        if (spindle is 30 or 130)
            SetSpindle(SpindleDirection.Clockwise);
        else if (spindle is 40 or 140)
            SetSpindle(SpindleDirection.Counterclockwise);
        if (codes.Mist || codes.Flood || spindle is 130 or 140)
            SetCoolant(
                state.Coolant
                    | (codes.Mist ? CoolantWords.Mist : CoolantWords.None)
                    | (codes.Flood || spindle is 130 or 140 ? CoolantWords.Flood : CoolantWords.None)
            );
        if (codes[CodeGroup.Plane] is { } plane && (Plane)(plane / 10 - 17) is var chosen && chosen != state.Plane)
        {
            state.Plane = chosen;
            changes |= Changes.Plane;
        }
        SetCompensation(words, withD);
        if (codes[CodeGroup.Path] is { } path)
            exactStop = path == 610;
        state.ExactStop = exactStop || codes.Has(CodeGroup.ExactStopOnce);
        if (codes[CodeGroup.Distance] is { } distance)
        {
            state.Incremental = distance == 910;
            state.Stated |= Stated.Distance;
        }
        if (codes[CodeGroup.ArcCentres] is { } centres)
            arcCentresAbsolute = centres == 901;
        if (codes[CodeGroup.Return] is { } level)
            state.ReturnToR = level == 990;
    }

    /// <param name="withD">False: D is an argument of a macro call.</param>
    void SetCompensation(BlockWords words, bool withD)
    {
        var before = (state.Compensation, state.D);
        if (codes[CodeGroup.Compensation] is { } code)
            state.Compensation = code switch
            {
                400 => CutterCompensation.Off,
                410 => CutterCompensation.Left,
                _ => CutterCompensation.Right,
            };
        var hasD = withD && words.Has('D');
        if (hasD && WholeOf(words, 'D') is { } d)
            state.D = d;
        if (before != (state.Compensation, state.D))
            changes |= Changes.Compensation;
        var comesOn = before.Compensation == CutterCompensation.Off && state.Compensation != CutterCompensation.Off;
        if (state.Compensation != CutterCompensation.Off || beside != Compensating.Off)
            UseCompensation(before.Compensation, hasD || comesOn);
    }

    void SetAfterMotion()
    {
        if (codes.Is(CodeGroup.Spindle, 50) || codes.Has(CodeGroup.Orient))
            SetSpindle(SpindleDirection.Stopped);
        if (codes.Has(CodeGroup.Orient))
            reader.Words.Use("PR");
        if (codes.Is(CodeGroup.Coolant, 90))
            SetCoolant(CoolantWords.None);
        if (codes[CodeGroup.Stop] is 0 or 10)
            changes |= Changes.Stop;
    }
}
