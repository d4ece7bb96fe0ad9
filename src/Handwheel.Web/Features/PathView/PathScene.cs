using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Features.PathView;

/// <summary>Somewhere in the program that a person may want to go to.</summary>
/// <param name="Block">Null: the line is never executed, so that there is no place of it in the picture.</param>
public sealed record Waypoint(int? Block, int Line, string? File, string Name, string Words);

/// <summary>All that the picture shows beside the path, in setup space and the setup's units; the same solids and looks as in the flat views.</summary>
public sealed record PathScene
{
    static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    public required string Unit { get; init; }

    /// <summary>Steps of 100 nm in one unit.</summary>
    public required double Steps { get; init; }
    public required int Decimals { get; init; }
    public required IReadOnlyList<Solid> Stock { get; init; }
    public required IReadOnlyList<Solid> Holding { get; init; }
    public required IReadOnlyList<PartZero> Zeros { get; init; }
    public required Solid Travel { get; init; }
    public required double? Raise { get; init; }
    public required IReadOnlyList<PassMark> Passes { get; init; }
    public required IReadOnlyList<PathTool> Tools { get; init; }
    public required IReadOnlyList<PathRate> Rates { get; init; }
    public required IReadOnlyList<PathFinding> Findings { get; init; }

    /// <summary>Blocks of the stops, in order and without repeats.</summary>
    public required IReadOnlyList<int> Stops { get; init; }

    /// <param name="Diameter">0: not known.</param>
    /// <param name="Length">Of the tool as drawn above its tip; 0: not known.</param>
    public sealed record PathTool(
        int Number,
        string Colour,
        IReadOnlyList<double> Dash,
        double Diameter,
        double Length
    );

    /// <summary>Cutting and rapid rate, units/min; both null: as programmed.</summary>
    public sealed record PathRate(string Words, decimal? Cut, decimal? Rapid);

    public sealed record PathFinding(
        int? Block,
        int Line,
        string? File,
        Level Level,
        string Id,
        string Message,
        string Remedy
    );

    /// <summary>Tools as they are drawn: by number, in the order in which they come in.</summary>
    public static PathScene Of(FollowedJob job)
    {
        var (setup, check, track) = (job.Setup, job.Check, job.Track);
        var scene = Scene.From(setup, [], check);
        return new()
        {
            Unit = setup.Units.Symbol(),
            Steps = (double)setup.Units.Nanometres() / PathSegment.Step,
            Decimals = setup.Units.RegisterDecimals(),
            Stock = scene.Stock,
            Holding = scene.Holding,
            Zeros = scene.Zeros,
            Travel = scene.Travel,
            Raise = scene.Raise,
            Passes = scene.Passes,
            Tools = ToolsOf(setup, track),
            Rates = [.. RatesOf(setup, track)],
            Findings = FindingsOf(job),
            Stops = [.. StopsOf(job).Select(s => s.Block).OfType<int>().Distinct().Order()],
        };
    }

    public string ToJson() => JsonSerializer.Serialize(this, Json);

    static IReadOnlyList<PathTool> ToolsOf(Setup setup, BlockTrack track) =>
        [
            .. ToolLook
                .For(track.Path.Runs.Where(r => r.Known).Select(r => r.Tool))
                .Select(look =>
                {
                    var tool = setup.Tools.FirstOrDefault(t => t.Number == look.Key);
                    return new PathTool(
                        look.Key,
                        look.Value.Colour,
                        look.Value.Dash,
                        (double)(tool?.Diameter?.In(setup.Units) ?? 0),
                        (double)((tool?.Stickout ?? tool?.FluteLength)?.In(setup.Units) ?? 0)
                    );
                }),
        ];

    static IEnumerable<PathRate> RatesOf(Setup setup, BlockTrack track)
    {
        if (track.TimeKnown)
            yield return new("as programmed", null, null);
        foreach (var rate in setup.Machine.AirCutRates)
        {
            var rapid = rate.Rapid * setup.AirCut.RapidOverride;
            if (rate.Cut > 0 && rapid > 0)
                yield return new(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"air cut: {rate.Cut:0.###} {setup.Units.Symbol()}/min, rapid {rapid:0.###}"
                    ),
                    rate.Cut,
                    rapid
                );
        }
    }

    static IReadOnlyList<PathFinding> FindingsOf(FollowedJob job)
    {
        var findings = job.Check.Findings;
        var lines = findings.Where(f => f.Line > 0).Select(f => (job.FileNumber(f.File) ?? -1, f.Line)).ToHashSet();
        var first = job.Track.FirstOf(lines);
        return
        [
            .. findings.Select(f => new PathFinding(
                first.TryGetValue((job.FileNumber(f.File) ?? -1, f.Line), out var block) ? block : null,
                f.Line,
                f.File,
                f.Level,
                f.Id,
                f.Message,
                f.Remedy
            )),
        ];
    }

    public static IReadOnlyList<Waypoint> StopsOf(FollowedJob job)
    {
        var stops = new List<Waypoint>();
        var from = 1;
        foreach (var stop in job.Check.Stops)
        {
            var file = job.FileNumber(stop.File) ?? -1;
            var block = job.Track.FirstOf(file, stop.Line, from) ?? job.Track.FirstOf(file, stop.Line);
            from = block ?? from;
            var name = string.Create(CultureInfo.InvariantCulture, $"Stop {stop.Number}: {stop.Kind}, T{stop.Tool}");
            stops.Add(new(block, stop.Line, stop.File, name, stop.Block));
        }
        return stops;
    }
}
