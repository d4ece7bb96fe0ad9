using System.Globalization;

namespace Handwheel.Nc;

/// <summary>
/// Names a work-offset register: G54 to G59, or G54.1 P1 and up. <see cref="Common"/> is the common (external) offset.
/// </summary>
/// <param name="Number">0 the common offset; 1 to 6 G54 to G59; 100 + n for G54.1 Pn, n from 1 to 299.</param>
public readonly record struct WorkOffsetName(int Number) : IComparable<WorkOffsetName>
{
    public static WorkOffsetName Common => new(0);
    public static WorkOffsetName G54 => new(1);

    public static WorkOffsetName Extended(int p) => new(100 + p);

    public bool IsExtended => Number > 100;

    public int CompareTo(WorkOffsetName other) => Number.CompareTo(other.Number);

    /// <summary>Reads <c>G54</c> … <c>G59</c> or <c>G54.1P3</c>; anything else is refused.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out WorkOffsetName name)
    {
        name = default;
        if (text.Length == 3 && text.StartsWith("G5", StringComparison.Ordinal) && text[2] is >= '4' and <= '9')
        {
            name = new(text[2] - '3');
            return true;
        }
        if (!text.StartsWith("G54.1P", StringComparison.Ordinal))
            return false;
        if (!int.TryParse(text[6..], NumberStyles.None, CultureInfo.InvariantCulture, out var p))
            return false;
        name = Extended(p);
        return p is >= 1 and <= 299 && text[6] != '0';
    }

    /// <summary><c>G55</c>, <c>G54.1P3</c>, or <c>common</c>.</summary>
    public override string ToString() =>
        Number switch
        {
            0 => "common",
            > 100 => string.Create(CultureInfo.InvariantCulture, $"G54.1P{Number - 100}"),
            _ => string.Create(CultureInfo.InvariantCulture, $"G{53 + Number}"),
        };
}
