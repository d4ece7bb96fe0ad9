using System.Globalization;
using System.Net.Sockets;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace Handwheel.Web.Serving.Network;

/// <summary>How another machine of the shop's network reaches this server, best first.</summary>
public sealed class ShopAddresses(IServer server, Func<NetworkNames> namesNow)
{
    /// <summary>Empty: no other machine can come in that way.</summary>
    public IReadOnlyList<Uri> Https => Of("https");

    /// <summary>Empty: no other machine can come in that way.</summary>
    public IReadOnlyList<Uri> Http => Of("http");

    /// <summary>The best address for a tablet; null: only this machine itself reaches the server.</summary>
    public Uri? ForTablets => Https.Concat(Http).FirstOrDefault();

    /// <summary>
    /// What a link on paper begins with: the address that the printing browser used, or, where that is this machine's own, the
    /// one for tablets.
    /// </summary>
    public string ForPaper(HttpRequest request) =>
        Listening.IsLoopback(request.Host.Host) && ForTablets is { } best
            ? best.GetLeftPart(UriPartial.Authority)
            : $"{request.Scheme}://{request.Host}";

    /// <summary>True for a host that means this server: by its own names, or by the one that the request came to.</summary>
    public bool IsThisServer(string host, HttpRequest request)
    {
        if (host.Equals(request.Host.Host, StringComparison.OrdinalIgnoreCase) || Listening.IsLoopback(host))
            return true;
        var names = namesNow();
        return names.Hosts.Contains(host, StringComparer.OrdinalIgnoreCase)
            || names.Addresses.Any(a => a.ToString() == host.Trim('[', ']'));
    }

    List<Uri> Of(string scheme)
    {
        var bound = server.Features.Get<IServerAddressesFeature>()?.Addresses ?? [];
        return
        [
            .. bound
                .Select(BindingAddress.Parse)
                .Where(b => b.Scheme.Equals(scheme, StringComparison.OrdinalIgnoreCase))
                .SelectMany(b => HostsOf(b.Host).Select(h => new Uri(Invariant(scheme, h, b.Port))))
                .Distinct(),
        ];
    }

    static string Invariant(string scheme, string host, int port) =>
        string.Create(CultureInfo.InvariantCulture, $"{scheme}://{host}:{port}/");

    IEnumerable<string> HostsOf(string bound)
    {
        if (Listening.IsLoopback(bound))
            return [];
        if (bound is not ("0.0.0.0" or "[::]" or "*" or "+"))
            return [bound];
        var names = namesNow();
        var found = names.Addresses.Where(a => a.AddressFamily is AddressFamily.InterNetwork).Select(a => a.ToString());
        return names.Given.Concat(found).Concat(names.Hosts).Where(h => !Listening.IsLoopback(h));
    }
}
