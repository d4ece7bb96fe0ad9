using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Sheets.Pictures;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.PathView;

/// <summary>What the script of a path page asks for, below <c>/jobs/NUMBER/path/</c>. DIGEST says which program and setup the page was made from.</summary>
static class PathFiles
{
    const int LinesMost = 500;
    const string Gone = "The job has another program or setup by now. Load the page again.";

    public static void MapPathView(this WebApplication app)
    {
        var path = app.MapGroup("/jobs/{number:int}/path").RequireAuthorization(Policies.SignedIn);
        path.MapGet("/{digest}/whole.bin", Whole);
        path.MapGet("/{digest}/near.bin", Near);
        path.MapGet("/{digest}/as-cut.bin", AsCut);
        path.MapGet("/{digest}/block.json", Block);
        path.MapGet("/{digest}/lines.json", Lines);
        path.MapGet("/{view:regex(^(top|front|side|isometric|travel)$)}.svg", Flat);
    }

    static async Task<IResult> Whole(int number, string digest, FollowedJobs jobs) =>
        await jobs.Of(number, digest) is { } job ? Bytes(job.Whole) : NotThere();

    static async Task<IResult> Near(int number, string digest, int block, FollowedJobs jobs) =>
        await jobs.Of(number, digest) is { } job
            ? Bytes(PathBytes.Near(job.Track, job.Setup.Units, block))
            : NotThere();

    static async Task<IResult> AsCut(int number, string digest, FollowedJobs jobs) =>
        await jobs.Of(number, digest) is { } job ? Bytes(AsCutBytes.Of(job.Check.AsCut.NowhereLower)) : NotThere();

    /// <summary>The block asked for, or the first time that a line is executed, else the next one behind it that is.</summary>
    static async Task<IResult> Block(int number, string digest, int? block, int? line, string? file, FollowedJobs jobs)
    {
        if (await jobs.Of(number, digest) is not { } job)
            return NotThere();
        var asked = block ?? OfLine(job, line ?? 1, file);
        if (asked is not { } at || job.At(at) is not { } read)
            return Results.Problem(
                block is null
                    ? $"Line {line} and what follows it is never executed."
                    : $"Block {block} is not one of the {job.Track.Blocks} that are executed.",
                statusCode: StatusCodes.Status404NotFound
            );
        return Results.Json(BlockShown.Of(job, read));
    }

    /// <summary>Comments and empty lines are no blocks: the next line that is executed stands for them.</summary>
    static int? OfLine(FollowedJob job, int line, string? file)
    {
        if (job.FileNumber(file) is not { } number || job.Listing(file) is not { } listing)
            return null;
        var following = Enumerable.Range(line, Math.Clamp(listing.LineCount - line + 1, 0, LinesMost));
        var first = job.Track.FirstOf(following.Select(l => (number, l)).ToHashSet());
        return first.Count == 0 ? null : first.MinBy(f => f.Key.Line).Value;
    }

    /// <summary>Lines as pieces of text, each with what it is.</summary>
    static async Task<IResult> Lines(int number, string digest, int from, int count, string? file, FollowedJobs jobs)
    {
        if (await jobs.Of(number, digest) is not { } job || job.Listing(file) is not { } listing)
            return NotThere();
        var first = Math.Max(1, from);
        var end = Math.Min(listing.LineCount, first + Math.Clamp(count, 0, LinesMost) - 1);
        return Results.Json(
            new
            {
                From = first,
                Of = listing.LineCount,
                Lines = Enumerable
                    .Range(first, Math.Max(0, end - first + 1))
                    .Select(line => listing.Pieces(line).Select(p => new[] { ListedClass.Of(p.Kind) ?? "", p.Text })),
            }
        );
    }

    /// <summary>The flat view of the drawing model, for a browser that cannot draw in space.</summary>
    static async Task<IResult> Flat(int number, string view, JobReader jobs, FollowedJobs followed)
    {
        if (await jobs.OpenNumber(number) is not { } open)
            return Results.NotFound();
        try
        {
            var from = Enum.Parse<ViewFrom>(view, ignoreCase: true);
            var picture = PartView.Draw(followed.Of(open).Scene, from, 520, 380);
            return Results.Text(picture.ToSvg(), "image/svg+xml");
        }
        catch (InputFault fault)
        {
            return Results.Problem(fault.Message, statusCode: StatusCodes.Status422UnprocessableEntity);
        }
    }

    static IResult Bytes(byte[] bytes) => Results.Bytes(bytes, "application/octet-stream");

    static IResult NotThere() => Results.Problem(Gone, statusCode: StatusCodes.Status409Conflict);
}
