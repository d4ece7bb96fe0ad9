namespace Handwheel.Jobs.Proving;

/// <summary>Plans as JSON, so that they can be kept beside the job's files.</summary>
public static class PlanJson
{
    public static byte[] Write(ProveOutPlan plan) => throw new NotSupportedException();

    /// <exception cref="FormatException">It is not a plan.</exception>
    public static ProveOutPlan Read(ReadOnlySpan<byte> json) => throw new NotSupportedException();

    public static string DigestOf(ProveOutPlan plan) => throw new NotSupportedException();
}
