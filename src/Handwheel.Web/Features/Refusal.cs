namespace Handwheel.Web.Features;

/// <summary>Why something was not done, by what the person can do about it.</summary>
public enum RefusedBecause
{
    /// <summary>What was typed or sent cannot be taken as it is.</summary>
    NotAcceptable,

    /// <summary>Somebody else was first, or what the person saw has changed since.</summary>
    ChangedMeanwhile,

    /// <summary>This person's roles do not go this far.</summary>
    NotAllowed,

    /// <summary>There is no such thing.</summary>
    NotThere,

    /// <summary>The PIN or password is not this person's.</summary>
    WrongSecret,

    /// <summary>Too many wrong tries.</summary>
    Locked,

    /// <summary>The same request is still being worked on.</summary>
    StillRunning,
}

/// <summary>Nothing was done, and the reasons in words for people.</summary>
public sealed record Refusal(RefusedBecause Because, IReadOnlyList<string> Reasons)
{
    public Refusal(RefusedBecause because, string reason)
        : this(because, [reason]) { }

    public override string ToString() => string.Join(" ", Reasons);
}

/// <summary>What an action gives back: a value, or the reasons why not.</summary>
public readonly record struct Answer<T>(T? Value, Refusal? Refused)
{
    public static implicit operator Answer<T>(T value) => new(value, null);

    public static implicit operator Answer<T>(Refusal refused) => new(default, refused);

    /// <summary>The value of an answer that was not refused.</summary>
    public T Must => Refused is null ? Value! : throw new InvalidOperationException(Refused.ToString());
}
