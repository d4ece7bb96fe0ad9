using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>Steps as people see them, without what a blind reading must not see.</summary>
static class Views
{
    public static IReadOnlyList<StepView> Of(Course course)
    {
        List<StepRule> rules = [.. course.ReadBack.Values, .. course.PutBack, .. course.Table.Rules];
        var stillBlind = rules
            .Where(r => r is { Blind: true, Register: not null } && !course[r.Id].IsRead)
            .Select(r => r.Register!.Value)
            .ToHashSet();
        return [.. rules.Select(r => Of(course, r, stillBlind))];
    }

    public static string Percent(decimal value) => value.ToString("0.##", CultureInfo.InvariantCulture) + " %";

    static StepView Of(Course course, StepRule rule, HashSet<Register> stillBlind)
    {
        var record = course[rule.Id];
        var done = course.IsDoneOrRead(rule);
        List<string> waits = done ? [] : [.. Refusals.Blocks(course, rule)];
        var shows = Shows(course, rule, record);
        var masked =
            rule.Register is { } register && stillBlind.Contains(register) && record.State != StepState.Refused;
        return new()
        {
            Id = rule.Id,
            Phase = rule.Phase,
            Card = rule.Card,
            Title = rule.Title,
            Where = rule.Where,
            Why = rule.Why,
            Takes = rule.Takes,
            Unit = rule.Takes switch
            {
                Takes.Reading or Takes.Measurement => course.Units.Symbol(),
                Takes.Percent => "%",
                _ => "",
            },
            Decimals = rule.Takes is Takes.Reading or Takes.Measurement ? course.Units.RegisterDecimals() : 0,
            Blind = rule.Blind,
            IsMeasuredByHand = rule.Id == "ready.table",
            Shows = shows,
            State = State(rule, record, done, waits.Count > 0),
            WaitsFor = waits,
            OnlyAfter = waits.Count == 1 ? Refusals.Before(course, rule) : [],
            Says = record.Says,
            Attempts = record.Attempts,
            NotBlind = record.NotBlind,
            Typed = masked ? null : record.Typed,
            By = record.By,
            Compare = Figures.For(course, rule),
            Cautions = rule.Cautions,
            Notes = rule.Notes,
            Standard = rule.Standard,
            ShopSays = rule.ShopSays,
            CanDeviate = rule.CanDeviate && !done,
        };
    }

    static StepState State(StepRule rule, StepRecord record, bool done, bool waits)
    {
        if (rule.Takes == Takes.Nothing)
            return done ? StepState.Done : StepState.Waiting;
        return record.State == StepState.Open && waits ? StepState.Waiting : record.State;
    }

    /// <summary>Blind: only what was shown after two wrong readings, and only while it still is what is expected.</summary>
    static string? Shows(Course course, StepRule rule, StepRecord record)
    {
        if (rule.Expects == Expects.AtMost)
            return Percent(rule.AtMost) + Said.In(" or less");
        if (rule.Characteristic is { } i)
            return CuttingSteps.Limits(course.Units, course.Plan.Characteristics[i]);
        var shown = record.State is StepState.Refused or StepState.Hazard && record.Shown is not null;
        return shown && Expected.Of(course, rule) is { } expected && expected == record.Shown
            ? expected.ToRegisterText(course.Units)
            : null;
    }
}
