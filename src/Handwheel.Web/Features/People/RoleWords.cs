using Handwheel.Jobs.Proving;

namespace Handwheel.Web.Features.People;

/// <summary>Roles in words, with what each may do.</summary>
public static class RoleWords
{
    public static IReadOnlyList<(Roles Role, string Name, string May)> All { get; } =
    [
        (Roles.Operator, "operator", "walks a prove-out, hands over, takes over"),
        (Roles.Setter, "setter", "the same, makes jobs and chooses a raise"),
        (Roles.Programmer, "programmer", "makes jobs, is told about edits"),
        (Roles.Supervisor, "supervisor", "reviews and releases, signs reasons, resets PINs, names tablets"),
        (Roles.Administrator, "administrator", "adds people and machines, gives roles"),
    ];

    public static string Of(Roles roles) =>
        string.Join(", ", All.Where(r => roles.HasFlag(r.Role)).Select(r => r.Name));
}
