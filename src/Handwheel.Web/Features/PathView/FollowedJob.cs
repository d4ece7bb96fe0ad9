using Handwheel.Data;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Sheets.Pictures;
using Microsoft.Extensions.Caching.Memory;

namespace Handwheel.Web.Features.PathView;

/// <summary>A job's program as it was followed, with all that its path page asks for while somebody goes through it.</summary>
public sealed class FollowedJob
{
    readonly Dictionary<string, ProgramListing> listings = new(StringComparer.Ordinal);
    readonly OpenedJob open;
    readonly RunOptions options;
    readonly Lazy<byte[]> whole;
    readonly Lazy<Scene> scene;

    FollowedJob(OpenedJob open)
    {
        this.open = open;
        options = open.RunOptions();
        Track = BlockTrack.Of(open.Program.Bytes, open.Setup, options);
        whole = new(() => PathBytes.Whole(Track, Setup.Units));
        scene = new(() => Scene.From(Setup, TipPath.Of(Track.Path, Setup.Units), Check));
    }

    public BlockTrack Track { get; }
    public Setup Setup => open.Setup;
    public CheckResult Check => open.Check;

    /// <summary>The bytes of the first picture, made once.</summary>
    public byte[] Whole => whole.Value;

    /// <summary>What the flat views show.</summary>
    public Scene Scene => scene.Value;

    /// <summary>The same for the same program, subprograms, setup and said values: what a page was made from.</summary>
    public string Digest => DigestOf(open);

    public static FollowedJob Of(OpenedJob open) => new(open);

    public static string DigestOf(OpenedJob open)
    {
        var parts = open
            .Subprograms.Select(s => s.Name + ' ' + StoredFile.Digest(s.Bytes))
            .Concat(open.Said.Select(v => $"{v.Name}={v.Typed}"))
            .Prepend(open.SetupSha256)
            .Prepend(open.ProgramSha256);
        return StoredFile.Digest(System.Text.Encoding.UTF8.GetBytes(string.Join('\n', parts)))[..20];
    }

    /// <summary>The name of a file that was followed; null: the main program.</summary>
    public string? FileName(int file) =>
        file > 0 && file <= Check.Program.Subprograms.Count ? Check.Program.Subprograms[file - 1].File : null;

    /// <summary>The number of a file by its name, as in the path; null: it was not followed.</summary>
    public int? FileNumber(string? name)
    {
        if (name is null)
            return 0;
        for (var i = 0; i < Check.Program.Subprograms.Count; i++)
            if (Check.Program.Subprograms[i].File == name)
                return i + 1;
        return null;
    }

    public ProgramListing? Listing(string? name)
    {
        var file = name is null ? open.Program : open.Subprograms.FirstOrDefault(s => s.Name == name);
        if (file is null)
            return null;
        lock (listings)
            return listings.TryGetValue(file.Name, out var listing)
                ? listing
                : listings[file.Name] = new ProgramListing(file.Bytes);
    }

    public BlockReadings? At(int block) => BlockReadings.Follow(open.Program.Bytes, Setup, options, block, Raise);

    /// <summary>nm.</summary>
    public long? Raise => Check.AirCut.SuggestedRaise is { } raise ? Length.From(raise, Setup.Units).Nanometres : null;

    /// <summary>In bytes, about.</summary>
    internal long Weight => 16L * Track.Path.Count + 12L * Track.Blocks + 2L * open.Program.Bytes.Length + Drawn;

    /// <summary>The outline in bytes and as the flat views have it.</summary>
    const long Drawn = 4_000_000;
}

/// <summary>
/// Keeps the programs that people are looking at, so that going through one costs no reading of files. They are known by what they were made
/// from, so nothing here grows old; what is not there is made again.
/// </summary>
public sealed class FollowedJobs(JobReader jobs) : IDisposable
{
    const long BytesMost = 120_000_000;

    static readonly TimeSpan Kept = TimeSpan.FromMinutes(10);

    readonly MemoryCache cache = new(new MemoryCacheOptions { SizeLimit = BytesMost });

    public FollowedJob Of(OpenedJob open)
    {
        var digest = FollowedJob.DigestOf(open);
        return cache.TryGetValue<FollowedJob>(Key(open.Job.Number, digest), out var kept) && kept is not null
            ? kept
            : Keep(open.Job.Number, FollowedJob.Of(open));
    }

    /// <summary>Null: there is no such job, or its program or setup is another one by now.</summary>
    public async Task<FollowedJob?> Of(int number, string digest)
    {
        if (cache.TryGetValue<FollowedJob>(Key(number, digest), out var kept) && kept is not null)
            return kept;
        if (await jobs.OpenNumber(number) is not { } open || FollowedJob.DigestOf(open) != digest)
            return null;
        return Keep(number, FollowedJob.Of(open));
    }

    FollowedJob Keep(int number, FollowedJob followed)
    {
        using var entry = cache.CreateEntry(Key(number, followed.Digest));
        entry.Value = followed;
        entry.Size = Math.Min(followed.Weight, BytesMost);
        entry.SlidingExpiration = Kept;
        return followed;
    }

    static (int Number, string Digest) Key(int number, string digest) => (number, digest);

    public void Dispose() => cache.Dispose();
}
