using Handwheel.Data;
using Handwheel.Web.Features.Cutting;
using Handwheel.Web.Features.FirstStart;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Serving.Network;

namespace Handwheel.Web.Hosting;

/// <summary>Opens the shop and makes its keys before anything is served, and prints the one-time code while the shop has no people.</summary>
sealed class ShopStart(
    OpenShop open,
    FirstCode first,
    RecordKeys keys,
    KeepBuiltInTable cutting,
    Listening listening,
    ServerCertificates certificates
) : IHostedService
{
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await open.Run(cancellationToken);
        await keys.Make();
        if (listening.Https)
            certificates.Now();
        await cutting.Run();
        if (await first.Renew() is { } code)
            Console.WriteLine(
                $"Nobody is in this shop's list yet. Make the first administrator at /first-start with this code: {code}"
            );
    }

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
