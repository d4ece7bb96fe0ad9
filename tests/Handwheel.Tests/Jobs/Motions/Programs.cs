using System.Globalization;
using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Setups;
using Handwheel.Tests.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Motions;

/// <summary>Programs of a few tools, written from plain moves so that a test can change one of them.</summary>
static class Programs
{
    public static readonly Setup Setup = Of("-18");

    /// <summary>Four tools under G54; <paramref name="z"/> is the work offset's Z.</summary>
    public static Setup Of(string z, string machine = "") =>
        Checking.Setups.From(
            "inch",
            "["
                + string.Join(
                    ',',
                    Enumerable
                        .Range(1, 5)
                        .Select(n =>
                            $$"""{ "tool": {{n}}, "diameter": 0.5, "lengthOffset": {{n}}, "length": {{n + 2}} }"""
                        )
                )
                + "]",
            machine,
            offsets: $$"""{ "G54": { "x": -20, "y": -10, "z": {{z}} }, "G55": { "x": -10, "y": -10, "z": {{z}} } }"""
        );

    public static FollowedProgram Followed(string program, Setup? setup = null) =>
        new("test.nc", Encoding.UTF8.GetBytes(program), setup ?? Setup, new CheckOptions());

    public static IReadOnlyList<ToolCompared> Compare(string before, string after, Setup? setup = null) =>
        MotionComparison.Of(Followed(before, setup), Followed(after, setup));

    /// <summary>The tools that are not as before.</summary>
    public static int[] Changed(string before, string after) =>
        [.. Compare(before, after).Where(t => t.Change != ToolChange.Same).Select(t => t.Tool).Order()];

    /// <summary>A tool that comes in, goes down and cuts the moves given, and goes home.</summary>
    public static string Tool(int number, params string[] moves) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"""
            T{number} M6
            G90 G54 G0 X0.5 Y0.5 S2000 M3
            G43 H{number} Z1. M8
            G0 Z0.1
            {string.Join('\n', moves)}
            G0 Z1. M9
            G53 G0 Z0
            G53 X-5. Y-5.

            """
        );

    public static string Whole(params string[] tools) =>
        "%\nO1234 (TEST)\nG20 G17 G40 G49 G80 G90\n" + string.Concat(tools) + "M30\n%\n";
}
