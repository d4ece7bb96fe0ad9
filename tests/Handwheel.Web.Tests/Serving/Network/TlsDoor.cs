using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography.X509Certificates;

namespace Handwheel.Web.Tests.Serving.Network;

/// <summary>A TLS handshake over a socket of this machine, as a client with given trust makes it.</summary>
static class TlsDoor
{
    /// <param name="root">The only root that the client trusts; null: those of the system.</param>
    /// <param name="at">The client's clock.</param>
    /// <returns>The certificate that was shown; null: the client refused it.</returns>
    public static async Task<X509Certificate2?> Knock(
        SslStreamCertificateContext shown,
        string host,
        X509Certificate2? root,
        DateTimeOffset at
    )
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        using var client = new TcpClient();
        var accepting = listener.AcceptTcpClientAsync();
        await client.ConnectAsync((IPEndPoint)listener.LocalEndpoint);
        using var accepted = await accepting;
        await using var server = new SslStream(accepted.GetStream());
        await using var tablet = new SslStream(client.GetStream());
        var serving = server.AuthenticateAsServerAsync(
            new SslServerAuthenticationOptions { ServerCertificateContext = shown }
        );
        try
        {
            await tablet.AuthenticateAsClientAsync(
                new SslClientAuthenticationOptions { TargetHost = host, CertificateChainPolicy = Policy(root, at) }
            );
            await serving;
            return new X509Certificate2(tablet.RemoteCertificate!);
        }
        catch (AuthenticationException)
        {
            client.Close();
            try
            {
                await serving;
            }
            catch (Exception e) when (e is AuthenticationException or IOException)
            {
                // The client has gone, as it should.
            }
            return null;
        }
    }

    static X509ChainPolicy Policy(X509Certificate2? root, DateTimeOffset at)
    {
        var policy = new X509ChainPolicy
        {
            RevocationMode = X509RevocationMode.NoCheck,
            DisableCertificateDownloads = true,
            VerificationTime = at.UtcDateTime,
        };
        if (root is null)
            return policy;
        policy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        policy.CustomTrustStore.Add(root);
        return policy;
    }
}
