using System.Formats.Asn1;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;

namespace Handwheel.Web.Serving.Network;

/// <summary>
/// The names that a root may vouch for (RFC 5280, 4.2.1.10): a tablet that trusts the shop's root trusts it for names and
/// addresses of a shop's own network, and for no site of the internet.
/// </summary>
/// <param name="Hosts">Each with everything below it.</param>
public sealed record NameConstraints(IReadOnlyList<string> Hosts, IReadOnlyList<IPNetwork> Networks)
{
    const string Oid = "2.5.29.30";
    static readonly Asn1Tag Permitted = new(TagClass.ContextSpecific, 0);
    static readonly Asn1Tag DnsName = new(TagClass.ContextSpecific, 2);
    static readonly Asn1Tag IpAddress = new(TagClass.ContextSpecific, 7);

    /// <summary>Names that never belong to a site of the internet: RFC 6761, RFC 6762, RFC 8375, and ICANN's resolution of 2024 on <c>internal</c>; <c>lan</c> is common practice.</summary>
    static readonly string[] PrivateHosts = ["localhost", "local", "home.arpa", "internal", "lan"];

    /// <summary>RFC 1918, RFC 3927, RFC 4193, RFC 4291, RFC 1122.</summary>
    static readonly string[] PrivateNetworks =
    [
        "10.0.0.0/8",
        "172.16.0.0/12",
        "192.168.0.0/16",
        "169.254.0.0/16",
        "127.0.0.0/8",
        "fc00::/7",
        "fe80::/10",
        "::1/128",
    ];

    /// <summary>Private names and networks, and what the machine is called now.</summary>
    public static NameConstraints For(NetworkNames names)
    {
        var networks = PrivateNetworks.Select(n => IPNetwork.Parse(n)).ToList();
        foreach (var address in names.Addresses.Where(a => !networks.Exists(n => n.Contains(a))).ToList())
            networks.Add(new IPNetwork(address, address.AddressFamily is AddressFamily.InterNetwork ? 32 : 128));
        return new([.. PrivateHosts.Concat(names.Hosts).Distinct(StringComparer.Ordinal)], networks);
    }

    public bool Permits(string host) =>
        Hosts.Any(h => host.Equals(h, StringComparison.Ordinal) || host.EndsWith("." + h, StringComparison.Ordinal));

    public bool Permits(IPAddress address) => Networks.Any(n => n.Contains(address));

    public X509Extension ToExtension()
    {
        var writer = new AsnWriter(AsnEncodingRules.DER);
        using (writer.PushSequence())
        using (writer.PushSequence(Permitted))
        {
            foreach (var host in Hosts)
                using (writer.PushSequence())
                    writer.WriteCharacterString(UniversalTagNumber.IA5String, host, DnsName);
            foreach (var network in Networks)
                using (writer.PushSequence())
                    writer.WriteOctetString(AddressAndMask(network), IpAddress);
        }
        return new X509Extension(Oid, writer.Encode(), critical: true);
    }

    /// <summary>What a root that was made earlier permits.</summary>
    public static NameConstraints Of(X509Certificate2 root)
    {
        var extension = root.Extensions.Single(e => e.Oid?.Value == Oid);
        var subtrees = new AsnReader(extension.RawData, AsnEncodingRules.DER).ReadSequence().ReadSequence(Permitted);
        var (hosts, networks) = (new List<string>(), new List<IPNetwork>());
        while (subtrees.HasData)
        {
            var name = subtrees.ReadSequence();
            if (name.PeekTag().HasSameClassAndValue(DnsName))
                hosts.Add(name.ReadCharacterString(UniversalTagNumber.IA5String, DnsName));
            else
                networks.Add(NetworkOf(name.ReadOctetString(IpAddress)));
        }
        return new(hosts, networks);
    }

    static byte[] AddressAndMask(IPNetwork network)
    {
        var address = network.BaseAddress.GetAddressBytes();
        var mask = new byte[address.Length];
        for (var bit = 0; bit < network.PrefixLength; bit++)
            mask[bit / 8] |= (byte)(0x80 >> (bit % 8));
        return [.. address, .. mask];
    }

    static IPNetwork NetworkOf(byte[] addressAndMask)
    {
        var half = addressAndMask.Length / 2;
        var length = addressAndMask.Skip(half).Sum(b => int.PopCount(b));
        return new IPNetwork(new IPAddress(addressAndMask.AsSpan(0, half)), length);
    }
}
