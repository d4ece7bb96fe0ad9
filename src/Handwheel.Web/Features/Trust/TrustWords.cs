using Handwheel.Jobs.Records;
using Handwheel.Web.Serving.Network;

namespace Handwheel.Web.Features.Trust;

/// <summary>What is said about HTTPS where the server is started: the place that the fingerprint on a tablet is compared with.</summary>
static class TrustWords
{
    public const string Page = "/trust-this-shop";

    public static IEnumerable<string> AtStart(IServiceProvider services)
    {
        var addresses = services.GetRequiredService<ShopAddresses>();
        if (!services.GetRequiredService<Listening>().Https)
        {
            if (addresses.Http.Count > 0)
                yield return "Tablets come in over plain HTTP alone: no installing, no camera in the page, no work without network.";
            yield break;
        }
        if (addresses.Https is [var work, ..])
            yield return $"Tablets work at {work}";
        if (services.GetRequiredService<ServerCertificates>().RootCertificate is not { } root)
            yield break;
        if (addresses.Http.Concat(addresses.Https).FirstOrDefault() is { } first)
            yield return $"A tablet trusts this shop once, at {new Uri(first, Page)}";
        yield return $"The shop's network root certificate has the SHA-256 fingerprint {ShopKeys.Fingerprint(root.RawData)}";
    }
}
