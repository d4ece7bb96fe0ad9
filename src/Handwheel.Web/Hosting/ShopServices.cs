using Handwheel.Data;
using Handwheel.Web.Features.Board;
using Handwheel.Web.Features.Cutting;
using Handwheel.Web.Features.FirstStart;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.Paper;
using Handwheel.Web.Features.PathView;
using Handwheel.Web.Features.People;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Features.Templates;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Handwheel.Web.Hosting;

public static class ShopServices
{
    /// <summary>
    /// The shop for the web app: database, actions, sign-in. Opened (and brought up to date) when the host starts, before
    /// the first request; the host does not start when that fails (<see cref="ShopCannotStart"/>).
    /// </summary>
    public static IServiceCollection AddHandwheelData(this IServiceCollection services, IConfiguration configuration)
    {
        services.AddHostedService<ShopStart>();
        services.AddHandwheelShop(ShopAt(configuration));
        services.AddDataProtection().SetApplicationName("handwheel").PersistKeysToDbContext<HandwheelDb>();
        services.AddAuthentication(PersonCookie.Scheme).AddCookie(PersonCookie.Scheme, PersonCookie.Configure);
        services.AddAuthorization(Policies.Add);
        services.AddSingleton<Features.Floor.FloorFiles>();
        return services;
    }

    /// <summary>The shop alone, for commands and tests: open it with <see cref="OpenShop"/>.</summary>
    public static IServiceCollection AddHandwheelShop(this IServiceCollection services, ShopDatabase database)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton(database);
        services.AddSingleton(database.Folder);
        services.AddSingleton<KeyFiles>();
        services.AddDbContextFactory<HandwheelDb>(database.Configure);
        services.AddSingleton<ShopNews>();
        services.AddSingleton<ShopWriter>();
        services.AddSingleton<OpenShop>();
        if (database.IsPostgres)
        {
            services.AddSingleton(at => ActivatorUtilities.CreateInstance<PostgresNews>(at, database.Postgres!));
            services.AddHostedService(at => at.GetRequiredService<PostgresNews>());
        }
        services.TryAddSingleton(new SecretHash(SecretHash.UsualRounds));
        services.AddSingleton<SecretCheck>();
        return services.AddActions();
    }

    static IServiceCollection AddActions(this IServiceCollection services) =>
        services
            .AddSingleton<FirstCode>()
            .AddSingleton<MakeFirstAdministrator>()
            .AddSingleton<SignIn>()
            .AddSingleton<AddPerson>()
            .AddSingleton<EditPerson>()
            .AddSingleton<ResetPin>()
            .AddSingleton<ChangePin>()
            .AddSingleton<SetPassword>()
            .AddSingleton<NameTablet>()
            .AddSingleton<RevokeTablet>()
            .AddSingleton<LiftSignInLock>()
            .AddSingleton<AddMachine>()
            .AddSingleton<EditMachine>()
            .AddSingleton<ReadRegister>()
            .AddSingleton<ProveOutReader>()
            .AddSingleton<AppendEntry>()
            .AddSingleton<ReviseProveOut>()
            .AddSingleton<EditAtMachine>()
            .AddSingleton<TakeAct>()
            .AddSingleton<KeepPhoto>()
            .AddSingleton<StartProveOut>()
            .AddSingleton<CuttingTableReader>()
            .AddSingleton<ChangeCuttingTable>()
            .AddSingleton<KeepBuiltInTable>()
            .AddSingleton<TemplateReader>()
            .AddSingleton<ChangeTemplate>()
            .AddSingleton<JobReader>()
            .AddSingleton<FollowedJobs>()
            .AddSingleton<MakeJob>()
            .AddSingleton<SetUpOnAnotherMachine>()
            .AddSingleton<ChangeJob>()
            .AddSingleton<ChangeSubprograms>()
            .AddSingleton<SayParameter>()
            .AddSingleton<UpdateSetup>()
            .AddSingleton<ReceiveProgram>()
            .AddSingleton<SavedProgram>()
            .AddSingleton<PutAwayJob>()
            .AddSingleton<BoardReader>()
            .AddSingleton<PaperFinder>()
            .AddSingleton<RecordsReader>()
            .AddSingleton<RecordKeys>()
            .AddSingleton<ExportRecord>();

    /// <summary>
    /// The folder from <c>--shop</c>, <c>Handwheel:Shop</c> or <c>HANDWHEEL_SHOP</c> (else <c>shop</c> below the current
    /// folder); PostgreSQL from <c>Handwheel:Postgres</c> or <c>HANDWHEEL_POSTGRES</c>.
    /// </summary>
    public static ShopDatabase ShopAt(IConfiguration configuration) =>
        new(new ShopFolder(Setting.Of(configuration, "Shop") ?? "shop"), Setting.Of(configuration, "Postgres"));
}
