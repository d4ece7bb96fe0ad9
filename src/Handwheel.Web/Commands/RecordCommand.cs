using System.CommandLine;
using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Hosting;
using Handwheel.Web.Sheets;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel record export JOB --out FILE.pdf|FILE.json</c>: the signed record of a job's newest prove-out.</summary>
static class RecordCommand
{
    public static Command Make(Screen screen)
    {
        var job = new Argument<string>("JOB") { Description = "The job's number, or the id of one of its prove-outs." };
        var to = new Option<string>("--out")
        {
            Description = "The file to write; its ending says as what.",
            HelpName = "FILE.pdf|FILE.json",
            Required = true,
        };
        var paper = new Option<string>("--paper") { Description = "letter (unless given) or a4." };
        paper.AcceptOnlyFromAmong("letter", "a4");
        var shop = ShopOption.Make();
        var export = new Command("export", "Write the signed record of a job.") { job, to, paper, shop };
        export.SetAction(
            async (parsed, ct) =>
                await Export(
                    screen,
                    ShopOption.Read(parsed.GetValue(shop)),
                    parsed.GetRequiredValue(job),
                    parsed.GetRequiredValue(to),
                    parsed.GetValue(paper) == "a4" ? PaperSize.A4 : PaperSize.Letter,
                    ct
                )
        );
        return new Command("record") { export };
    }

    static async Task<int> Export(
        Screen screen,
        ShopDatabase database,
        string job,
        string to,
        PaperSize paper,
        CancellationToken ct
    )
    {
        var asPdf = to.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase);
        if (!asPdf && !to.EndsWith(".json", StringComparison.OrdinalIgnoreCase))
            throw new InputFault(to, null, null, "another ending", "a file that ends in .pdf or .json");
        if (!database.IsPostgres && !File.Exists(database.Folder.Database))
            throw new InputFault(
                $"{database.Folder.Path}: found no shop, expected a folder with handwheel.db (--shop)"
            );
        var services = new ServiceCollection().AddLogging().AddHandwheelShop(database);
        await using var shop = services.BuildServiceProvider();
        try
        {
            await shop.GetRequiredService<OpenShop>().Run(ct);
        }
        catch (ShopCannotStart e)
        {
            throw new InputFault(e.Message, e);
        }
        var row = await Find(shop.GetRequiredService<RecordsReader>(), job);
        var answer = await shop.GetRequiredService<ExportRecord>().Run(row.ProveOut);
        if (answer.Refused is { } refused)
            throw new InputFault($"handwheel record: {refused}");
        var record = answer.Must;
        if (asPdf)
            record = RecordPdf.Make(record, await shop.GetRequiredService<RecordKeys>().Signer(), paper);
        OutputFiles.Write(to, record);
        await screen.Out.WriteLineAsync(
            string.Create(
                CultureInfo.InvariantCulture,
                $"Record of job {row.JobNumber}, {row.Part}, written to {to}: {row.Entries} entries, head {row.Head}."
            )
        );
        return CommandLine.Done;
    }

    static async Task<RecordRow> Find(RecordsReader reader, string job)
    {
        var rows = await reader.Read();
        var found = Guid.TryParse(job, out var id)
            ? rows.FirstOrDefault(r => r.ProveOut == id)
            : rows.FirstOrDefault(r => r.JobNumber.ToString(CultureInfo.InvariantCulture) == job);
        if (found is not null)
            return found;
        var known = string.Join(", ", rows.Select(r => r.JobNumber).Distinct().Order().Take(20));
        throw new InputFault(
            $"handwheel record: found no prove-out of \"{job}\", expected the number of a job that has one{(known.Length > 0 ? ": " + known : "")}"
        );
    }
}
