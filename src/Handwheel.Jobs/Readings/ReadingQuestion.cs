using Handwheel.Nc;

namespace Handwheel.Jobs.Readings;

/// <summary>
/// A value read from the control and what it should be; everything in one unit. When a raise is put back, <see cref="Expected"/> is
/// the baseline, <see cref="Baseline"/> the raised value, and <see cref="Raise"/> is still the raise as it was made (positive).
/// </summary>
public sealed record ReadingQuestion
{
    public required decimal Expected { get; init; }
    public required decimal Read { get; init; }

    /// <summary>What the register held before it was changed; null: not known.</summary>
    public decimal? Baseline { get; init; }
    public decimal? Raise { get; init; }

    /// <summary>The register's least increment; two values within half of it are the same.</summary>
    public decimal Increment { get; init; } = 0.0001m;

    /// <summary>Values of registers that may have been read or written by mistake.</summary>
    public IReadOnlyList<OtherRegister> Others { get; init; } = [];

    /// <summary>From exact lengths: a register of a setup that steps in <paramref name="increment"/>.</summary>
    public static ReadingQuestion Of(
        Length expected,
        Length read,
        Units units,
        Length increment,
        Length? baseline = null,
        Length? raise = null,
        IEnumerable<(string Name, Length Value)>? others = null
    ) =>
        new()
        {
            Expected = expected.In(units),
            Read = read.In(units),
            Baseline = baseline?.In(units),
            Raise = raise?.In(units),
            Increment = increment.In(units),
            Others = others?.Select(o => new OtherRegister(o.Name, o.Value.In(units))).ToList() ?? [],
        };
}

public sealed record OtherRegister(string Name, decimal Value);

/// <summary>
/// Whether a reading is right and, where not, what probably happened. <see cref="Cause"/> is <c>none</c>, <c>unchanged</c>,
/// <c>opposite-sign</c>, <c>applied-twice</c>, <c>typed-as-value</c>, <c>decimal-slip</c>, <c>unit-slip</c>, <c>sign-lost</c>,
/// <c>digits-swapped</c>, <c>other-register</c> or <c>unknown</c>; further causes that fit are in <see cref="AlsoPossible"/>, likeliest first.
/// </summary>
public sealed record ReadingAnswer
{
    public required bool Match { get; init; }

    /// <summary>Read minus expected.</summary>
    public required decimal Difference { get; init; }
    public required string Cause { get; init; }
    public required string Message { get; init; }
    public required string Remedy { get; init; }
    public required IReadOnlyList<string> AlsoPossible { get; init; }
}
