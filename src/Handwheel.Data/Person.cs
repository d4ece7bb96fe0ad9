using Handwheel.Jobs.Proving;

namespace Handwheel.Data;

/// <summary>Somebody who signs in. People are never deleted, since records name them; they are disabled.</summary>
public class Person : Kept
{
    /// <summary>As it is printed beside a signature; unique in the shop.</summary>
    public required string Name { get; set; }

    public Roles Roles { get; set; }

    /// <summary>Salted PBKDF2 of the six-digit PIN; see <c>SecretHash</c>.</summary>
    public required string PinHash { get; set; }

    /// <summary>Salted PBKDF2 of the desk password (15 characters or more); null: signs in with the PIN alone.</summary>
    public string? PasswordHash { get; set; }

    /// <summary>The PIN was given out by somebody else and has to be changed at the next sign-in.</summary>
    public bool PinToBeChanged { get; set; }

    /// <summary>Wrong PINs since the last right one.</summary>
    public int FailedPins { get; set; }

    /// <summary>Wrong passwords since the last right one.</summary>
    public int FailedPasswords { get; set; }

    /// <summary>Changes with every PIN, password, role or disabling; a sign-in that holds an older one has ended.</summary>
    public Guid Stamp { get; set; } = Guid.NewGuid();

    public bool Disabled { get; set; }
}
