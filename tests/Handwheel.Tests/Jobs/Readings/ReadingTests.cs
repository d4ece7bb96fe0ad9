using System.Globalization;
using CsCheck;
using Handwheel.Jobs.Readings;

namespace Handwheel.Tests.Jobs.Readings;

/// <summary>
/// The slips are common practice at the machine, no source. The figures are worked out by hand: baseline -18.1250 and a raise of
/// 3.0000 give -15.1250.
/// </summary>
public sealed class ReadingTests
{
    const decimal Baseline = -18.125m;
    const decimal Raised = -15.125m;
    const decimal Raise = 3m;

    static ReadingAnswer Raising(decimal read) =>
        Reading.Compare(
            new()
            {
                Expected = Raised,
                Read = read,
                Baseline = Baseline,
                Raise = Raise,
                Others = [new("G54 Z", -12.5m)],
            }
        );

    static ReadingAnswer Restoring(decimal read) =>
        Reading.Compare(
            new()
            {
                Expected = Baseline,
                Read = read,
                Baseline = Raised,
                Raise = Raise,
                Others = [new("G54 Z", -12.5m)],
            }
        );

    static decimal Number(string text) => decimal.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    [Theory]
    [InlineData("-15.125", "none")]
    [InlineData("-15.12505", "none")]
    [InlineData("-15.12506", "unknown")]
    [InlineData("-18.125", "unchanged")]
    [InlineData("-21.125", "opposite-sign")]
    [InlineData("-12.125", "applied-twice")]
    [InlineData("3", "typed-as-value")]
    [InlineData("-3", "typed-as-value")]
    [InlineData("11.875", "decimal-slip")] // -18.125 + 30
    [InlineData("281.875", "decimal-slip")] // -18.125 + 300
    [InlineData("-17.825", "decimal-slip")] // -18.125 + 0.3
    [InlineData("-18.095", "decimal-slip")] // -18.125 + 0.03
    [InlineData("-151.25", "decimal-slip")]
    [InlineData("-1.5125", "decimal-slip")]
    [InlineData("58.075", "unit-slip")] // -18.125 + 76.2
    [InlineData("-18.0069", "unit-slip")] // -18.125 + 3/25.4 = 0.11811
    [InlineData("-384.175", "unit-slip")] // -15.125 × 25.4
    [InlineData("-0.5955", "unit-slip")] // -15.125 ÷ 25.4
    [InlineData("15.125", "sign-lost")]
    [InlineData("-51.125", "digits-swapped")]
    [InlineData("-15.215", "digits-swapped")]
    [InlineData("-11.525", "digits-swapped")] // across the point
    [InlineData("-15.1205", "digits-swapped")] // the register shows a last 0
    [InlineData("-12.5", "other-register")]
    [InlineData("-14.9", "unknown")]
    public void A_slip_while_raising_is_named(string read, string cause)
    {
        var answer = Raising(Number(read));
        Assert.Equal(cause, answer.Cause);
        Assert.Equal(cause == "none", answer.Match);
        Assert.Equal(Number(read) - Raised, answer.Difference);
    }

    [Theory]
    [InlineData("-18.125", "none")]
    [InlineData("-15.125", "unchanged")]
    [InlineData("-12.125", "opposite-sign")] // added again
    [InlineData("-21.125", "applied-twice")] // taken away twice
    [InlineData("3", "typed-as-value")]
    [InlineData("-3", "typed-as-value")]
    [InlineData("-45.125", "decimal-slip")] // -15.125 - 30
    [InlineData("-15.425", "decimal-slip")] // -15.125 - 0.3
    [InlineData("-1.8125", "decimal-slip")]
    [InlineData("-91.325", "unit-slip")] // -15.125 - 76.2
    [InlineData("18.125", "sign-lost")]
    [InlineData("-81.125", "digits-swapped")]
    [InlineData("-12.5", "other-register")]
    [InlineData("-18", "unknown")]
    public void A_slip_while_restoring_is_named(string read, string cause) =>
        Assert.Equal(cause, Restoring(Number(read)).Cause);

    [Theory]
    [InlineData("-18.125", "still reads -18.1250", "add 3.0000 to")]
    [InlineData("-21.125", "6.0000 lower", "Set the Z of this register to -15.1250")]
    [InlineData("-12.125", "added twice", "-15.1250")]
    [InlineData("3", "typed as the new value", "-15.1250")]
    [InlineData("11.875", "10 times", "-15.1250")]
    [InlineData("15.125", "sign is turned", "-15.1250")]
    [InlineData("-12.5", "value of G54 Z", "read the right one")]
    [InlineData("-14.9", "0.2250 more", "-15.1250")]
    public void The_words_have_the_numbers(string read, string message, string remedy)
    {
        var answer = Raising(Number(read));
        Assert.Contains(message, answer.Message, StringComparison.Ordinal);
        Assert.Contains(remedy, answer.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_raise_that_was_not_put_back_is_said_to_be_still_there()
    {
        var answer = Restoring(Raised);
        Assert.Contains("still holds the raise", answer.Message, StringComparison.Ordinal);
        Assert.Contains("take 3.0000 away", answer.Remedy, StringComparison.Ordinal);
        Assert.Contains("added once more", Restoring(-12.125m).Message, StringComparison.Ordinal);
        Assert.Contains("3.0000 too deep", Restoring(-21.125m).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void More_than_one_cause_is_given_likeliest_first()
    {
        // Baseline 0: a raise the wrong way is also the raise typed with its sign turned, and the sign of the expected value lost.
        var answer = Reading.Compare(
            new()
            {
                Expected = 3,
                Read = -3,
                Baseline = 0,
                Raise = 3,
                Others = [new("H3", -3)],
            }
        );
        Assert.Equal("opposite-sign", answer.Cause);
        Assert.Equal(["typed-as-value", "sign-lost", "other-register"], answer.AlsoPossible);
    }

    [Fact]
    public void Without_a_raise_the_reading_is_compared_alone()
    {
        var answer = Reading.Compare(
            new()
            {
                Expected = 5.0625m,
                Read = 5.0265m,
                Others = [new("H2", 5.0265m)],
            }
        );
        Assert.Equal("digits-swapped", answer.Cause);
        Assert.Equal(["other-register"], answer.AlsoPossible);
        Assert.Equal(
            "unchanged",
            Reading
                .Compare(
                    new()
                    {
                        Expected = 5,
                        Read = 4,
                        Baseline = 4,
                    }
                )
                .Cause
        );
        Assert.Equal(
            "opposite-sign",
            Reading
                .Compare(
                    new()
                    {
                        Expected = 8,
                        Read = 2,
                        Raise = 3,
                    }
                )
                .Cause
        );
    }

    [Fact]
    public void Half_the_least_increment_is_the_same()
    {
        Assert.True(
            Reading
                .Compare(
                    new()
                    {
                        Expected = 38,
                        Read = 38.0005m,
                        Increment = 0.001m,
                    }
                )
                .Match
        );
        Assert.False(
            Reading
                .Compare(
                    new()
                    {
                        Expected = 38,
                        Read = 38.0006m,
                        Increment = 0.001m,
                    }
                )
                .Match
        );
    }

    static readonly Gen<(decimal Baseline, decimal Raise, bool Restoring)> Situations = Gen.Select(
        Gen.Long[-300_000, 300_000],
        Gen.Long[2_000, 80_000],
        Gen.Bool,
        (b, d, restoring) => (b / 10_000m, d / 10_000m, restoring)
    );

    /// <summary>What the register holds before, what it should hold, and what should be added.</summary>
    static (decimal Before, decimal Expected, decimal Change) Of((decimal Baseline, decimal Raise, bool Restoring) s) =>
        s.Restoring ? (s.Baseline + s.Raise, s.Baseline, -s.Raise) : (s.Baseline, s.Baseline + s.Raise, s.Raise);

    public static TheoryData<string> Kinds =>
        [
            "unchanged",
            "opposite-sign",
            "applied-twice",
            "typed-as-value",
            "decimal-slip",
            "unit-slip",
            "sign-lost",
            "other-register",
        ];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_slip_of_any_size_is_among_the_causes_and_never_a_match(string kind) =>
        Gen.Select(Situations, Gen.Int[0, 3])
            .Sample(
                (situation, variant) =>
                {
                    var (before, expected, change) = Of(situation);
                    decimal[] factors =
                        kind == "unit-slip" ? [25.4m, 1 / 25.4m, 25.4m, 1 / 25.4m] : [10, 100, 0.1m, 0.01m];
                    var slipped = kind switch
                    {
                        "unchanged" => before,
                        "opposite-sign" => before - change,
                        "applied-twice" => before + 2 * change,
                        "typed-as-value" => variant % 2 == 0 ? situation.Raise : -situation.Raise,
                        "sign-lost" => -expected,
                        "other-register" => 7.7777m,
                        _ when variant % 2 == 0 => before + factors[variant] * change,
                        _ => expected * factors[variant],
                    };
                    // The control shows the value to its last digit.
                    var read = decimal.Round(slipped, 4, MidpointRounding.AwayFromZero);
                    var answer = Reading.Compare(
                        new()
                        {
                            Expected = expected,
                            Read = read,
                            Baseline = before,
                            Raise = situation.Raise,
                            Others = [new("H9", 7.7777m)],
                        }
                    );
                    if (Math.Abs(read - expected) <= 0.00005m)
                        Assert.True(answer is { Match: true, Cause: "none", AlsoPossible.Count: 0 });
                    else
                    {
                        Assert.False(answer.Match);
                        Assert.Contains(kind, answer.AlsoPossible.Prepend(answer.Cause));
                    }
                },
                iter: 2000
            );

    [Fact]
    public void Two_neighbouring_digits_exchanged_are_always_seen() =>
        Gen.Select(Situations, Gen.Int[0, 5])
            .Sample(
                (situation, at) =>
                {
                    var (before, expected, _) = Of(situation);
                    var digits = Math.Abs(expected)
                        .ToString("00.0000", CultureInfo.InvariantCulture)
                        .Replace(".", "", StringComparison.Ordinal);
                    if (Math.Abs(expected) < 10 || at >= digits.Length - 1 || digits[at] == digits[at + 1])
                        return;
                    var swapped = digits[..at] + digits[at + 1] + digits[at] + digits[(at + 2)..];
                    var read = Math.Sign(expected) * Number(swapped) / 10_000;
                    var answer = Reading.Compare(
                        new()
                        {
                            Expected = expected,
                            Read = read,
                            Baseline = before,
                            Raise = situation.Raise,
                        }
                    );
                    Assert.False(answer.Match);
                    Assert.Contains("digits-swapped", answer.AlsoPossible.Prepend(answer.Cause));
                }
            );

    [Fact]
    public void The_right_value_is_never_a_slip() =>
        Situations.Sample(situation =>
        {
            var (before, expected, _) = Of(situation);
            var answer = Reading.Compare(
                new()
                {
                    Expected = expected,
                    Read = expected,
                    Baseline = before,
                    Raise = situation.Raise,
                    Others = [new("H1", expected)],
                }
            );
            Assert.True(answer.Match);
            Assert.Equal("none", answer.Cause);
            Assert.Empty(answer.AlsoPossible);
        });
}
