using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Handwheel.Web.Serving.Network;

/// <summary>What this machine is called on the shop's network, best first.</summary>
/// <param name="Hosts">DNS names, lower case.</param>
/// <param name="Addresses">IPv4 and site-local IPv6 addresses, loopback among them.</param>
/// <param name="Given">Those of them that the shop gives itself, as typed.</param>
public sealed record NetworkNames(
    IReadOnlyList<string> Hosts,
    IReadOnlyList<IPAddress> Addresses,
    IReadOnlyList<string> Given
)
{
    /// <param name="said">
    /// Names and addresses that the shop gives itself (<c>HANDWHEEL_HOSTS</c>), between commas: what a machine in a container
    /// or behind another cannot know.
    /// </param>
    public static NetworkNames OfThisMachine(string? said)
    {
        var given = (said ?? "").Split([',', ';', ' '], StringSplitOptions.RemoveEmptyEntries);
        var hosts = given.Where(g => !IPAddress.TryParse(g, out _)).ToList();
        var addresses = given.Select(g => IPAddress.TryParse(g, out var a) ? a : null).OfType<IPAddress>().ToList();
        var name = Dns.GetHostName();
        hosts.Add(name);
        if (IPGlobalProperties.GetIPGlobalProperties().DomainName is { Length: > 0 } domain && domain != "(none)")
            hosts.Add($"{name.Split('.')[0]}.{domain}");
        hosts.Add(name.Split('.')[0] + ".local");
        hosts.Add("localhost");
        addresses.AddRange(Reachable());
        addresses.Add(IPAddress.Loopback);
        addresses.Add(IPAddress.IPv6Loopback);
        return new(
            [
                .. hosts
                    .Select(h => h.ToLowerInvariant())
                    .Where(h => Uri.CheckHostName(h) is UriHostNameType.Dns)
                    .Distinct(StringComparer.Ordinal),
            ],
            [.. addresses.Distinct()],
            given
        );
    }

    static IEnumerable<IPAddress> Reachable() =>
        NetworkInterface
            .GetAllNetworkInterfaces()
            .Where(i => i.OperationalStatus is OperationalStatus.Up)
            .Where(i => i.NetworkInterfaceType is not NetworkInterfaceType.Loopback)
            .OrderByDescending(i => i.GetIPProperties().GatewayAddresses.Count > 0)
            .SelectMany(i => i.GetIPProperties().UnicastAddresses)
            .Select(u => u.Address)
            .Where(a => a.AddressFamily is AddressFamily.InterNetwork || a.IsIPv6UniqueLocal);
}
