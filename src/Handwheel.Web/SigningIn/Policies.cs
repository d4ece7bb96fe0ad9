using Handwheel.Jobs.Proving;
using Microsoft.AspNetCore.Authorization;

namespace Handwheel.Web.SigningIn;

/// <summary>Who may do what, by name; pages and endpoints use the same ones. Actions check the person once more.</summary>
public static class Policies
{
    /// <summary>Anybody who is signed in.</summary>
    public const string SignedIn = nameof(SignedIn);

    /// <summary>Walks a prove-out: operator, setter, supervisor.</summary>
    public const string ProvesOut = nameof(ProvesOut);

    /// <summary>Makes and changes jobs: programmer, setter, supervisor.</summary>
    public const string MakesJobs = nameof(MakesJobs);

    /// <summary>Keeps the cutting table: programmer, supervisor, administrator.</summary>
    public const string KeepsCuttingData = nameof(KeepsCuttingData);

    /// <summary>Keeps what the shop says about its prove-outs: supervisor.</summary>
    public const string KeepsTemplates = nameof(KeepsTemplates);

    /// <summary>Machines, tablets, PINs, review: supervisor, administrator.</summary>
    public const string Supervises = nameof(Supervises);

    /// <summary>People and their roles: administrator.</summary>
    public const string Administers = nameof(Administers);

    const Roles Anybody = Roles.Operator | Roles.Setter | Roles.Programmer | Roles.Supervisor | Roles.Administrator;

    static readonly Dictionary<string, Roles> Allowed = new(StringComparer.Ordinal)
    {
        [SignedIn] = Anybody,
        [ProvesOut] = Roles.Operator | Roles.Setter | Roles.Supervisor,
        [MakesJobs] = Roles.Programmer | Roles.Setter | Roles.Supervisor,
        [KeepsCuttingData] = Roles.Programmer | Roles.Supervisor | Roles.Administrator,
        [KeepsTemplates] = Roles.Supervisor,
        [Supervises] = Roles.Supervisor | Roles.Administrator,
        [Administers] = Roles.Administrator,
    };

    public static bool Allows(string policy, Roles roles) => (Allowed[policy] & roles) != Roles.None;

    internal static void Add(AuthorizationOptions options)
    {
        foreach (var (name, roles) in Allowed)
            options.AddPolicy(
                name,
                policy =>
                    policy.RequireAuthenticatedUser().RequireAssertion(at => at.User.Actor() is { } by && by.Has(roles))
            );
    }
}
