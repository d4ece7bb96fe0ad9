using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Adds subprogram files to a job, puts newer ones in the place of those with the same name, and takes some away.</summary>
public sealed class ChangeSubprograms(ChangeJob change)
{
    const int FilesMost = 200;

    /// <param name="version">The job's version that the page showed.</param>
    /// <param name="added">A file with the name of one that is there replaces it.</param>
    /// <param name="removed">Names of files.</param>
    /// <param name="why">Needed where a prove-out is under way.</param>
    public async Task<Refusal?> Run(
        Actor by,
        Place place,
        Guid job,
        long version,
        IReadOnlyList<Upload> added,
        IReadOnlyList<string> removed,
        string why = ""
    )
    {
        var twice = added.GroupBy(f => f.Name, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1);
        if (twice is not null)
            return new Refusal(RefusedBecause.NotAcceptable, $"{twice.Key} was chosen twice: choose each file once.");
        if (added.Count > FilesMost)
            return new Refusal(RefusedBecause.NotAcceptable, "At most 200 files at once.");
        return await change.Run(by, place, job, version, new SubprogramChange(added, removed, why));
    }
}
