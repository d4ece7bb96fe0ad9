using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class TapFeedRule(Facts facts) : Rule(facts)
{
    /// <summary>Decimals from which a pitch counts as rounded, as 0.0357 for 28 threads to the inch.</summary>
    const int RoundedPitchDecimals = 4;

    /// <summary>What a holder that gives way along the spindle takes up (common practice, no source).</summary>
    const double FloatingShare = 0.01;

    Where feedGivenAt;
    Units feedUnits;
    double? halfOfLastDigit;
    (long Pitch, double Half) lastPitch;
    long judgedBlock = -1;

    public override RuleInfo Info { get; } = new("tap-feed", Level.Stop, "Tapping feed and speed do not fit the pitch");

    public override Changes Hears => Changes.Feed;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Feed) != Changes.None)
        {
            feedGivenAt = Where.Of(state);
            feedUnits = state.Units;
            halfOfLastDigit = null;
        }
    }

    public override void CycleMove(in ControlState state, in Leg leg)
    {
        if (!leg.Tapping || judgedBlock == state.BlocksExecuted)
            return;
        judgedBlock = state.BlocksExecuted;
        if (!state.FeedGiven || state.Feed <= 0)
        {
            if (!Again(-1 - state.Tool, state))
                Report(
                    -1 - state.Tool,
                    state,
                    Said.Kept("Tapping with no feed in force: none was given, or F0."),
                    "Give F = speed × pitch."
                );
            return;
        }
        if (Facts.Tool?.Pitch is not { } pitch)
        {
            Facts.NotChecked.Say($"tapping feed: T{Figures.Whole(state.Tool)} has no pitch");
            return;
        }
        Judge(state, pitch.Nanometres);
    }

    void Judge(in ControlState state, long pitch)
    {
        if (state.FeedMode == FeedMode.InverseTime)
        {
            Facts.NotChecked.Say($"tapping feed at line {Figures.Whole(state.Line)}: G93 is in force");
            return;
        }
        var perRevolution = state.FeedMode == FeedMode.PerRevolution;
        var revolutions = perRevolution ? 1 : state.SpindleSpeed;
        var wanted = revolutions * pitch;
        halfOfLastDigit ??= HalfOfLastDigit();
        var allowed = halfOfLastDigit.Value + revolutions * HalfOfLastPitchDigit(pitch) + 1;
        if (Facts.Tool!.Floating)
            allowed += wanted * FloatingShare;
        if (wanted <= 0 || Math.Abs(state.Feed - wanted) <= allowed)
            return;
        var cause = HashCode.Combine(state.Tool, state.Feed, state.SpindleSpeed);
        if (Again(cause, state))
            return;
        var figures = Facts.Figures;
        var unit = perRevolution ? Said.Kept("per rev") : Said.Kept("per min");
        var product = perRevolution
            ? figures.Say(pitch)
            : $"S{Figures.Plain((decimal)state.SpindleSpeed)} × {Exact(pitch)} = {Exact(wanted)} {figures.Units.Symbol()}";
        Report(
            cause,
            state,
            Said.Kept(
                $"The feed is {Exact(state.Feed)} {figures.Units.Symbol()} {unit}; speed × pitch wants {product}. The thread is torn or the tap breaks."
            ),
            $"Write F so that it is speed × pitch, or correct the pitch of T{Figures.Whole(state.Tool)} in the setup."
        );
    }

    string Exact(double nm) => Figures.Plain(decimal.Round((decimal)nm / Facts.Figures.Units.Nanometres(), 5));

    /// <summary>Half of the last digit that F was written with; more decimals than can be counted leave nothing.</summary>
    double HalfOfLastDigit()
    {
        var text = Facts.Texts.Block(feedGivenAt);
        var at = text.LastIndexOfAny(['F', 'f']);
        if (at < 0)
            return 0;
        var decimals = 0;
        var point = false;
        foreach (var c in text.AsSpan(at + 1))
        {
            if (c == '.')
                point = true;
            else if (char.IsAsciiDigit(c))
                decimals += point ? 1 : 0;
            else if (c != ' ')
                break;
        }
        return feedUnits.Nanometres() * Math.Pow(10, -decimals) / 2;
    }

    /// <summary>Kept for the holes that follow.</summary>
    double HalfOfLastPitchDigit(long pitch)
    {
        if (lastPitch.Pitch != pitch)
            lastPitch = (pitch, WorkOutHalfOfLastDigit(pitch));
        return lastPitch.Half;
    }

    double WorkOutHalfOfLastDigit(long pitch)
    {
        var decimals = Length.FromNanometres(pitch).In(Facts.Figures.Units).Scale;
        return decimals < RoundedPitchDecimals ? 0 : Facts.Figures.Units.Nanometres() * Math.Pow(10, -decimals) / 2;
    }
}
