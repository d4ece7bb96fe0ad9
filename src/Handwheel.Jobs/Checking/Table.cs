using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>A piece of stock or of holding where the setup's registers put it, in setup space (nm).</summary>
sealed class Solid
{
    public required string Name { get; init; }
    public bool IsStock { get; init; }

    /// <summary>A cylinder standing upright; else a box.</summary>
    public bool Round { get; init; }
    public double MinX { get; init; }
    public double MaxX { get; init; }
    public double MinY { get; init; }
    public double MaxY { get; init; }
    public long Bottom { get; init; }
    public long Top { get; init; }

    /// <summary>X and Y (Z) of the work offset and of the common offset are given.</summary>
    public bool PlaceKnown { get; init; }
    public bool HeightKnown { get; init; }

    public double CentreX => (MinX + MaxX) / 2;
    public double CentreY => (MinY + MaxY) / 2;
    public double Radius => (MaxX - MinX) / 2;

    /// <summary>From a rectangle to the outline, seen from above; 0 where they meet.</summary>
    public double Distance(double minX, double maxX, double minY, double maxY) =>
        Round
            ? Math.Max(0, Hypotenuse(CentreX - maxX, minX - CentreX, CentreY - maxY, minY - CentreY) - Radius)
            : Hypotenuse(MinX - maxX, minX - MaxX, MinY - maxY, minY - MaxY);

    /// <summary>Of the gaps on each side, of which at most one along each axis is above zero.</summary>
    static double Hypotenuse(double left, double right, double front, double back)
    {
        var x = Math.Max(0, Math.Max(left, right));
        var y = Math.Max(0, Math.Max(front, back));
        return Math.Sqrt(x * x + y * y);
    }

    /// <summary>From a point to the outline, seen from above; 0 inside.</summary>
    public double Distance(double x, double y)
    {
        if (Round)
            return Math.Max(0, Math.Sqrt((x - CentreX) * (x - CentreX) + (y - CentreY) * (y - CentreY)) - Radius);
        var dx = Math.Max(0, Math.Max(MinX - x, x - MaxX));
        var dy = Math.Max(0, Math.Max(MinY - y, y - MaxY));
        return Math.Sqrt(dx * dx + dy * dy);
    }
}

/// <summary>What stands on the table. Stock and holding stay where the setup's registers put them, whatever the program writes.</summary>
sealed class Table
{
    readonly Setup setup;

    public Table(Setup setup)
    {
        this.setup = setup;
        Stock = [.. setup.Stock.Select(Place)];
        Holding = [.. setup.Holding.Select(Place)];
        IEnumerable<Solid> all = Stock.Concat(Holding);
        Described = all.Any();
        Unknown = all.FirstOrDefault(s => !s.HeightKnown);
        HighestTop = Described && Unknown is null ? all.Max(s => s.Top) : null;
        StockTop = Stock.Count > 0 && Stock.All(s => s.HeightKnown) ? Stock.Max(s => s.Top) : null;
    }

    public IReadOnlyList<Solid> Stock { get; }
    public IReadOnlyList<Solid> Holding { get; }
    public bool Described { get; }

    /// <summary>The first thing whose height rests on a register that is not given.</summary>
    public Solid? Unknown { get; }

    /// <summary>Highest top of stock or holding, setup space, nm; null when nothing is described or a height is not known.</summary>
    public long? HighestTop { get; }

    /// <summary>Highest top of the stock; null when there is none or it is not known.</summary>
    public long? StockTop { get; }

    /// <summary>The work offset's Z and the common offset's are given.</summary>
    public bool KnowsZ(WorkOffsetName offset) =>
        setup.WorkOffsets.TryGetValue(offset, out var value) && value.Z is not null && setup.CommonOffset.Z is not null;

    /// <summary>The highest thing under a circle; a thing that the circle only touches is not under it.</summary>
    public Solid? Under(double x, double y, double radius)
    {
        Solid? highest = null;
        foreach (var solid in Stock.Concat(Holding))
        {
            var distance = solid.Distance(x, y);
            if (distance < radius || distance == 0)
                highest = highest is null || solid.Top > highest.Top ? solid : highest;
        }
        return highest;
    }

    /// <summary>Null: everything has a place; else the thing whose place or height is not known.</summary>
    public Solid? Unplaced => Stock.Concat(Holding).FirstOrDefault(s => !s.PlaceKnown || !s.HeightKnown);

    Solid Place(Stock stock) => Box("stock", true, stock.WorkOffset, stock.Min, stock.Max);

    Solid Place(Holding holding) =>
        holding switch
        {
            BoxHolding box => Box(box.Name, false, box.WorkOffset, box.Min, box.Max),
            CylinderHolding round => Cylinder(round),
            _ => throw new NotSupportedException($"a shape of holding that has no outline: {holding.GetType().Name}"),
        };

    Solid Box(string name, bool isStock, WorkOffsetName offset, Point min, Point max)
    {
        var zero = Zero(offset);
        return new Solid
        {
            Name = name,
            IsStock = isStock,
            MinX = min.X.Nanometres + zero.X.GetValueOrDefault(),
            MaxX = max.X.Nanometres + zero.X.GetValueOrDefault(),
            MinY = min.Y.Nanometres + zero.Y.GetValueOrDefault(),
            MaxY = max.Y.Nanometres + zero.Y.GetValueOrDefault(),
            Bottom = min.Z.Nanometres + zero.Z.GetValueOrDefault(),
            Top = max.Z.Nanometres + zero.Z.GetValueOrDefault(),
            PlaceKnown = zero.X is not null && zero.Y is not null,
            HeightKnown = zero.Z is not null,
        };
    }

    Solid Cylinder(CylinderHolding round)
    {
        var zero = Zero(round.WorkOffset);
        var x = round.CentreX.Nanometres + zero.X.GetValueOrDefault();
        var y = round.CentreY.Nanometres + zero.Y.GetValueOrDefault();
        var radius = round.Diameter.Nanometres / 2.0;
        return new Solid
        {
            Name = round.Name,
            Round = true,
            MinX = x - radius,
            MaxX = x + radius,
            MinY = y - radius,
            MaxY = y + radius,
            Bottom = round.Bottom.Nanometres + zero.Z.GetValueOrDefault(),
            Top = round.Top.Nanometres + zero.Z.GetValueOrDefault(),
            PlaceKnown = zero.X is not null && zero.Y is not null,
            HeightKnown = zero.Z is not null,
        };
    }

    /// <summary>Where the setup's registers put the zero of a work offset, setup space, nm.</summary>
    public OffsetValue Zero(WorkOffsetName offset)
    {
        if (offset == WorkOffsetName.Common || !setup.WorkOffsets.TryGetValue(offset, out var work))
            return default;
        var common = setup.CommonOffset;
        return new(Sum(work.X, common.X), Sum(work.Y, common.Y), Sum(work.Z, common.Z));
    }

    static long? Sum(Length? a, Length? b) => a is { } first && b is { } second ? (first + second).Nanometres : null;
}
