using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Tests.Features.Jobs;

/// <summary>A check result put together by hand, so that a component's test does not rest on the checks.</summary>
static class SampleCheck
{
    static readonly AxisValues Unknown = new(null, null, null);

    public static Finding Finding(Level level, int line, string id = "no-feed") =>
        new()
        {
            Id = id,
            Level = level,
            Line = line,
            Block = "N90 G1 X1.",
            Tool = 2,
            Message = $"what is so at line {line}",
            Remedy = $"what to do at line {line}",
        };

    public static Stop Approach { get; } =
        new()
        {
            Number = 2,
            Kind = "approach",
            Tool = 3,
            LengthOffset = 3,
            WorkOffset = "G55",
            Line = 9,
            Block = "N90 G43 H3 Z0.25",
            From = Unknown,
            To = Unknown,
            MachineTo = new(-22.5m, -9.25m, -12.8125m),
            MachineToRaised = new(-22.5m, -9.25m, -9.8125m),
            DistanceToGo = new(null, null, -12.8125m),
            DistanceToGoRaised = new(null, null, -9.8m),
            TipAbovePartZero = 0.25m,
            TipAbovePartZeroRaised = 3.25m,
            AirBelowRaised = 3.2m,
            Below = "stock",
            Gauge = "3.0000 + 0.2000",
        };

    public static NearestPass OverClamp { get; } =
        new()
        {
            Holding = "toe clamp, left",
            Tool = 3,
            Line = 84,
            Block = "N84 G0 X-2.",
            Distance = 0.212m,
            Side = "above",
            Part = "tool",
            Message = "T3 passes 0.2120 in above toe clamp, left, at line 84",
        };

    public static ToolMaterial Slot { get; } =
        new()
        {
            Tool = 3,
            Removed = 1.25m,
            Depth = 0.3m,
            Width = null,
            RemovalRate = 0.625m,
        };
}
