namespace Handwheel.Jobs.Checking;

/// <summary>The stock as the program leaves it.</summary>
/// <param name="Blanks">In the setup's order; empty where it is not known.</param>
/// <param name="Why">Why it is not known, in words; null where it is.</param>
public sealed record AsCut(IReadOnlyList<AsCutBlank> Blanks, string? Why)
{
    /// <summary>The same blanks on a coarser grid, each cell as high as its highest point: nothing is lower here than what is left.</summary>
    public IReadOnlyList<AsCutBlank> NowhereLower { get; init; } = [];

    public static AsCut NotShown(string why) => new([], why);
}

/// <summary>What is left of one blank, as heights over a grid. Places in setup space, in the setup's units.</summary>
public sealed record AsCutBlank
{
    public required double MinX { get; init; }
    public required double MaxX { get; init; }
    public required double MinY { get; init; }
    public required double MaxY { get; init; }
    public required double Bottom { get; init; }

    /// <summary>Of the blank before anything is cut.</summary>
    public required double Height { get; init; }
    public required int Columns { get; init; }
    public required int Rows { get; init; }

    /// <summary>Above <see cref="Bottom"/>, row by row from the front left corner; 0: nothing is left there.</summary>
    public required ReadOnlyMemory<float> Heights { get; init; }
}
