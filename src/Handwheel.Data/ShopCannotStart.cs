namespace Handwheel.Data;

/// <summary>The shop's database cannot be opened safely. The message says what was found, what is needed and what to do.</summary>
public sealed class ShopCannotStart : Exception
{
    public ShopCannotStart(string message)
        : base(message) { }

    public ShopCannotStart(string message, Exception cause)
        : base(message, cause) { }
}
