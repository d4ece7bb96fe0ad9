using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Handwheel.Data;

/// <summary>
/// PBKDF2 with HMAC-SHA-256 and a random salt, stored as <c>pbkdf2-sha256$rounds$salt$hash</c>. It slows down guessing by
/// somebody who has the database; against a six-digit PIN that is minutes to days, not years, so a backup is kept like a
/// key.
/// </summary>
public sealed class SecretHash(int rounds)
{
    /// <summary>The OWASP password storage cheat sheet's figure for PBKDF2 with HMAC-SHA-256.</summary>
    public const int UsualRounds = 600_000;
    const int SaltBytes = 16;
    const int HashBytes = 32;
    const string Kind = "pbkdf2-sha256";

    readonly string nobody = Make(rounds, "nobody's");

    public string Of(string secret) => Make(rounds, secret);

    /// <summary>Takes as long for a person who does not exist (<paramref name="stored"/> null) as for one who does.</summary>
    public bool Matches(string secret, string? stored)
    {
        var parts = (stored ?? nobody).Split('$');
        if (parts is not [Kind, var count, var salt, var hash])
            return false;
        var wanted = Convert.FromBase64String(hash);
        var found = Derive(
            int.Parse(count, NumberStyles.None, CultureInfo.InvariantCulture),
            secret,
            Convert.FromBase64String(salt)
        );
        return CryptographicOperations.FixedTimeEquals(found, wanted) && stored is not null;
    }

    static string Make(int rounds, string secret)
    {
        var salt = RandomNumberGenerator.GetBytes(SaltBytes);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Kind}${rounds}${Convert.ToBase64String(salt)}${Convert.ToBase64String(Derive(rounds, secret, salt))}"
        );
    }

    static byte[] Derive(int rounds, string secret, byte[] salt) =>
        Rfc2898DeriveBytes.Pbkdf2(
            Encoding.UTF8.GetBytes(secret.Normalize(NormalizationForm.FormKC)),
            salt,
            rounds,
            HashAlgorithmName.SHA256,
            HashBytes
        );
}
