namespace Handwheel.Jobs.Proving;

/// <summary>A value typed into a step, and whether it was right.</summary>
/// <param name="Title">Card and title of the step.</param>
/// <param name="Typed">Exactly as typed.</param>
/// <param name="NotBlind">Typed after the value that it should be had been shown.</param>
public sealed record TypedTry(long Entry, string Step, string Title, string Typed, bool Right, bool NotBlind);

/// <summary>A correction typed into a register after a first piece was out.</summary>
/// <param name="Title">Card and title of the step.</param>
/// <param name="WorkedOut">What was worked out from the measurement.</param>
/// <param name="Register">The register that was typed into.</param>
/// <param name="Typed">Exactly as typed.</param>
/// <param name="Why">Why it is not what was worked out, or empty.</param>
public sealed record CorrectionMade(
    long Entry,
    string Title,
    Correction? WorkedOut,
    string Register,
    string Typed,
    string Why
);
