using Handwheel.Data;
using Handwheel.Web.Hosting;

namespace Handwheel.Web.Serving.Network;

static class NetworkServices
{
    /// <summary>Where the app listens, and what it shows on HTTPS: asked at each connection, so it is renewed without a restart.</summary>
    public static Listening AddNetwork(this WebApplicationBuilder builder, string usualAddress)
    {
        var configuration = builder.Configuration;
        var listening = Listening.From(
            configuration[WebHostDefaults.ServerUrlsKey],
            usualAddress,
            Setting.Of(configuration, "Https")
        );
        builder.WebHost.UseUrls([.. listening.Urls]);
        builder.WebHost.ConfigureKestrel(k =>
        {
            k.AddServerHeader = false;
            var certificates = k.ApplicationServices.GetRequiredService<ServerCertificates>();
            k.ConfigureHttpsDefaults(https =>
            {
                https.ServerCertificateSelector = (_, _) => certificates.Now().TargetCertificate;
                https.OnAuthenticate = (_, options) =>
                {
                    options.ServerCertificateSelectionCallback = null;
                    options.ServerCertificateContext = certificates.Now();
                };
            });
        });
        var said = Setting.Of(configuration, "Hosts");
        builder.Services.AddSingleton(listening);
        builder.Services.AddSingleton<Func<NetworkNames>>(() => NetworkNames.OfThisMachine(said));
        builder.Services.AddSingleton(at => new ServerCertificates(
            at.GetRequiredService<KeyFiles>(),
            OwnCertificate.From(configuration),
            at.GetRequiredService<Func<NetworkNames>>(),
            at.GetRequiredService<TimeProvider>(),
            at.GetRequiredService<ILogger<ServerCertificates>>()
        ));
        builder.Services.AddSingleton<ShopAddresses>();
        return listening;
    }
}
