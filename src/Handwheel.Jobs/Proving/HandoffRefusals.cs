using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Proving;

static class HandoffRefusals
{
    public static IEnumerable<string> For(Course course, Act act, Actor by) =>
        act switch
        {
            HandedOver handed => Give(course, handed),
            TookOver => Take(course, by),
            TakingOverAlone alone => Alone(course, alone, by),
            HandoffWithdrawn withdrawn => Withdraw(course, withdrawn, by),
            LockoutLifted lifted => Lift(course, lifted),
            _ => [],
        };

    static IEnumerable<string> Lift(Course course, LockoutLifted lifted)
    {
        if (course.LockedOut is null)
            yield return Said.In("Nothing stands here as locked out or bypassed.");
        if (string.IsNullOrWhiteSpace(lifted.What))
            yield return Said.In("Write what was done, and who looked.");
    }

    static IEnumerable<string> Give(Course course, HandedOver handed)
    {
        foreach (var heading in Handoff.Headings)
            if (!handed.Headings.TryGetValue(heading.Key, out var words) || string.IsNullOrWhiteSpace(words))
                yield return Said.In($"\"{heading.Title}\" is blank: write it, or \"none\".");
        foreach (var key in handed.Headings.Keys.Where(k => Handoff.Headings.All(h => h.Key != k)))
            yield return Said.In($"There is no heading {key}.");
        foreach (var reason in Raised(course, handed.Headings.GetValueOrDefault("raised", "")))
            yield return reason;
        foreach (var reason in Findings(course, handed.Headings.GetValueOrDefault("findings", "")))
            yield return reason;
    }

    /// <summary>A raised register that the next person is not told of is the one that costs a spindle.</summary>
    static IEnumerable<string> Raised(Course course, string words)
    {
        var missing = course
            .Ledger.Hazards.Where(h => h.Raised)
            .Select(h => h.Register)
            .Where(r => !words.Contains(r.Name, StringComparison.OrdinalIgnoreCase))
            .ToList();
        if (missing.Count > 0 && !string.IsNullOrWhiteSpace(words))
            yield return Said.In(
                $"\"{Title("raised")}\" does not name {string.Join(", ", missing.Select(r => r.Words))}: raised and not read put back. Name each, or put it back and read it first."
            );
    }

    static IEnumerable<string> Findings(Course course, string words)
    {
        var open = course
            .Plan.Findings.Select(f => course.Table.Find($"ready.{(f.Level == Level.Stop ? "stop" : "seen")}.{f.Id}"))
            .OfType<StepRule>()
            .Where(r => !course.IsDone(r.Id))
            .ToList();
        if (open.Count > 0 && Handoff.SaysNone(words))
            yield return Said.In(
                $"\"{Title("findings")}\" says none, and open are: {Refusals.Some(open.Select(r => r.Title))}."
            );
    }

    static string Title(string key) => Handoff.Headings.First(h => h.Key == key).Title;

    static IEnumerable<string> Take(Course course, Actor by)
    {
        if (course.Handoff is not { } handoff)
        {
            yield return Said.In("Nobody is handing over. If the outgoing person is gone, begin to take over alone.");
            yield break;
        }
        if (handoff.Outgoing?.Person == by.Person)
            yield return Said.In("The incoming person signs, not the one who hands over.");
        if (handoff.Incoming is { } incoming && incoming.Person != by.Person)
            yield return Said.In($"{incoming.Name} read the registers back and signs.");
        var open = course.ReadBack.Values.Where(r => r.Register is not null && !course[r.Id].IsRead).ToList();
        if (open.Count > 0)
            yield return Said.In("Read back first: ") + Refusals.Some(open.Select(r => r.Title));
    }

    static IEnumerable<string> Alone(Course course, TakingOverAlone alone, Actor by)
    {
        if (string.IsNullOrWhiteSpace(alone.Why))
            yield return Said.In("Write why nobody hands over.");
        if (course.Handoff is { Outgoing: null })
            yield return Said.In($"{course.Handoff.Incoming!.Name} is taking over already.");
        if (course.Handoff?.Outgoing?.Person == by.Person)
            yield return Said.In("Who hands over cannot take over alone: withdraw the handoff.");
    }

    static IEnumerable<string> Withdraw(Course course, HandoffWithdrawn withdrawn, Actor by)
    {
        if (course.Handoff is not { } handoff)
        {
            yield return Said.In("No handoff is open.");
            yield break;
        }
        if (string.IsNullOrWhiteSpace(withdrawn.Why))
            yield return Said.In("Write why.");
        var held = course.ReadBack.Values.Where(r => course[r.Id].State == StepState.Held).ToList();
        if (held.Count > 0)
            yield return Said.In("Write first what was done about what was seen: ")
                + Refusals.Some(held.Select(r => r.Title));
        if (handoff.Outgoing?.Person != by.Person && !by.Has(Roles.Supervisor))
            yield return handoff.Outgoing is { } outgoing
                ? Said.In($"Only {outgoing.Name} or a supervisor can withdraw it.")
                : Said.In("The person who took over reads back and signs; a supervisor can withdraw it.");
    }
}
