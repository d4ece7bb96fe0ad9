using Handwheel.Jobs.CuttingTables;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Choices of one check.</summary>
public sealed record CheckOptions
{
    /// <summary>True: blocks that begin with a slash are skipped.</summary>
    public bool BlockDelete { get; init; }

    /// <summary>Finds a subprogram that is not in the file, or null.</summary>
    public Func<CalledProgram, FoundProgram?>? Subprogram { get; init; }

    /// <summary>Values of parameters that only the person at the control can know.</summary>
    public IReadOnlyDictionary<int, double> Parameters { get; init; } = new Dictionary<int, double>();

    /// <summary>Executed blocks after which following stops with <c>never-ends</c>.</summary>
    public long BlocksMost { get; init; } = 50_000_000;

    /// <summary>Largest program, bytes.</summary>
    public long BytesMost { get; init; } = 256L * 1024 * 1024;

    /// <summary>True: the stock is followed as it is cut.</summary>
    public bool Material { get; init; } = true;

    /// <summary>Distance of the grid's points over the stock where the setup does not say.</summary>
    public Length MaterialGrid { get; init; } = Length.From(0.5m, Units.Millimetre);

    /// <summary>Largest program whose material is followed, bytes; above it that is left out, and said.</summary>
    public long MaterialBytesMost { get; init; } = 4L * 1024 * 1024;

    /// <summary>Cutting speeds, chip loads and depths; null: the built-in table.</summary>
    public CuttingTable? CuttingTable { get; init; }
    public CancellationToken Stop { get; init; }
}
