using System.Security.Cryptography;
using System.Text.Json;
using Handwheel.Jobs.Records;

namespace Handwheel.Jobs.Proving;

/// <summary>Plans as JSON, so that they can be kept beside the job's files. Lengths are whole nanometres.</summary>
public static class PlanJson
{
    /// <summary>The plan with those it followed.</summary>
    public static byte[] Write(ProveOutPlan plan) =>
        CanonicalJson.Of(JsonSerializer.SerializeToUtf8Bytes(plan, JobsJson.Default.ProveOutPlan));

    /// <exception cref="FormatException">It is not a plan.</exception>
    public static ProveOutPlan Read(ReadOnlySpan<byte> json)
    {
        try
        {
            return JsonSerializer.Deserialize(json, JobsJson.Default.ProveOutPlan)
                ?? throw new FormatException("Found null, expected the plan of a prove-out.");
        }
        catch (Exception fault) when (fault is JsonException or NotSupportedException or InvalidOperationException)
        {
            throw new FormatException("This is not the plan of a prove-out: " + fault.Message, fault);
        }
    }

    public static string DigestOf(ProveOutPlan plan) =>
        Convert.ToHexStringLower(SHA256.HashData(Write(plan with { Previous = null })));
}
