namespace Handwheel.Jobs.Proving;

/// <summary>
/// One line of a prove-out's append-only list.
/// </summary>
/// <param name="Number">1 and up, without gaps.</param>
/// <param name="At">UTC, the server's clock.</param>
/// <param name="Zone">The shop's time zone, IANA name.</param>
/// <param name="Tablet">Where it was done.</param>
/// <param name="BasedOn">Number of the last entry that the person's page had shown; 0: none.</param>
public sealed record Entry(long Number, DateTimeOffset At, string Zone, Actor By, string Tablet, long BasedOn, Act Act);
