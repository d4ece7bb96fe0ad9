using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>What is in force, in the words that a program would state it with.</summary>
static class ModalWords
{
    /// <summary>The groups of which one word is in force at every moment: units, plane, distance, feed mode, return of cycles.</summary>
    public static List<string> AlwaysOne(in ControlState state) =>
        [
            state.Units == Units.Inch ? "G20" : "G21",
            state.Plane switch
            {
                Plane.ZX => "G18",
                Plane.YZ => "G19",
                _ => "G17",
            },
            state.Incremental ? "G91" : "G90",
            state.FeedMode switch
            {
                FeedMode.InverseTime => "G93",
                FeedMode.PerRevolution => "G95",
                _ => "G94",
            },
            state.ReturnToR ? "G99" : "G98",
        ];

    /// <summary>Everything that a control's page of modal words would show after a block.</summary>
    public static IReadOnlyList<string> All(in ControlState state, Figures figures)
    {
        var words = new List<string>();
        if (MotionWord(state.Motion) is { } motion)
            words.Add(motion);
        words.AddRange(AlwaysOne(state));
        words.Add(
            state.Compensation switch
            {
                CutterCompensation.Left => "G41 D" + Figures.Whole(state.D),
                CutterCompensation.Right => "G42 D" + Figures.Whole(state.D),
                _ => "G40",
            }
        );
        words.Add(
            state.LengthMode switch
            {
                LengthMode.Added => "G43 H" + Figures.Whole(state.H),
                LengthMode.Subtracted => "G44 H" + Figures.Whole(state.H),
                _ => "G49",
            }
        );
        words.Add(state.WorkOffset.ToString());
        if (state.ExactStop)
            words.Add("G61");
        if (state.FeedGiven)
            words.Add(Feed(state, figures));
        words.Add(Spindle(state));
        words.Add(Coolant(state.Coolant));
        return words;
    }

    static string? MotionWord(Motion motion) =>
        motion switch
        {
            Motion.None => null,
            Motion.Rapid => "G0",
            Motion.Feed => "G1",
            Motion.ArcClockwise => "G2",
            Motion.ArcCounterclockwise => "G3",
            _ => "G" + motion.ToString()["Cycle".Length..],
        };

    static string Feed(in ControlState state, Figures figures) =>
        state.FeedMode switch
        {
            FeedMode.PerMinute => "F " + figures.Rate(state.Feed),
            FeedMode.PerRevolution => "F "
                + Figures.Plain((decimal)Math.Round(state.Feed / figures.Units.Nanometres(), 5))
                + " "
                + figures.Units.Symbol()
                + "/rev",
            _ => "F " + Figures.Plain((decimal)Math.Round(state.Feed, 4)) + " 1/min",
        };

    static string Spindle(in ControlState state)
    {
        var turns = state.Spindle switch
        {
            SpindleDirection.Clockwise => "M3",
            SpindleDirection.Counterclockwise => "M4",
            _ => "M5",
        };
        return state.SpindleSpeed > 0 ? turns + " S" + Figures.Plain((decimal)state.SpindleSpeed) : turns;
    }

    static string Coolant(CoolantWords coolant) =>
        coolant switch
        {
            CoolantWords.Mist => "M7",
            CoolantWords.Flood => "M8",
            CoolantWords.Mist | CoolantWords.Flood => "M7 M8",
            _ => "M9",
        };
}
