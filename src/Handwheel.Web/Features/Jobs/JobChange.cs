using Handwheel.Data;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Features.Jobs;

/// <summary>What is changed on a job.</summary>
/// <param name="Why">Goes into the record where a prove-out is under way.</param>
abstract record JobChange(string Why)
{
    /// <summary>The program is another one; otherwise what it is run with.</summary>
    public abstract bool OfProgram { get; }

    /// <summary>The reason as the record has it.</summary>
    public virtual string Reason(OpenedJob before) => Why.Trim();

    /// <summary>The job as it would be, its files not yet read.</summary>
    /// <exception cref="InputFault">A file is not what it should be.</exception>
    public abstract OpenedJob Applied(OpenedJob job);
}

/// <summary>Another program or setup in the place of the one in use.</summary>
/// <param name="Complete">The setup is no draft any more.</param>
sealed record FileChange(JobFileKind Kind, Upload File, string Why, bool Complete) : JobChange(Why)
{
    public override bool OfProgram => Kind == JobFileKind.Program;

    public override OpenedJob Applied(OpenedJob job) =>
        Kind == JobFileKind.Program ? job with { Program = File } : job with { SetupFile = File };
}

/// <summary>Subprogram files that come, replace others of the same name, or go.</summary>
sealed record SubprogramChange(IReadOnlyList<Upload> Added, IReadOnlyList<string> Removed, string Why) : JobChange(Why)
{
    public override bool OfProgram => true;

    /// <summary>The names of the files that are no longer in use.</summary>
    public HashSet<string> Gone => [.. Removed, .. Added.Select(f => f.Name)];

    public override OpenedJob Applied(OpenedJob job)
    {
        foreach (var file in Added)
            ProgramFile.Refuse(file.Bytes, file.Name, new CheckOptions().BytesMost);
        var gone = Gone;
        return job with
        {
            Subprograms =
            [
                .. job
                    .Subprograms.Where(f => !gone.Contains(f.Name))
                    .Concat(Added)
                    .OrderBy(f => f.Name, StringComparer.Ordinal),
            ],
        };
    }
}

/// <summary>The value of a parameter that only the control knows; empty: nobody says one any more.</summary>
sealed record ParameterChange(int Number, string Typed, string From) : JobChange(From)
{
    public override bool OfProgram => false;

    public override string Reason(OpenedJob before)
    {
        var was = before.Said.FirstOrDefault(v => v.Number == Number);
        var name = "#" + Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var now = Typed.Length > 0 ? $"{name} is taken as {Typed}" : $"{name} is not known any more";
        return $"{now}{(was is null ? "" : $", it was {was.Typed}")}: {From}";
    }

    public override OpenedJob Applied(OpenedJob job)
    {
        var others = job.Said.Where(v => v.Number != Number);
        return job with
        {
            Said = Typed.Length > 0 ? [.. others, new SaidValue(Number, Typed, From, "", default)] : [.. others],
        };
    }
}
