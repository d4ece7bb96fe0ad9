using System.Globalization;

namespace Handwheel.Jobs.Readings;

/// <summary>
/// Compares a value read from the control with the one that should be there and names the slip that explains the difference.
/// The slips are common practice at the machine; the likelier one comes first.
/// </summary>
public static class Reading
{
    /// <summary>Millimetres in an inch, exactly (NIST SP 811).</summary>
    const decimal MillimetresPerInch = 25.4m;

    static readonly decimal[] DecimalSlips = [10m, 100m, 0.1m, 0.01m];
    static readonly decimal[] UnitSlips = [MillimetresPerInch, 1 / MillimetresPerInch];

    public static ReadingAnswer Compare(ReadingQuestion question)
    {
        var words = new ReadingWords(question, Change(question));
        var difference = question.Read - question.Expected;
        if (Same(question, question.Expected))
            return new()
            {
                Match = true,
                Difference = difference,
                Cause = "none",
                Message = words.Right,
                Remedy = "",
                AlsoPossible = [],
            };
        var slips = Slips(question, words).ToList();
        if (slips.Count == 0)
            slips.Add(words.Unknown(difference));
        return new()
        {
            Match = false,
            Difference = difference,
            Cause = slips[0].Cause,
            Message = slips[0].Message,
            Remedy = slips[0].Remedy,
            AlsoPossible = slips.Skip(1).Select(s => s.Cause).ToList(),
        };
    }

    /// <summary>What should have been added to the register: the raise, or less the raise when it is put back.</summary>
    static decimal? Change(ReadingQuestion question)
    {
        var asSeen = question.Expected - question.Baseline;
        if (question.Raise is not { } raise)
            return asSeen;
        return asSeen < 0 ? -raise : raise;
    }

    static bool Same(ReadingQuestion question, decimal value) =>
        Math.Abs(question.Read - value) <= question.Increment / 2;

    static IEnumerable<Slip> Slips(ReadingQuestion question, ReadingWords words)
    {
        foreach (var slip in ChangeSlips(question, words))
            yield return slip;
        var expected = question.Expected;
        if (DecimalFactor(question, words) is { } slipped)
            yield return slipped;
        if (UnitFactor(question, words) is { } otherUnit)
            yield return otherUnit;
        if (Same(question, -expected))
            yield return words.SignLost();
        if (Swapped(words.Register(expected)).Any(v => Same(question, v)))
            yield return words.DigitsSwapped();
        var other = question.Others.Where(o => Same(question, o.Value)).Select(o => o.Name).ToList();
        if (other.Count > 0)
            yield return words.OtherRegister(other);
    }

    static IEnumerable<Slip> ChangeSlips(ReadingQuestion question, ReadingWords words)
    {
        if (words.Before is { } before && Same(question, before))
            yield return words.Unchanged(before);
        if (words is not { Before: { } start, Change: { } change } || change == 0)
            yield break;
        if (Same(question, start - change))
            yield return words.OppositeSign(start, change);
        if (Same(question, start + 2 * change))
            yield return words.AppliedTwice(start, change);
        if (Same(question, change) || Same(question, -change))
            yield return words.TypedAsValue(change);
    }

    static Slip? DecimalFactor(ReadingQuestion question, ReadingWords words)
    {
        foreach (var factor in DecimalSlips)
        {
            if (words is { Before: { } start, Change: { } change } && Same(question, start + factor * change))
                return words.DecimalSlip(factor, changed: true);
            if (Same(question, factor * question.Expected))
                return words.DecimalSlip(factor, changed: false);
        }
        return null;
    }

    static Slip? UnitFactor(ReadingQuestion question, ReadingWords words)
    {
        foreach (var factor in UnitSlips)
        {
            if (words is { Before: { } start, Change: { } change } && Same(question, start + factor * change))
                return words.UnitSlip(factor, changed: true);
            if (Same(question, factor * question.Expected))
                return words.UnitSlip(factor, changed: false);
        }
        return null;
    }

    /// <summary>Every value that comes from exchanging two neighbouring digits, the point staying where it is.</summary>
    static IEnumerable<decimal> Swapped(string text)
    {
        var digits = text.ToCharArray();
        for (var i = 0; i < digits.Length - 1; i++)
        {
            var next = digits[i + 1] == '.' ? i + 2 : i + 1;
            if (!char.IsAsciiDigit(digits[i]) || next >= digits.Length || digits[i] == digits[next])
                continue;
            (digits[i], digits[next]) = (digits[next], digits[i]);
            yield return decimal.Parse(digits, NumberStyles.Float, CultureInfo.InvariantCulture);
            (digits[i], digits[next]) = (digits[next], digits[i]);
        }
    }
}
