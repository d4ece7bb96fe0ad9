using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;
using Handwheel.Web.Shell;

namespace Handwheel.Web.Features.PathView;

/// <summary>
/// What the path page says about a block. A machine Z is never in it; a way that has the digits of one is given as coarsely as an eye
/// compares it, as in the table of stops.
/// </summary>
public sealed record BlockShown
{
    public required int Block { get; init; }
    public required int Line { get; init; }

    /// <summary>Null: the main program.</summary>
    public required string? File { get; init; }
    public required int Tool { get; init; }
    public required string WorkOffset { get; init; }
    public required IReadOnlyList<string> Modal { get; init; }

    /// <summary>X, Y, Z at the end of the block, from the zero of the work offset.</summary>
    public required IReadOnlyList<string> At { get; init; }

    /// <summary>X, Y, Z at the start of the block.</summary>
    public required IReadOnlyList<string> ToGo { get; init; }

    /// <summary>Z in the air cut.</summary>
    public required string ToGoRaised { get; init; }

    /// <summary>What has to be known with these figures; empty: nothing.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>All of it as one would read it out.</summary>
    public required string Words { get; init; }

    const string AsOnDisplay = "as on the display";

    public static BlockShown Of(FollowedJob job, BlockReadings read)
    {
        var units = job.Setup.Units;
        var at = new[]
        {
            Shown.Register(read.At.X, units),
            Shown.Register(read.At.Y, units),
            read.ZFromWorkOffset ? Shown.Register(read.At.Z, units) : Shown.NotKnown,
        };
        var toGo = new[]
        {
            Shown.Register(read.DistanceToGo.X, units),
            Shown.Register(read.DistanceToGo.Y, units),
            WayInZ(read, read.DistanceToGo.Z, job),
        };
        var raised = WayInZ(read, read.DistanceToGoRaised.Z, job);
        var notes = ToKnow(job, read).ToList();
        return new()
        {
            Block = read.Block,
            Line = read.Line,
            File = job.FileName(read.File),
            Tool = read.Tool,
            WorkOffset = read.WorkOffset,
            Modal = read.Modal,
            At = at,
            ToGo = toGo,
            ToGoRaised = raised,
            Notes = notes,
            Words = string.Create(
                CultureInfo.InvariantCulture,
                $"Block {read.Block} of {job.Track.Blocks}, line {read.Line}, {NameOf(read.Tool)}. Tip at X {Said(at[0])}, Y {Said(at[1])}, Z {Said(at[2])} from {read.WorkOffset}. To go X {Said(toGo[0])}, Y {Said(toGo[1])}, Z {Said(toGo[2])}. {string.Join(" ", notes)}"
            ),
        };
    }

    static string NameOf(int tool) =>
        tool > 0 ? string.Create(CultureInfo.InvariantCulture, $"T{tool}") : "no tool yet";

    static string Said(string value) => value == Shown.NotKnown ? "not known" : value;

    /// <summary>From or to a place that no work offset gave, the way may have the digits of a machine Z that is read blind.</summary>
    static string WayInZ(BlockReadings read, decimal? way, FollowedJob job)
    {
        if (way is not { } z)
            return Shown.NotKnown;
        var units = job.Setup.Units;
        var toGo = Length.From(z, units);
        var raise = job.Raise is { } nm ? Length.FromNanometres(nm) : default;
        Length?[] blind =
        [
            .. new[] { (read.MachineFrom.Z, read.FromLifted), (read.MachineTo.Z, read.ToLifted) }.SelectMany(end =>
                end.Item1 is { } machine
                    ? new Length?[]
                    {
                        Length.From(machine, units),
                        end.Item2 ? Length.From(machine, units) + raise : null,
                    }
                    : []
            ),
        ];
        var same = Array.Find(blind, m => m is { } machine && Length.Abs(machine) == Length.Abs(toGo));
        return WayToGo.Text(toGo, same, units) ?? AsOnDisplay;
    }

    static IEnumerable<string> ToKnow(FollowedJob job, BlockReadings read)
    {
        if (job.Track.GuessedFrom is { } from && read.Block >= from)
            yield return "The check could not follow the program up to here: this is a guess.";
        if (!read.ZFromWorkOffset && read.MachineTo.Z is not null)
            yield return "Z stands where no work offset put it.";
        else if (read.At.Z is null)
            yield return "Z is not known: no length offset has been commanded for this tool, or a register is not given.";
        if (read.Beside)
            yield return "X and Y are the tool's centre; a control may show the programmed place.";
    }
}
