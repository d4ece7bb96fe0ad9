using Handwheel.Jobs.Records;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Serving.Network;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Handwheel.Web.Features.Trust;

/// <summary>Hands the shop's network root to tablets, and says how one comes to trust it. Public on purpose: a certificate is no secret.</summary>
static class TrustEndpoints
{
    public static void MapTrust(this WebApplication app)
    {
        app.MapGet(TrustWords.Page, Show);
        // Browsers and tablets know this media type as a certificate of an authority; the file is DER.
        app.MapGet(TrustWords.Page + "/root.cer", (Listening at, ServerCertificates of) => Root(at, of, pem: false));
        app.MapGet(TrustWords.Page + "/root.pem", (Listening at, ServerCertificates of) => Root(at, of, pem: true));
    }

    static RazorComponentResult<TrustPage> Show(
        HttpContext http,
        Listening listening,
        ServerCertificates certificates,
        ShopAddresses addresses
    )
    {
        var root = listening.Https ? certificates.RootCertificate : null;
        return FloorEndpoints.Page<TrustPage>(
            new()
            {
                [nameof(TrustPage.Serves)] = listening.Https,
                [nameof(TrustPage.Fingerprint)] = root is null ? null : ShopKeys.Fingerprint(root.RawData),
                [nameof(TrustPage.Name)] = root?.GetNameInfo(
                    System.Security.Cryptography.X509Certificates.X509NameType.SimpleName,
                    forIssuer: false
                ),
                [nameof(TrustPage.Here)] = addresses.Http.Concat(addresses.Https).FirstOrDefault() is { } first
                    ? new Uri(first, TrustWords.Page)
                    : null,
                [nameof(TrustPage.Work)] = Work(http, addresses),
            }
        );
    }

    /// <summary>Where this tablet goes on over HTTPS: by the name that it came in with, where that is served.</summary>
    static Uri? Work(HttpContext http, ShopAddresses addresses)
    {
        var served = addresses.Https;
        return served.FirstOrDefault(a => a.Host.Equals(http.Request.Host.Host, StringComparison.OrdinalIgnoreCase))
            ?? (served.Count > 0 ? served[0] : null);
    }

    static IResult Root(Listening listening, ServerCertificates certificates, bool pem)
    {
        if (!listening.Https || certificates.RootCertificate is not { } root)
            return Results.NotFound();
        return pem
            ? Results.Text(root.ExportCertificatePem() + "\n", "application/x-pem-file")
            : Results.File(root.RawData, "application/x-x509-ca-cert", "handwheel-shop.cer");
    }
}
