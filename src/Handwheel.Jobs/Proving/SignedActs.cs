using System.Text.Json.Serialization;

namespace Handwheel.Jobs.Proving;

/// <summary>Signs a step that takes a signature: the end of a phase, a witness, the release.</summary>
public sealed record Signed(string Step, SignedAs As) : StepAct(Step)
{
    public override bool NeedsPin => true;
    public override string? Meaning => As.ToString().ToLowerInvariant();
}

[JsonConverter(typeof(JsonStringEnumConverter<SignedAs>))]
public enum SignedAs
{
    [JsonStringEnumMemberName("did")]
    Did,

    [JsonStringEnumMemberName("witnessed")]
    Witnessed,

    [JsonStringEnumMemberName("reviewed")]
    Reviewed,
}

/// <summary>A supervisor lets a step stand undone, by name and with a reason.</summary>
public sealed record DeviationSigned(string Step, string Reason) : StepAct(Step)
{
    public override bool NeedsPin => true;
    public override string? Meaning => "deviation";
}

/// <summary>
/// No air cut is possible: a supervisor signs the other way (holding and stock off the table, handwheel through each
/// approach).
/// </summary>
public sealed record OtherWaySigned(string Reason) : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "deviation";
}

/// <summary>A supervisor wants the air cut of a proven program that is set up again.</summary>
public sealed record AirCutWanted(string Reason) : Act;

/// <summary>The air cut was ended early, at a line of a long pass.</summary>
public sealed record CutShort(int Line, string Why) : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "did";
    public override string? About => "air-cut.ran";
}

/// <summary>The supervisor does not release: these steps are to be done again.</summary>
public sealed record SentBack(IReadOnlyList<string> Steps, string Reason) : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "reviewed";
}

/// <summary>The outgoing person hands over. Every heading of <see cref="Handoff.Headings"/>, each with words or "none".</summary>
public sealed record HandedOver(IReadOnlyDictionary<string, string> Headings) : Act
{
    /// <summary>What it says is locked out or bypassed; null: nothing.</summary>
    [JsonIgnore]
    public string? SaysLockedOut =>
        Headings.GetValueOrDefault("locked-out") is { Length: > 0 } words && !Handoff.SaysNone(words) ? words : null;

    public override bool NeedsPin => true;
    public override string? Meaning => "handed over";
}

/// <summary>The outgoing person goes on after all.</summary>
public sealed record HandoffWithdrawn(string Why) : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "withdrew the handoff";
}

/// <summary>What a handoff said is locked out or bypassed is so no longer. <c>What</c>: what was done, by whom it was looked at.</summary>
public sealed record LockoutLifted(string What) : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "nothing is locked out or bypassed";
}

/// <summary>The outgoing person is gone: somebody takes over alone, and the record says so.</summary>
public sealed record TakingOverAlone(string Why) : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "took over alone";
}

/// <summary>The incoming person has read the registers back and takes over. <c>Asked</c>: what was asked and answered, or empty.</summary>
public sealed record TookOver(string Asked = "") : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "took over";
}
