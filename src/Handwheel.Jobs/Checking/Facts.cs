using Handwheel.Jobs.Checking.Material;
using Handwheel.Jobs.Findings;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>What every check of one run may look at: the setup, what stands on the table, and the tool in the spindle.</summary>
sealed class Facts
{
    readonly Dictionary<int, Tool> tools = [];

    public Facts(Setup setup, ProgramTexts texts, CheckOptions? options = null, long programBytes = 0)
    {
        Options = options ?? new CheckOptions();
        ProgramBytes = programBytes;
        Setup = setup;
        Texts = texts;
        Table = new Table(setup);
        Figures = new Figures(setup.Units);
        Book = new FindingBook(texts);
        Cutting = new CuttingRanges(setup, Options);
        foreach (var tool in setup.Tools)
            tools.TryAdd(tool.Number, tool);
    }

    public CheckOptions Options { get; }
    public long ProgramBytes { get; }
    public Setup Setup { get; }
    public ProgramTexts Texts { get; }
    public Table Table { get; }
    public Figures Figures { get; }
    public FindingBook Book { get; }
    public CuttingRanges Cutting { get; }
    public NotCheckedList NotChecked { get; } = new();
    public AirCutWindow Window { get; } = new();

    /// <summary>Parameters that the program reads and nobody has given, first place each.</summary>
    public List<AskedParameter> AsksFor { get; } = [];

    /// <summary>Distance of the grid's points over the stock, nm.</summary>
    public double MaterialGrid => (Setup.Rules.MaterialGrid ?? Options.MaterialGrid).Nanometres;

    /// <summary>The stock as it is cut; null before the rules are there.</summary>
    public MaterialRun? CutStock { get; set; }

    /// <summary>The tool in the spindle as the setup describes it; null: not listed.</summary>
    public Tool? Tool { get; private set; }

    /// <summary>Own length with its wear, nm, with the sign that the length offset in force gives it; only when <see cref="OwnKnown"/>.</summary>
    public long Own { get; private set; }
    public bool OwnKnown { get; private set; }

    /// <summary>The tool changed, or the way its length is taken.</summary>
    public void Take(in ControlState state)
    {
        Tool = tools.GetValueOrDefault(state.Tool);
        OwnKnown = Tool?.Length is not null;
        if (!OwnKnown)
            return;
        var length = (Tool!.Length!.Value + Tool.LengthWear).Nanometres;
        Own = state.LengthMode == LengthMode.Subtracted ? -length : length;
    }

    public Tool? Listed(int tool) => tools.GetValueOrDefault(tool);

    /// <summary>Where the tip is, setup space; false where machine Z or the tool's length is not known.</summary>
    public bool TryTip(in Place place, out long tip)
    {
        tip = place.Z - Own;
        return place.RestZ == 0 && OwnKnown;
    }

    /// <summary>The height of the tip over which everything on the table is cleared, setup space; null when not known.</summary>
    public long? ClearanceHeight => Table.HighestTop + Clearance;

    public long Clearance => (Setup.AirCut.Clearance ?? OneStep).Nanometres;

    public long RaiseStep => (Setup.AirCut.RaiseStep ?? OneStep).Nanometres;

    Length OneStep => Setup.Units == Units.Inch ? Length.From(1, Units.Inch) : Length.From(25, Units.Millimetre);

    public static bool IsWork(LegKind kind) => kind is LegKind.Rapid or LegKind.Feed or LegKind.ReturnVia;

    public static bool IsFeed(LegKind kind) => kind is LegKind.Feed or LegKind.MachineFeed;

    /// <summary><c>T3</c>, with what it is where the setup says.</summary>
    public string Name(int tool)
    {
        var number = "T" + Figures.Whole(tool);
        return tools.TryGetValue(tool, out var listed) && listed.Kind.Length > 0 ? $"{number} {listed.Kind}" : number;
    }
}
