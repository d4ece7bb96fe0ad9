using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.Extensions.FileProviders;

namespace Handwheel.Web.Features.Floor;

/// <summary>
/// The files that a page at the machine is made of, each named with the digest of its bytes: a page and its scripts are always of one version,
/// also where a tablet keeps both. Any other byte in one of them is another version.
/// </summary>
public sealed class FloorFiles(IWebHostEnvironment web)
{
    /// <summary>Says that an answer is this server's own, and of which version: a captive portal cannot know.</summary>
    public const string Header = "Handwheel";

    const int DigestDigits = 12;

    static readonly string[] Versioned =
    [
        "fonts/fonts.css",
        "floor.css",
        "floor-step.css",
        "floor-enter.css",
        "floor-told.css",
        "floor-way-in.css",
        "words-es.js",
        "said.js",
        "forms.js",
        "queue.js",
        "drafts.js",
        "told.js",
        "tablet.js",
        "away.js",
        "here.js",
        "kept.js",
        "photos.js",
        "files.js",
        "hands.js",
    ];

    /// <summary>Asked for by a name without a digest: by a style sheet, the manifest or the browser itself.</summary>
    static readonly string[] Plain =
    [
        "fonts/IBMPlexMono-Regular.woff2",
        "fonts/IBMPlexMono-SemiBold.woff2",
        "fonts/IBMPlexSans-Regular.woff2",
        "fonts/IBMPlexSans-SemiBold.woff2",
        "handwheel.svg",
        "handwheel-192.png",
        "handwheel-512.png",
        "handwheel.webmanifest",
    ];

    readonly Lazy<Dictionary<string, string>> digests = new(() =>
        Versioned.Concat(Plain).Append("sw.js").ToDictionary(f => f, f => DigestOf(web.WebRootFileProvider, f))
    );

    /// <summary>Address of a file, with the digest of its bytes.</summary>
    /// <exception cref="KeyNotFoundException">No page at the machine is made of it: add it to the list here.</exception>
    public string this[string file] => $"/{file}?v={digests.Value[file]}";

    /// <summary>Digest over all files.</summary>
    public string Version =>
        Short(
            SHA256.HashData(
                JsonSerializer.SerializeToUtf8Bytes(digests.Value.OrderBy(d => d.Key, StringComparer.Ordinal))
            )
        );

    /// <summary>For the tablet's worker: what to keep.</summary>
    public string Script()
    {
        var files = Versioned.Select(f => this[f]).Concat(Plain.Select(f => "/" + f));
        return $"self.handwheelFiles = {JsonSerializer.Serialize(new { version = Version, files })};";
    }

    /// <summary>Every answer below <c>/floor</c> says that it is ours.</summary>
    public static void Sign(WebApplication app)
    {
        var files = app.Services.GetRequiredService<FloorFiles>();
        app.Use(
            (http, next) =>
            {
                if (http.Request.Path.StartsWithSegments("/floor", StringComparison.OrdinalIgnoreCase))
                    http.Response.OnStarting(() =>
                    {
                        http.Response.Headers[Header] = files.Version;
                        return Task.CompletedTask;
                    });
                return next(http);
            }
        );
    }

    static string DigestOf(IFileProvider root, string file)
    {
        using var bytes = root.GetFileInfo(file).CreateReadStream();
        return Short(SHA256.HashData(bytes));
    }

    static string Short(byte[] digest) => Convert.ToHexStringLower(digest)[..DigestDigits];
}
