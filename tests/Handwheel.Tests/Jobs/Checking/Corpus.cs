using System.Globalization;
using System.Text;
using Handwheel.Jobs.Findings;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <param name="Hazard">The finding that must come of it; null: a clean program, which must have no stop.</param>
sealed record CorpusProgram(string Name, string Program, Setup Setup, string? Hazard);

/// <summary>
/// Programs made from seeds and written by hand, with a hazard planted in them or clean. The tests hold the bar (every hazard found, no stop
/// on a clean program), the bench prints the counts.
/// </summary>
static class Corpus
{
    const int CleanSeeds = 40;
    const int PlantedSeeds = 3;

    static readonly Setup SeedSetup = Setups.From(
        "inch",
        """
        [{ "tool": 2, "kind": "end mill", "diameter": 0.5, "fluteLength": 0.75, "stickout": 0.95, "lengthOffset": 2, "length": 5, "diameterOffset": 2, "diameterValue": 0, "holder": [{ "diameter": 1.75, "length": 2.5 }] },
         { "tool": 4, "kind": "drill", "diameter": 0.201, "fluteLength": 1.6, "stickout": 2.1, "lengthOffset": 4, "length": 5.4, "holder": [{ "diameter": 1.5, "length": 2 }] },
         { "tool": 5, "kind": "tap", "diameter": 0.25, "pitch": 0.05, "fluteLength": 1, "stickout": 2, "lengthOffset": 5, "length": 5.9, "holder": [{ "diameter": 1.75, "length": 2.25 }] }]
        """,
        """ "reference": { "x": 0, "y": 0, "z": 0 }, "maxSpindle": 10000, "maxFeed": 500, "rapid": { "x": 1000, "y": 1000, "z": 800 }, "rapidPath": "straight", "reads": { "peckClearance": 0.05 } """,
        """
        "stock": { "workOffset": "G54", "min": { "x": 0, "y": -3, "z": -1 }, "max": { "x": 6, "y": 0, "z": 0 } },
        "holding": [{ "name": "toe clamp", "shape": "box", "workOffset": "G54", "min": { "x": -1.5, "y": -2, "z": -1 }, "max": { "x": 0.05, "y": -1, "z": 0.5 } }]
        """
    );

    static readonly Setup EverydaySetup = Setups.From(
        "inch",
        """
        [{ "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5, "lengthWear": 0, "diameterOffset": 1, "diameterValue": 0.5 },
         { "tool": 2, "kind": "drill", "diameter": 0.25, "lengthOffset": 2, "length": 6.5 },
         { "tool": 3, "kind": "tap", "diameter": 0.3125, "pitch": 0.04167, "lengthOffset": 3, "length": 5.5 },
         { "tool": 4, "kind": "end mill", "diameter": 0.5, "lengthOffset": 4, "length": 5.25, "lengthWear": 0.005, "diameterOffset": 4, "diameterValue": 0.5, "diameterWear": 0.01 }]
        """,
        """ "reference": { "x": 0, "y": 0, "z": 0 }, "maxSpindle": 10000, "maxFeed": 500, "rapid": { "x": 1000, "y": 1000, "z": 800 }, "harmless": ["M41"] """,
        """
        "stock": { "workOffset": "G54", "min": { "x": -1, "y": -1, "z": -0.5 }, "max": { "x": 1, "y": 1, "z": 0 } },
        "holding": [{ "name": "jaw", "shape": "box", "workOffset": "G54", "min": { "x": -2, "y": 1, "z": -1 }, "max": { "x": 2, "y": 2, "z": -0.2 } }],
        "rules": { "approachClearance": 0.1 }
        """
    );

    /// <summary>What is put in place of what, and the finding that must come of it.</summary>
    static readonly (string Find, string Put, string Id)[] Hazards =
    [
        ("G43 H4 ", "G43 H2 ", "length-offset-is-not-the-tools"),
        ("G43 H4 ", "G43 H7 ", "length-offset-unknown"),
        ("G43 H2 Z1. M8", "Z1. M8", "moves-without-length-offset"),
        ("S3000 M3", "S3000", "spindle-not-turning"),
        ("S3000 M3", "S3000 M4", "wrong-spindle-direction"),
        ("R0.2 F20.", "R0.2 F25.", "tap-feed"),
        ("G20\n", "", "units-not-stated"),
        ("T4 M6\nG54", "T4 M6\nG57", "work-offset-not-set"),
        ("G91 G28 Z0.\nG90\nT4", "G28 Z0.\nT4", "low-reference-return"),
        ("F20.\nY", "F20.\nX-0.5 Y-1.5\nY", "feed-into-holding"),
        ("G0 Z1. M9\n", "G0 X-0.5 Y-1.5\nZ1. M9\n", "rapid-into-holding"),
        ("Z0.1\nG1", "Z-0.04\nG1", "rapid-into-stock"),
        (" F10.", "", "no-feed"),
        ("S2500", "S12000", "over-spindle-limit"),
        (" F20.\nY", " F900.\nY", "over-feed-limit"),
        ("M30", "", "no-end"),
        ("Z-0.8 R0.1", "Z-1.3 R0.1", "below-stock"),
        ("G90\nT4", "G10 L2 P1 Z-18.\nG90\nT4", "program-writes-offsets"),
        (" F20.\nY", " F20. G41 D9\nG40 Y", "diameter-offset-is-not-the-tools"),
        ("G90\nT4", "G90\nG0 A90.\nT4", "one-more-axis"),
        (" F20.\nY", " F20.\nX25.\nY", "outside-travel"),
        ("T4 M6", "T9 M6", "tool-not-listed"),
        ("R0.1 Q0.2", "R-0.3 Q0.2", "low-between-holes"),
        ("G1 Z-", "G1 Z-0.9\nZ-", "shank-contact"),
        ("G1 Z-", "G1 Z-0.99\nG0 Z0.1\nG1 Z-", "holder-contact"),
        ("T4 M6\n", "T4 M6\nM777\n", "cannot-follow"),
        ("G0 Z1. M9\n", "G0 G1 Z1. M9\n", "same-group-twice"),
        (" M3\nG43 H4 Z1. M8", " M3 G43 H4 Z1. M8", "xyz-approach-in-one"),
    ];

    public static IReadOnlyList<CorpusProgram> Planted { get; } =
    [
        .. from hazard in Hazards
        from seed in Enumerable.Range(0, PlantedSeeds)
        select new CorpusProgram(
            $"{hazard.Id}, seed {seed}: {hazard.Put}",
            Plant(hazard.Find, hazard.Put, seed),
            SeedSetup,
            hazard.Id
        ),
        .. FindingPages.All.Select(p => new CorpusProgram("page of " + p.Id, Plain(p.Example), OfPage(p), p.Id)),
    ];

    public static IReadOnlyList<CorpusProgram> Clean { get; } =
    [
        .. Enumerable.Range(0, CleanSeeds).Select(s => new CorpusProgram($"seed {s}", FromSeed(s), SeedSetup, null)),
        .. EverydayMoves.Select(e => new CorpusProgram(e.Name, Everyday(e.Moves), EverydaySetup, null)),
        .. FindingPages.All.Select(p => new CorpusProgram("page of " + p.Id, p.NotThis, OfPage(p), null)),
    ];

    static Setup OfPage(FindingPage page) => SetupFile.Read(Encoding.UTF8.GetBytes(page.Setup!), page.Id + ".md");

    static string Plain(string program) =>
        program.Replace("⟦", "", StringComparison.Ordinal).Replace("⟧", "", StringComparison.Ordinal);

    static string Plant(string find, string put, int seed)
    {
        var program = FromSeed(seed);
        var place = program.IndexOf(find, StringComparison.Ordinal);
        return place < 0
            ? throw new InvalidOperationException($"Nothing to put {put} in place of.")
            : program[..place] + put + program[(place + find.Length)..];
    }

    /// <summary>What every shop writes and nobody should hear of.</summary>
    static (string Name, string Moves)[] EverydayMoves =>
        [
            ("G91 G28 Z0 before it is customary", "Z0.1\nG1 Z-0.1 F20.\nX1.5\nG91 G28 Z0\nG90 X-1.5\nZ1."),
            (
                "through hole over a gap",
                "G91 G28 Z0.\nT2 M6\nG90 G54 G0 X0.5 Y0.5 S2000 M3\nG43 H2 Z1. M8\nG98 G83 Z-0.6 R0.1 Q0.2 F8.\nX-0.5\nG80"
            ),
            ("zero wear", "Z0.1\nG1 Z-0.1 F20.\nG41 D1 X-1.2 F12.\nX1.2\nG40 X1.6"),
            ("zero-length words", "Z0.1\nG1 Z-0.1 F20.\nX-1.5 Y0\nX0 Y0\nX0. Y0. Z-0.1\nG0 Z0.1\nX0 Y0"),
            ("builder's M-code declared harmless", "M41\nZ0.1\nG1 Z-0.1 F20.\nX1.5"),
            (
                "rigid tap to three decimals",
                "G91 G28 Z0.\nT2 M6\nG90 G54 G0 X0.5 Y0.5 S2000 M3\nG43 H2 Z1. M8\nG83 Z-0.6 R0.1 Q0.2 F8.\nG80\nG0 Z1. M9\nG91 G28 Z0.\n"
                    + "T3 M6\nG90 G54 G0 X0.5 Y0.5 S500 M3\nG43 H3 Z1. M8\nG84 Z-0.4 R0.2 F20.833\nG80"
            ),
            (
                "finishing tool with wear left on",
                "Z0.1\nG1 Z-0.1 F20.\nX1.5\nG0 Z1. M9\nG91 G28 Z0.\nT4 M6\nG90 G54 G0 X-1.6 Y0. S3500 M3\nG43 H4 Z1. M8\nZ0.1\nG1 Z-0.1 F20.\nG41 D4 X-1.2 F12.\nX1.2\nG40 X1.6"
            ),
            ("rapid into a roughed pocket", "Z0.1\nG1 Z-0.2 F20.\nX1.5\nG0 Z1.\nX0.\nZ-0.1\nG1 Z-0.25 F10.\nX0.2"),
            ("finishing pass along a roughed wall", "Z0.1\nG1 Z-0.2 F20.\nX1.5\nY0.005\nX-1.5\nG0 Y0.\nX1.5"),
        ];

    static string Everyday(string moves) =>
        $"%\nO100 (EVERYDAY)\nG0 G17 G20 G40 G49 G80 G90\nT1 M6\nG0 G54 G90 X-1.5 Y0. S3000 M3\nG43 H1 Z1. M8\n{moves}\nG0 Z1. M9\nG91 G28 Z0.\nM30\n%\n";

    /// <summary>A slot with a corner, three holes drilled and tapped; places, depths and customs by the seed.</summary>
    static string FromSeed(int seed)
    {
        var random = new Random(seed);
        string Between(double low, double high) =>
            (low + (high - low) * random.Next(0, 101) / 100).ToString("0.0##", CultureInfo.InvariantCulture);
        var (x1, x2, y1, y2) = (Between(1.2, 1.8), Between(3, 4.6), Between(-1.4, -1.2), Between(-2, -1.7));
        var (h1, h2, depth) = (Between(0.9, 1.5), Between(4.9, 5.6), Between(0.06, 0.4));
        var home = random.Next(2) == 0 ? "G91 G28 Z0.\nG90\n" : "G91 G28 Z0.\nG90\nM1\n";
        var back =
            seed == 0 ? "G99"
            : random.Next(2) == 0 ? "G99"
            : "G98";
        var first = "G91 G28 Z0.\nG90\n";
        return $"""
            %
            O{seed + 1} (CORPUS)
            G20
            G0 G17 G40 G49 G80 G90
            T2 M6
            G54 G0 G90 X{x1} Y{y1} S3000 M3
            G43 H2 Z1. M8
            Z0.1
            G1 Z-{depth} F10.
            X{x2} F20.
            Y{y2}
            G0 Z1. M9
            {first}T4 M6
            G54 G0 G90 X{h1} Y-0.75 S2500 M3
            G43 H4 Z1. M8
            G99 G83 X{h1} Y-0.75 Z-0.8 R0.1 Q0.2 F8.
            X{h2}
            Y-2.25
            G80
            G0 Z1. M9
            {home}T5 M6
            G54 G0 G90 X{h1} Y-0.75 S400 M3
            G43 H5 Z1.
            {back} G84 X{h1} Y-0.75 Z-0.5 R0.2 F20.
            X{h2}
            Y-2.25
            G80
            G0 Z1.
            G91 G28 Z0.
            M30
            %
            """.Replace("\r", "", StringComparison.Ordinal);
    }
}
