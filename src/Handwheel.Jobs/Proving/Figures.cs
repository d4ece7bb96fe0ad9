using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// Figures beside a step that are there to be compared. A way to go that has the same digits as a machine Z still to be read
/// blind is given coarsely until that was read (<see cref="WayToGo"/>).
/// </summary>
static class Figures
{
    public static IReadOnlyList<Figure> For(Course course, StepRule rule)
    {
        if (rule.Expects == Expects.Raised && course.Raise is { } raise)
            return [Of(course, "Raise", raise)!];
        if (rule.Tool is not { } tool)
            return [];
        var last = rule.Id[(rule.Id.LastIndexOf('.') + 1)..];
        Figure?[] figures = (rule.Phase, last) switch
        {
            (Phase.AirCut, "position") =>
            [
                Of(course, "X to go", tool.Position?.DistanceToGoX),
                Of(course, "Y to go", tool.Position?.DistanceToGoY),
            ],
            (Phase.AirCut, "approach") =>
            [
                ZToGo(course, tool, ToGo(course, tool.Approach)),
                Of(course, "air under the tip at its end", Air(course, tool.Approach)),
            ],
            (Phase.AirCut, "gauge") => Block(course, tool.Approach),
            (Phase.AirCut, "handwheel") => [ZToGo(course, tool, tool.Approach?.DistanceToGoZ)],
            (Phase.FirstCut, "entry") => [Of(course, "Z to go", tool.Entry?.DistanceToGoZ)],
            _ => [],
        };
        return [.. figures.OfType<Figure>()];
    }

    /// <summary>From a height of the machine the way is shorter by the raise; from a height in work coordinates it is the same.</summary>
    static Length? ToGo(Course course, PlannedStop? approach)
    {
        if (approach is not { DistanceToGoZ: { } toGo, DistanceToGoRaisedZ: { } raised })
            return null;
        return raised == toGo && course.Plan.AirCut.Suggested != Length.Zero ? toGo : toGo + course.Raise;
    }

    static Figure? ZToGo(Course course, PlannedTool tool, Length? toGo)
    {
        if (toGo is not { } way)
            return null;
        Length? blind = null;
        foreach (var id in (string[])[$"air-cut.tool.{tool.Key}.machine-z", $"first-cut.tool.{tool.Key}.machine-z"])
            if (
                course.Table.Find(id) is { } rule
                && !course.IsDone(id)
                && Expected.Of(course, rule) is { } expected
                && Length.Abs(expected) == Length.Abs(way)
            )
                blind = expected;
        return WayToGo.Text(way, blind, course.Units) is { } text ? new("Z to go", text, course.Units.Symbol()) : null;
    }

    static Length? Air(Course course, PlannedStop? approach) =>
        approach?.AirBelowRaised + (course.Raise - course.Plan.AirCut.Suggested);

    static Figure?[] Block(Course course, PlannedStop? approach)
    {
        if (Air(course, approach) is not { } air)
            return [Of(course, "tip above part zero", approach?.TipAbovePartZero + course.Raise)];
        var block = GaugeBlocks.For(air, course.Units);
        return
        [
            Of(course, "air under the tip", air),
            block is null ? null : new("gauge block and feeler", block, course.Units.Symbol()),
        ];
    }

    static Figure? Of(Course course, string name, Length? value) =>
        value is { } v ? new(name, v.ToRegisterText(course.Units), course.Units.Symbol()) : null;
}
