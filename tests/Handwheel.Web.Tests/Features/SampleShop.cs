using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.People;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Features;

/// <summary>A shop with an administrator, a machine, a job whose prove-out is under way and one whose setup is a draft.</summary>
sealed partial record SampleShop(
    Guid Administrator,
    Guid Machine,
    Job Job,
    Guid ProveOut,
    Job Draft,
    string ProgramSha256
)
{
    public const string Pin = "204865";
    public const string Password = "gauge block under the tip";

    public static async Task<SampleShop> In(IServiceProvider services)
    {
        var hiring = new Actor(Guid.NewGuid(), "administrator", Roles.Administrator | Roles.Supervisor | Roles.Setter);
        var administrator = (
            await services.GetRequiredService<AddPerson>().Run(hiring, "administrator", hiring.Roles, Pin, Password)
        ).Must;
        var by = hiring with { Person = administrator.Id };
        var machine = (await services.GetRequiredService<AddMachine>().Run(by, "Mill 1", Facts())).Must;
        var make = services.GetRequiredService<MakeJob>();
        var program = new Upload("bearing-cap-op10.nc", Read("bearing-cap-op10.nc"));
        var setup = new Upload("setup.json", Read("bearing-cap-op10.setup.json"));
        var job = (await make.Run(by, machine.Id, program, setup, [])).Must;
        var draft = (await make.Run(by, machine.Id, program, null, [])).Must;
        var proveOut = (
            await services.GetRequiredService<StartProveOut>().Run(by, Place.Browser("127.0.0.1"), job.Id)
        ).Must;
        return new(administrator.Id, machine.Id, job, proveOut.Id, draft, StoredFile.Digest(program.Bytes));
    }

    static string Facts()
    {
        var setup = (JsonObject)JsonNode.Parse(Read("bearing-cap-op10.setup.json"))!;
        setup["workOffsets"] = new JsonObject();
        setup["tools"] = new JsonArray();
        foreach (var ofTheJob in new[] { "commonOffset", "stock", "holding", "airCut", "job", "characteristics" })
            setup.Remove(ofTheJob);
        return setup.ToJsonString();
    }

    static byte[] Read(string name)
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
            if (Path.Combine(folder, "src/Handwheel.Web/Features/Demo/Files", name) is var file && File.Exists(file))
                return File.ReadAllBytes(file);
        throw new InvalidOperationException($"no {name} above {AppContext.BaseDirectory}");
    }

    /// <summary>As the administrator, who supervises as well.</summary>
    public async Task SignIn(HttpClient browser)
    {
        var page = await browser.GetStringAsync("/sign-in");
        var token = Token().Match(page).Groups["token"].Value;
        var answer = await browser.PostAsync(
            "/sign-in",
            new FormUrlEncodedContent(
                new Dictionary<string, string>
                {
                    ["__RequestVerificationToken"] = token,
                    ["_handler"] = "sign-in",
                    ["Typed.Person"] = Administrator.ToString(),
                    ["Typed.Secret"] = Password,
                    ["Typed.Next"] = "/about",
                }
            )
        );
        answer.EnsureSuccessStatusCode();
        Assert.Contains("Sign out", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [GeneratedRegex("""name="__RequestVerificationToken" value="(?<token>[^"]+)""", RegexOptions.NonBacktracking)]
    private static partial Regex Token();
}
