using Handwheel.Nc;

namespace Handwheel.Jobs.CuttingTables;

/// <summary>
/// Which cutting speeds, chip loads and depths a shop takes for right, by material and kind of tool: the document
/// <c>handwheel-cutting/1</c>. Every row names where its figures come from.
/// </summary>
public sealed record CuttingTable
{
    /// <summary>What people call the table.</summary>
    public required string Name { get; init; }
    public required IReadOnlyList<CuttingSource> Sources { get; init; }

    /// <summary>Materials of stock.</summary>
    public required IReadOnlyList<NamedMaterial> Materials { get; init; }

    /// <summary>What the edge of a tool is made of.</summary>
    public required IReadOnlyList<NamedMaterial> ToolMaterials { get; init; }
    public required IReadOnlyList<CuttingRow> Rows { get; init; }

    /// <summary>SHA-256, lower-case hex, of the canonical text (<see cref="CuttingFile.Write"/>): tells one version from another.</summary>
    public string Sha256 => CuttingFile.Digest(this);
}

/// <summary>A name, and the other words by which a setup may call the same thing; small and capital letters do not matter.</summary>
public sealed record NamedMaterial(string Name, IReadOnlyList<string> AlsoCalled);

public enum SourceKind
{
    /// <summary>Printed somewhere that can be named.</summary>
    Published,

    /// <summary>What is usual, with no source that could be named.</summary>
    CommonPractice,

    /// <summary>The shop's own experience.</summary>
    ShopsOwn,
}

/// <param name="Id">A short word that rows use.</param>
/// <param name="Name">Title and place, as one would cite it.</param>
/// <param name="Note">How the figures were taken from it; may be empty.</param>
public sealed record CuttingSource(string Id, SourceKind Kind, string Name, string Note);

public enum CuttingFigure
{
    /// <summary>Of the edge at the tool's diameter: ft/min or m/min.</summary>
    CuttingSpeed,

    /// <summary>Advance for each tooth, in or mm.</summary>
    FeedPerTooth,

    /// <summary>Advance for each turn, all lips together, in or mm.</summary>
    FeedPerRevolution,

    /// <summary>Depth taken at once, in diameters of the tool.</summary>
    DepthOfCut,
}

/// <summary>One range. An end that is null is open.</summary>
public sealed record CuttingRow
{
    public required CuttingFigure Figure { get; init; }

    /// <summary>Inch: ft/min and in; millimetre: m/min and mm. Diameters are in it too.</summary>
    public required Units Units { get; init; }

    /// <summary>One of the table's materials; null: any.</summary>
    public string? Material { get; init; }

    /// <summary>Kinds of tool, as the setup's <c>kind</c> has them; at least one.</summary>
    public required IReadOnlyList<string> Tools { get; init; }

    /// <summary>One of the table's tool materials; null: any.</summary>
    public string? ToolMaterial { get; init; }

    /// <summary>Smallest and largest diameter of the tool, both included; null: open.</summary>
    public Length? DiameterFrom { get; init; }
    public Length? DiameterTo { get; init; }
    public decimal? Least { get; init; }
    public decimal? Most { get; init; }

    /// <summary>Id of one of the table's sources.</summary>
    public required string Source { get; init; }

    /// <summary>Nanometres (per minute for a speed) in one unit of <see cref="Least"/> and <see cref="Most"/>; 1 for diameters.</summary>
    internal double Scale =>
        (Figure, Units) switch
        {
            (CuttingFigure.DepthOfCut, _) => 1,
            (CuttingFigure.CuttingSpeed, Units.Inch) => 304_800_000,
            (CuttingFigure.CuttingSpeed, _) => 1_000_000_000,
            (_, Units.Inch) => 25_400_000,
            _ => 1_000_000,
        };
}
