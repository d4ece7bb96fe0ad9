using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Finds a subprogram among the files of a job, by the rules of <see cref="SubprogramIndex"/>.</summary>
public sealed class Subprograms
{
    readonly SubprogramIndex index = new();
    readonly Dictionary<string, byte[]> files = new(StringComparer.Ordinal);

    public Subprograms(IEnumerable<Upload> uploads)
    {
        foreach (var upload in uploads)
        {
            files[upload.Name] = upload.Bytes;
            index.Add(upload.Name, upload.Bytes);
        }
    }

    public FoundProgram? Find(CalledProgram called)
    {
        var found = index.Find(called);
        if (found.Count > 1)
            throw new InputFault(
                $"{found[1]}: found {called} a second time (also in {found[0]}), expected it in one file"
            );
        return found is [var name] ? new(name, files[name]) : null;
    }
}
