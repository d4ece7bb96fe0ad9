using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.Jobs;

/// <summary>A newer revision of a job's program. Its bytes are kept as they came.</summary>
public sealed class ReceiveProgram(ChangeJob change)
{
    /// <param name="version">The job's version that the page showed.</param>
    /// <param name="why">Needed where a prove-out is under way.</param>
    public Task<Refusal?> Run(Actor by, Place place, Guid job, long version, Upload program, string why = "") =>
        change.Run(by, place, job, version, new FileChange(JobFileKind.Program, program, why, Complete: false));
}
