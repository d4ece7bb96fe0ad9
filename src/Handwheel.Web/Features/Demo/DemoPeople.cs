using Handwheel.Jobs.Proving;

namespace Handwheel.Web.Features.Demo;

/// <summary>Somebody of the demo shop. Roles in place of names; the secrets are printed at the start, so they protect nothing.</summary>
sealed record DemoPerson(string Name, Roles Roles, string Pin, string? Password = null);

static class DemoPeople
{
    public static readonly DemoPerson DaySetter = new("Day setter", Roles.Setter | Roles.Operator, "480213");
    public static readonly DemoPerson NightSetter = new("Night setter", Roles.Setter | Roles.Operator, "735190");
    public static readonly DemoPerson Operator = new("Day operator", Roles.Operator, "902746");
    public static readonly DemoPerson Programmer = new("Programmer", Roles.Programmer, "618375");

    public static readonly DemoPerson Supervisor = new(
        "Supervisor",
        Roles.Supervisor,
        "157394",
        "supervisor of the demo shop"
    );

    public static readonly DemoPerson Administrator = new(
        "Administrator",
        Roles.Administrator | Roles.Supervisor,
        "264851",
        "administrator of the demo shop"
    );

    public static IReadOnlyList<DemoPerson> All { get; } =
    [DaySetter, NightSetter, Operator, Programmer, Supervisor, Administrator];
}
