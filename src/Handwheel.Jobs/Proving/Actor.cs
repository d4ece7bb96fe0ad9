namespace Handwheel.Jobs.Proving;

/// <summary>What a person may do. One person may have several.</summary>
[Flags]
public enum Roles
{
    None = 0,
    Operator = 1,
    Setter = 2,
    Programmer = 4,
    Supervisor = 8,
    Administrator = 16,
}

/// <summary>The signed-in person who did something, as they were called and allowed at that time.</summary>
public sealed record Actor(Guid Person, string Name, Roles Roles)
{
    public bool Has(Roles any) => (Roles & any) != Roles.None;
}
