using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Readings;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Says what a parameter holds that only the control knows, or that nobody knows it any more; the program is checked with it.</summary>
public sealed class SayParameter(ChangeJob change)
{
    const int NumberMost = 999;
    const int FromLongest = 200;

    /// <param name="version">The job's version that the page showed.</param>
    /// <param name="typed">In the grammar of typed numbers; empty: the value is taken back.</param>
    /// <param name="from">Where the value comes from; needed where a prove-out is under way.</param>
    public async Task<Refusal?> Run(
        Actor by,
        Place place,
        Guid job,
        long version,
        int number,
        string typed,
        string from = ""
    )
    {
        from = from.Trim();
        if (number is < 1 or > NumberMost)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                "Only #1 to #999 can be said: higher numbers are registers and positions that the control keeps up itself."
            );
        if (typed.Length > 0 && !TypedNumber.TryRead(typed, out _, out var refusal))
            return new Refusal(RefusedBecause.NotAcceptable, refusal);
        if (from.Length > FromLongest)
            return new Refusal(RefusedBecause.NotAcceptable, "Say where the value comes from in at most 200 letters.");
        return await change.Run(by, place, job, version, new ParameterChange(number, typed, from));
    }
}
