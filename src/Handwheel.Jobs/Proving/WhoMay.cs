namespace Handwheel.Jobs.Proving;

/// <summary>Which role may do what.</summary>
static class WhoMay
{
    const Roles AtTheMachine = Roles.Operator | Roles.Setter;
    const Roles Anybody = AtTheMachine | Roles.Programmer | Roles.Supervisor | Roles.Administrator;

    public static Roles Do(Act act) =>
        act switch
        {
            Note or PhotoAdded => Anybody,
            Begun => AtTheMachine | Roles.Supervisor,
            FindingsSeen or EditNoted => AtTheMachine | Roles.Programmer | Roles.Supervisor,
            BaselineDecided or RaiseChosen or CutShort => Roles.Setter,
            Signed { As: SignedAs.Did } => Roles.Setter,
            Signed { As: SignedAs.Witnessed } => AtTheMachine | Roles.Supervisor,
            Signed or DeviationSigned or OtherWaySigned or AirCutWanted or SentBack => Roles.Supervisor,
            ProgramChanged or SetupChanged => Roles.Setter | Roles.Programmer | Roles.Supervisor,
            Abandoned => Roles.Setter | Roles.Supervisor,
            HandoffWithdrawn or LockoutLifted => AtTheMachine | Roles.Supervisor,
            _ => AtTheMachine,
        };

    /// <param name="step">The step that a photo is of; null: no step, or not a photo.</param>
    public static string? Refusal(Act act, Actor by, StepRule? step)
    {
        var may = step is { Takes: Takes.Photo } ? AtTheMachine | Roles.Supervisor : Do(act);
        return by.Has(may) ? null : Said.In($"This is for {Words(may)}; {by.Name} is signed in as {Words(by.Roles)}.");
    }

    static string Word(Roles role) =>
        role switch
        {
            Roles.Operator => Said.In("operator"),
            Roles.Setter => Said.In("setter"),
            Roles.Programmer => Said.In("programmer"),
            Roles.Supervisor => Said.In("supervisor"),
            _ => Said.In("administrator"),
        };

    static string Words(Roles roles)
    {
        var names = Enum.GetValues<Roles>().Where(r => r != Roles.None && roles.HasFlag(r)).Select(Word).ToList();
        return names.Count == 0 ? Said.In("nobody with a role") : string.Join(Said.In(" or "), names);
    }
}
