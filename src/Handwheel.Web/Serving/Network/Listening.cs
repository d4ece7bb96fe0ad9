using System.Globalization;
using Handwheel.Data;

namespace Handwheel.Web.Serving.Network;

/// <summary>Where the app listens.</summary>
/// <param name="Urls">As Kestrel takes them.</param>
public sealed record Listening(IReadOnlyList<string> Urls)
{
    /// <summary>Where HTTPS is added when plain HTTP lets other machines in and nothing else is said.</summary>
    public const int UsualHttpsPort = 5443;

    public bool Https => Urls.Any(u => u.StartsWith("https:", StringComparison.OrdinalIgnoreCase));

    /// <summary>Nothing is served over plain HTTP.</summary>
    public bool HttpsAlone => Urls.All(u => u.StartsWith("https:", StringComparison.OrdinalIgnoreCase));

    /// <summary>
    /// What <c>--urls</c> says, else <paramref name="usual"/>. Where that lets other machines in over plain HTTP alone, the
    /// same over HTTPS is added: <c>--https PORT</c>, <c>Handwheel:Https</c> or <c>HANDWHEEL_HTTPS</c> says at which port, or
    /// <c>off</c>.
    /// </summary>
    /// <exception cref="ShopCannotStart">The port is not one.</exception>
    public static Listening From(string? urls, string usual, string? https)
    {
        var said = (string.IsNullOrWhiteSpace(urls) ? usual : urls)
            .Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .ToList();
        var listening = new Listening(said);
        if (listening.Https || https is "off" || said.Find(LetsOthersIn) is not { } plain)
            return listening;
        var from = BindingAddress.Parse(plain);
        var port = from.Port == 0 ? 0 : UsualHttpsPort;
        if (
            https is not null
            && !(int.TryParse(https, NumberStyles.None, CultureInfo.InvariantCulture, out port) && port <= 65535)
        )
            throw new ShopCannotStart(
                $"found \"{https}\" for the port of HTTPS (HANDWHEEL_HTTPS), expected a number from 0 to 65535, or off"
            );
        said.Add(string.Create(CultureInfo.InvariantCulture, $"https://{from.Host}:{port}"));
        return listening;
    }

    /// <summary>Any host but this machine's own loopback.</summary>
    static bool LetsOthersIn(string url)
    {
        if (!url.StartsWith("http:", StringComparison.OrdinalIgnoreCase))
            return false;
        var host = BindingAddress.Parse(url).Host.Trim('[', ']');
        return !IsLoopback(host);
    }

    /// <summary>True for the names under which a browser reaches its own machine.</summary>
    public static bool IsLoopback(string host) =>
        host.Equals("localhost", StringComparison.OrdinalIgnoreCase)
        || host.EndsWith(".localhost", StringComparison.OrdinalIgnoreCase)
        || (
            System.Net.IPAddress.TryParse(host.Trim('[', ']'), out var address)
            && System.Net.IPAddress.IsLoopback(address)
        );
}
