namespace Handwheel.Web.Features.Jobs;

/// <summary>A file as somebody sent it.</summary>
/// <param name="Name">Without a path.</param>
public sealed record Upload(string Name, byte[] Bytes)
{
    /// <summary>Largest setup, bytes.</summary>
    public const int SetupMost = 4 * 1024 * 1024;

    /// <summary>Takes the name apart from any path a browser may send, and keeps it short.</summary>
    public static Upload Of(string name, byte[] bytes)
    {
        var bare = name[(name.LastIndexOfAny(['/', '\\']) + 1)..].Trim();
        if (bare.Length == 0)
            bare = "program";
        return new(bare.Length > 200 ? bare[^200..] : bare, bytes);
    }
}
