using System.Globalization;

namespace Handwheel.Web.Features.Jobs;

/// <summary>The value of a parameter that the check of a job rests on, and whose word it is.</summary>
/// <param name="Number">501 for <c>#501</c>.</param>
/// <param name="Typed">In the grammar of typed numbers, exactly as it was typed.</param>
/// <param name="From">Where the value comes from, in words; may be empty.</param>
public sealed record SaidValue(int Number, string Typed, string From, string By, DateTimeOffset At)
{
    public decimal Value =>
        decimal.Parse(
            Typed,
            NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture
        );

    public string Name => "#" + Number.ToString(CultureInfo.InvariantCulture);

    /// <summary><c>#501 = 1.5, said by the day setter: read at the control</c>.</summary>
    public string InWords => $"{Name} = {Typed}, said by {By}{(From.Length > 0 ? ": " + From : "")}";

    public static Dictionary<int, double> ForRun(IEnumerable<SaidValue> values) =>
        values.ToDictionary(v => v.Number, v => (double)v.Value);
}
