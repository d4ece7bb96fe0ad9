using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// Figures beside a step that are there to be compared. A way to go that has the same digits as a machine Z that is read
/// blind is given coarsely (<see cref="WayToGo"/>), before that reading and after it, so that a step keeps its figures.
/// </summary>
static class Figures
{
    public static IReadOnlyList<Figure> For(Course course, StepRule rule)
    {
        if (rule.Expects == Expects.Raised && course.Raise is { } raise)
            return [new(Said.In("Raise, Z up"), "+" + raise.ToRegisterText(course.Units), course.Units.Symbol())];
        if (rule.Tool is not { } tool)
            return [];
        var last = rule.Id[(rule.Id.LastIndexOf('.') + 1)..];
        Figure?[] figures = (rule.Phase, last) switch
        {
            (Phase.AirCut, "position") =>
            [
                Of(course, Said.In("X to go"), tool.Position?.DistanceToGoX),
                Of(course, Said.In("Y to go"), tool.Position?.DistanceToGoY),
            ],
            (Phase.AirCut, "approach") =>
            [
                ZToGo(course, tool, ToGo(course, tool.Approach)),
                Of(course, Said.In("air under the tip at its end"), Air(course, tool.Approach)),
                AirWhenHeld(course, Air(course, tool.Approach)),
            ],
            (Phase.AirCut, "gauge") => Block(course, tool.Approach),
            (Phase.AirCut, "handwheel") => [ZToGo(course, tool, tool.Approach?.DistanceToGoZ)],
            (Phase.FirstCut, "entry") => [Of(course, Said.In("Z to go"), tool.Entry?.DistanceToGoZ)],
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
                && Expected.Of(course, rule) is { } expected
                && Length.Abs(expected) == Length.Abs(way)
            )
                blind = expected;
        return WayToGo.Text(way, blind, course.Units) is { } text
            ? new(Said.In("Z to go"), text, course.Units.Symbol())
            : null;
    }

    static Length? Air(Course course, PlannedStop? approach) =>
        approach?.AirBelowRaised + (course.Raise - course.Plan.AirCut.Suggested);

    /// <summary>What is under the tip where the approach is held: an inch, or 25 mm, higher; as coarse as an eye compares it.</summary>
    static Figure? AirWhenHeld(Course course, Length? airAtEnd)
    {
        if (airAtEnd is not { } air)
            return null;
        var (before, decimals) = course.Units == Units.Inch ? (1m, 1) : (25m, 0);
        var held = (air + Length.From(before, course.Units)).ToString(course.Units, decimals);
        var name = Said.In($"air under the tip when held {before} {course.Units.Symbol()} before its end");
        return new(name, Said.In("about ") + held, course.Units.Symbol());
    }

    static Figure?[] Block(Course course, PlannedStop? approach)
    {
        if (Air(course, approach) is not { } air)
            return [Of(course, Said.In("tip above part zero"), approach?.TipAbovePartZero + course.Raise)];
        var block = GaugeBlocks.For(air, course.Units);
        return
        [
            Of(course, Said.In("air under the tip"), air),
            block is null ? null : new(Said.In("gauge block and feeler"), block, course.Units.Symbol()),
        ];
    }

    static Figure? Of(Course course, string name, Length? value) =>
        value is { } v ? new(name, v.ToRegisterText(course.Units), course.Units.Symbol()) : null;
}
