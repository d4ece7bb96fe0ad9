using Handwheel.Data;
using Handwheel.Web.Api;
using Handwheel.Web.Features.Cutting;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Paper;
using Handwheel.Web.Features.PathView;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Features.Setups;
using Handwheel.Web.Features.Trust;
using Handwheel.Web.Hosting;
using Handwheel.Web.Serving.Network;
using Handwheel.Web.Shell;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using MudBlazor.Services;

namespace Handwheel.Web.Serving;

/// <summary>The web app: what <c>handwheel</c> does when it is started without a verb.</summary>
public static class Server
{
    /// <summary>Where the app listens unless <c>--urls</c> or <c>ASPNETCORE_URLS</c> says otherwise: this machine alone.</summary>
    public const string DefaultAddress = "http://localhost:5080";

    /// <summary>Serves until it is told to stop; the exit status is 0 then.</summary>
    public static async Task<int> Run(string[] args)
    {
        try
        {
            var app = Build(args);
            app.Lifetime.ApplicationStarted.Register(() => SayWhere(app));
            await app.RunAsync();
            return 0;
        }
        catch (ShopCannotStart e)
        {
            await Console.Error.WriteLineAsync(e.Message);
            return 2;
        }
    }

    static WebApplication Build(string[] args)
    {
        // Content stands beside the executable, wherever the app was started from.
        var builder = WebApplication.CreateBuilder(
            new WebApplicationOptions { Args = args, ContentRootPath = AppContext.BaseDirectory }
        );
        builder.WebHost.UseStaticWebAssets();
        builder.Services.AddHandwheelData(builder.Configuration);
        var listening = builder.AddNetwork(DefaultAddress);
        AddPages(builder.Services);

        var app = builder.Build();
        UsePages(app, listening);
        return app;
    }

    static void AddPages(IServiceCollection services)
    {
        // A page whose circuit is gone is loaded again by its person, who is told that an open form went with it; resumed by itself it would
        // stand there empty without a word.
        services.AddRazorComponents().AddInteractiveServerComponents(o => o.PersistedCircuitInMemoryMaxRetained = 0);
        services.AddMudServices();
        services.AddCascadingAuthenticationState();
        services.AddHttpContextAccessor();
        services.AddProblemDetails();
        services.AddScoped<AuthenticationStateProvider, StillSignedIn>();
    }

    static void UsePages(WebApplication app, Listening listening)
    {
        app.UseSecurityHeaders(PageSecurity.Headers(listening.HttpsAlone));
        FloorFiles.Sign(app);
        TabletLanguage.Speak(app);
        app.UseWhen(
            at => at.Request.Path.StartsWithSegments("/api", StringComparison.OrdinalIgnoreCase),
            api => api.UseExceptionHandler().UseStatusCodePages()
        );
        app.UseWhen(
            at => !at.Request.Path.StartsWithSegments("/api", StringComparison.OrdinalIgnoreCase),
            pages =>
                pages
                    .UseExceptionHandler("/went-wrong", createScopeForErrors: true)
                    .UseStatusCodePagesWithReExecute("/status/{0}", createScopeForStatusCodePages: true)
        );
        app.UseRouting();
        app.UseAuthentication();
        app.UseAuthorization();
        app.UseAntiforgery();
        app.MapHandwheelApi();
        app.MapPost("/sign-out", SignOut);
        app.MapSchemas();
        app.MapSheets();
        app.MapPathView();
        app.MapLabels();
        app.MapToolSpreadsheets();
        app.MapCuttingTables();
        app.MapRecordPaper();
        app.MapHandoffPaper();
        app.MapStaticAssets();
        app.MapFloor();
        app.MapTrust();
        app.MapPaper();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(o => o.ContentSecurityFrameAncestorsPolicy = null);
    }

    static async Task<IResult> SignOut(HttpContext http, IAntiforgery antiforgery)
    {
        await antiforgery.ValidateRequestAsync(http);
        await http.SignOutAsync(PersonCookie.Scheme);
        return Results.Redirect("/sign-in");
    }

    static void SayWhere(WebApplication app)
    {
        var addresses = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()?.Addresses;
        foreach (var line in TrustWords.AtStart(app.Services))
            Console.WriteLine(line);
        Console.WriteLine($"Handwheel is at {string.Join(" and ", addresses ?? [])}");
    }
}
