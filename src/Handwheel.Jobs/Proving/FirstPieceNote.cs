using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>What came of a measurement of the first piece, or of a correction typed into a register. Lengths with <see cref="Units"/>.</summary>
/// <param name="Entry">The entry that it belongs to.</param>
/// <param name="In">Inside its limits; null: a correction.</param>
/// <param name="Words">The correction worked out, in words; null: none was needed.</param>
/// <param name="WorkedOut">What the register should show after the correction; null: nothing was worked out for it.</param>
/// <param name="AsWorkedOut">The register was set to that; null: a measurement, or nothing was worked out.</param>
public sealed record FirstPieceNote(
    long Entry,
    Characteristic Characteristic,
    Units Units,
    bool? In,
    string? Words,
    Length? WorkedOut,
    bool? AsWorkedOut
);
