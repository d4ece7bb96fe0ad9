namespace Handwheel.Data;

/// <summary>A tablet (or a desk's browser) that a supervisor gave a name; records say where something was written.</summary>
public class Tablet : Kept
{
    public required string Name { get; set; }

    /// <summary>SHA-256, lower-case hex, of the secret that the tablet keeps in a cookie.</summary>
    public required string SecretHash { get; set; }

    public DateTimeOffset NamedAt { get; set; }
    public Guid NamedBy { get; set; }

    /// <summary>When somebody last signed in here with a password; opens signing with a PIN for that day.</summary>
    public DateTimeOffset? PasswordUsedAt { get; set; }

    public bool Revoked { get; set; }
}
