using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>A place in setup space, in the setup's units.</summary>
public readonly record struct Place3(double X, double Y, double Z);

/// <summary>Moves of one tool that follow each other, all rapids or all cuts; the tip, in setup space.</summary>
public sealed record TipRun(int Tool, bool Rapid, IReadOnlyList<Place3> Tip);

/// <summary>A box, or an upright cylinder, in setup space.</summary>
public sealed record Solid(string Name, bool Round, Place3 Min, Place3 Max);

/// <summary>Part zero of a work offset, in setup space.</summary>
public sealed record PartZero(string WorkOffset, Place3 At);

/// <summary>Where tool or holder come nearest to a piece of holding.</summary>
/// <param name="Number">As in the table of nearest passes.</param>
/// <param name="Holding">Its name.</param>
/// <param name="Radius">Of the tool; 0: not known, or it is the holder that comes near.</param>
public sealed record PassMark(int Number, string Holding, Place3 Tip, double Radius);

/// <summary>What the pictures show: everything in setup space, in the setup's units.</summary>
public sealed record Scene
{
    public required Units Units { get; init; }
    public required IReadOnlyList<TipRun> Path { get; init; }
    public required IReadOnlyList<Solid> Stock { get; init; }
    public required IReadOnlyList<Solid> Holding { get; init; }
    public required IReadOnlyList<PartZero> Zeros { get; init; }

    /// <summary>The machine's travel; X and Y of setup space are the machine's.</summary>
    public required Solid Travel { get; init; }

    /// <summary>How far the raised copy stands above the path; null draws none.</summary>
    public double? Raise { get; init; }

    /// <summary>The nearest pass to each piece of holding.</summary>
    public IReadOnlyList<PassMark> Passes { get; init; } = [];

    /// <summary>What is left of each blank; empty where that is not known.</summary>
    public IReadOnlyList<AsCutBlank> AsCut { get; init; } = [];

    /// <summary>What could not be placed, and why.</summary>
    public required IReadOnlyList<string> NotDrawn { get; init; }

    /// <summary>The highest top of stock and holding; null where none could be placed.</summary>
    public Solid? Tallest => Stock.Concat(Holding).OrderByDescending(s => s.Max.Z).FirstOrDefault();

    /// <summary>Much wider than it is deep: two or more fixtures beside each other.</summary>
    public bool IsWide
    {
        get
        {
            var all = Stock.Concat(Holding).ToList();
            return all.Count > 0
                && all.Max(s => s.Max.X) - all.Min(s => s.Min.X)
                    > 2.8 * (all.Max(s => s.Max.Y) - all.Min(s => s.Min.Y));
        }
    }

    /// <summary>With what the check found: the raise, the nearest passes, the stock as cut.</summary>
    public static Scene From(Setup setup, IReadOnlyList<TipRun> path, CheckResult check) =>
        From(setup, path, check.WorkOffsets.Select(w => w.Name), check.AirCut.SuggestedRaise) with
        {
            Passes = [.. check.NearestPasses.Select(p => Mark(setup, p)).OfType<PassMark>()],
            AsCut = check.AsCut.Blanks,
        };

    static PassMark? Mark(Setup setup, NearestPass pass)
    {
        if (!WorkOffsetName.TryParse(pass.WorkOffset, out var offset) || Zero(setup, offset) is not { } zero)
            return null;
        if (pass.At is not { X: { } x, Y: { } y, Z: { } z })
            return null;
        var tool = pass.Part == "tool" ? setup.Tools.FirstOrDefault(t => t.Number == pass.Tool) : null;
        return new(
            pass.Number,
            pass.Holding,
            new(zero.X + (double)x, zero.Y + (double)y, zero.Z + (double)z),
            (double)(tool?.Diameter?.In(setup.Units) ?? 0) / 2
        );
    }

    /// <summary>Blanks that stand far from each other one by one, each with what stands nearest to it; else the whole.</summary>
    public IReadOnlyList<Scene> ByBlank()
    {
        if (!IsWide || Stock.Count < 2)
            return [this];
        var scenes = new List<Scene>();
        for (var i = 0; i < Stock.Count; i++)
        {
            var (blank, holding) = (Stock[i], Holding.Where(h => Nearest(h.Min, h.Max) == Stock[i]).ToList());
            scenes.Add(
                this with
                {
                    Stock = [blank],
                    AsCut = i < AsCut.Count ? [AsCut[i]] : [],
                    Holding = holding,
                    Zeros = [.. Zeros.Where(z => Nearest(z.At, z.At) == blank)],
                    Path = [.. Path.Where(r => r.Rapid || Nearest(Low(r), High(r)) == blank)],
                    Passes = [.. Passes.Where(p => holding.Exists(h => h.Name == p.Holding))],
                }
            );
        }
        return scenes;
    }

    static Place3 Low(TipRun run) => new(run.Tip.Min(p => p.X), run.Tip.Min(p => p.Y), 0);

    static Place3 High(TipRun run) => new(run.Tip.Max(p => p.X), run.Tip.Max(p => p.Y), 0);

    Solid Nearest(Place3 low, Place3 high) =>
        Stock.MinBy(s =>
            Math.Max(0, Math.Max(s.Min.X - high.X, low.X - s.Max.X))
            + Math.Max(0, Math.Max(s.Min.Y - high.Y, low.Y - s.Max.Y))
        )!;

    /// <param name="used">Work offsets that the program uses; their zeros are drawn.</param>
    public static Scene From(Setup setup, IReadOnlyList<TipRun> path, IEnumerable<string> used, decimal? raise)
    {
        var notDrawn = new List<string>();
        var stock = new List<Solid>();
        foreach (var s in setup.Stock)
        {
            if (Zero(setup, s.WorkOffset) is { } zero)
                stock.Add(new("stock", false, Add(zero, s.Min, setup.Units), Add(zero, s.Max, setup.Units)));
            else
                notDrawn.Add($"stock: the setup gives no full {s.WorkOffset}");
        }
        var holding = new List<Solid>();
        foreach (var h in setup.Holding)
        {
            if (Zero(setup, h.WorkOffset) is { } zero)
                holding.Add(Held(h, zero, setup.Units));
            else
                notDrawn.Add($"{h.Name}: the setup gives no full {h.WorkOffset}");
        }
        var zeros = new List<PartZero>();
        foreach (var name in used)
        {
            if (WorkOffsetName.TryParse(name, out var register) && Zero(setup, register) is { } at)
                zeros.Add(new(name, at));
        }
        return new()
        {
            Units = setup.Units,
            Path = path,
            Stock = stock,
            Holding = holding,
            Zeros = zeros,
            Travel = TravelOf(setup),
            Raise = (double?)raise,
            NotDrawn = notDrawn,
        };
    }

    static Solid TravelOf(Setup setup)
    {
        var (x, y, z) = (setup.Machine.Travel.X, setup.Machine.Travel.Y, setup.Machine.Travel.Z);
        return new(
            "travel",
            false,
            Add(default, new(x.Low, y.Low, z.Low), setup.Units),
            Add(default, new(x.High, y.High, z.High), setup.Units)
        );
    }

    static Solid Held(Holding holding, Place3 zero, Units units) =>
        holding switch
        {
            BoxHolding box => new(box.Name, false, Add(zero, box.Min, units), Add(zero, box.Max, units)),
            CylinderHolding round => new(
                round.Name,
                true,
                Add(zero, Corner(round, -1), units),
                Add(zero, Corner(round, 1), units)
            ),
            _ => throw new ArgumentException(
                $"A holding of the unknown shape {holding.GetType().Name}.",
                nameof(holding)
            ),
        };

    static Point Corner(CylinderHolding round, int side)
    {
        var radius = Length.FromNanometres(round.Diameter.Nanometres / 2 * side);
        return new(round.CentreX + radius, round.CentreY + radius, side < 0 ? round.Bottom : round.Top);
    }

    static Place3? Zero(Setup setup, WorkOffsetName name) =>
        setup.WorkOffsets.TryGetValue(name, out var offset)
        && offset is { X: { } x, Y: { } y, Z: { } z }
        && setup.CommonOffset is { X: { } commonX, Y: { } commonY, Z: { } commonZ }
            ? Add(default, new(x + commonX, y + commonY, z + commonZ), setup.Units)
            : null;

    static Place3 Add(Place3 zero, Point point, Units units) =>
        new(zero.X + (double)point.X.In(units), zero.Y + (double)point.Y.In(units), zero.Z + (double)point.Z.In(units));
}
