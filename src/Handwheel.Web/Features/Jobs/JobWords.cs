using Handwheel.Data;

namespace Handwheel.Web.Features.Jobs;

public static class JobWords
{
    /// <summary><c>Bearing cap, operation 10, revision B</c>; parts that nobody gave are left out.</summary>
    public static string TitleOf(Job job)
    {
        string[] parts =
        [
            job.Part.Length > 0 ? job.Part : "part not named",
            job.Operation.Length > 0 ? "operation " + job.Operation : "",
            job.Revision.Length > 0 ? "revision " + job.Revision : "",
        ];
        return string.Join(", ", parts.Where(p => p.Length > 0));
    }
}
