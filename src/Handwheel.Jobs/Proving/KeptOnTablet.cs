using System.Globalization;

namespace Handwheel.Jobs.Proving;

/// <summary>How an entry came that waited on a tablet without connection. Both times are the tablet's word.</summary>
/// <param name="Recorded">When the person made it, UTC, by the tablet's own clock, which may be wrong.</param>
/// <param name="Waited">Whole seconds from then until it was sent, by the same clock: right also where that clock is not. 0 and up.</param>
public sealed record KeptOnTablet(DateTimeOffset Recorded, long Waited)
{
    /// <summary>A tablet that lay in a drawer for longer has something wrong with its clock.</summary>
    const long MostWaited = 400L * 24 * 60 * 60;

    /// <summary>How far the tablet's clock may be from the server's before both are told.</summary>
    static readonly TimeSpan ClocksAgree = TimeSpan.FromMinutes(2);

    /// <summary>Null: can be kept as it is.</summary>
    public string? WhyNot() =>
        Waited is < 0 or > MostWaited
            ? Said.In(
                $"An entry waited from 0 to {MostWaited.ToString(CultureInfo.InvariantCulture)} seconds on its tablet."
            )
            : null;

    /// <summary>For the record's readers: <c>recorded on the tablet without connection, 25 min before it came to the server</c>.</summary>
    /// <param name="arrived">When the server had it.</param>
    public string Words(DateTimeOffset arrived)
    {
        var waited = TimeSpan.FromSeconds(Waited);
        var ago =
            waited.TotalMinutes < 1 ? string.Create(CultureInfo.InvariantCulture, $"{Waited} s")
            : waited.TotalHours < 1 ? Said.In($"{(long)waited.TotalMinutes} min")
            : Said.In($"{(long)waited.TotalHours} h {waited.Minutes:00} min");
        var clock =
            (arrived - waited - Recorded).Duration() > ClocksAgree
                ? Said.In(
                    $", at {SaidDate.Full(Recorded.UtcDateTime)} UTC by the tablet's clock, which is not the server's"
                )
                : "";
        return Said.In($"recorded on the tablet without connection, {ago} before it came to the server{clock}");
    }
}
