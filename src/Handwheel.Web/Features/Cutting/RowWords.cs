using System.Globalization;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Nc;

namespace Handwheel.Web.Features.Cutting;

/// <summary>How rows of the cutting table are shown.</summary>
static class RowWords
{
    public static string Figure(CuttingRow row) =>
        row.Figure switch
        {
            CuttingFigure.CuttingSpeed => "cutting speed",
            CuttingFigure.FeedPerTooth => "feed a tooth",
            CuttingFigure.FeedPerRevolution => "feed a turn",
            _ => "depth at once",
        };

    public static string Unit(CuttingRow row) =>
        (row.Figure, row.Units) switch
        {
            (CuttingFigure.DepthOfCut, _) => "diameters",
            (CuttingFigure.CuttingSpeed, Units.Inch) => "ft/min",
            (CuttingFigure.CuttingSpeed, _) => "m/min",
            (_, Units.Inch) => "in",
            _ => "mm",
        };

    public static string Range(CuttingRow row) =>
        (row.Least, row.Most) switch
        {
            ({ } least, { } most) => $"{Text(least)} to {Text(most)}",
            ({ } least, null) => $"{Text(least)} or more",
            (_, { } most) => $"up to {Text(most)}",
            _ => "",
        };

    public static string Diameters(CuttingRow row) =>
        (row.DiameterFrom?.In(row.Units), row.DiameterTo?.In(row.Units)) switch
        {
            ({ } from, { } to) => $"{Text(from)} to {Text(to)} {row.Units.Symbol()}",
            ({ } from, null) => $"{Text(from)} {row.Units.Symbol()} and up",
            (null, { } to) => $"up to {Text(to)} {row.Units.Symbol()}",
            _ => "any",
        };

    public static string Kind(SourceKind kind) =>
        kind switch
        {
            SourceKind.Published => "published",
            SourceKind.CommonPractice => "common practice",
            _ => "the shop's own",
        };

    static string Text(decimal value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
