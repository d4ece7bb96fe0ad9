using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Another setup for a job: from a form, or as a file.</summary>
public sealed class UpdateSetup(ChangeJob change)
{
    /// <param name="version">The job's version that the page showed.</param>
    /// <param name="complete">Says that the setup is no draft any more.</param>
    /// <param name="why">Needed where a prove-out is under way.</param>
    public Task<Refusal?> Run(
        Actor by,
        Place place,
        Guid job,
        long version,
        Setup setup,
        bool complete,
        string why = ""
    ) => Run(by, place, job, version, new Upload("setup.json", SetupFile.Write(setup)), complete, why);

    public Task<Refusal?> Run(
        Actor by,
        Place place,
        Guid job,
        long version,
        Upload file,
        bool complete,
        string why = ""
    ) => change.Run(by, place, job, version, new FileChange(JobFileKind.Setup, file, why, complete));
}
