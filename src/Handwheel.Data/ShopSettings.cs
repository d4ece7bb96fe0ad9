namespace Handwheel.Data;

/// <summary>The shop's own choices: one row.</summary>
public class ShopSettings : Kept
{
    /// <summary>The id of the only row.</summary>
    public static readonly Guid Only = new("5a0f5f4e-6f0b-4c06-9a1b-3f7d1d1c0001");

    public string ShopName { get; set; } = "";

    /// <summary>IANA time zone that times are shown in.</summary>
    public required string Zone { get; set; }

    /// <summary><c>letter</c> or <c>a4</c>.</summary>
    public string Paper { get; set; } = "a4";

    /// <summary>Hash of the one-time code that the console printed; null once the first administrator is made.</summary>
    public string? FirstCodeHash { get; set; }

    /// <summary>Wrong one-time codes since it was printed.</summary>
    public int FirstCodeFailures { get; set; }

    /// <summary>A demo shop says so on every page.</summary>
    public bool IsDemo { get; set; }
}
