using System.Text.RegularExpressions;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Where the program waits for a person, in the order in which it first gets there.</summary>
sealed partial class OperatorStops(Facts facts)
{
    /// <summary>More are no list that anybody goes through.</summary>
    const int PlacesMost = 500;

    readonly List<Where> places = [];
    readonly Dictionary<(int File, int Line), int> times = [];

    public void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Stop) == Changes.None)
            return;
        var place = (state.File, state.Line);
        if (times.TryGetValue(place, out var before))
            times[place] = before + 1;
        else if (places.Count < PlacesMost)
        {
            times[place] = 1;
            places.Add(Where.Of(state));
        }
    }

    public IReadOnlyList<OperatorStop> Out() => [.. places.Select((at, i) => Out(at, i + 1))];

    OperatorStop Out(Where at, int number)
    {
        var (instruction, from) = CommentBeside.Of(facts.Texts.Bytes(at.File), at.Start);
        var block = facts.Texts.Block(at);
        return new OperatorStop
        {
            Number = number,
            Kind = Kind(block),
            Tool = at.Tool,
            Line = at.Line,
            File = facts.Texts.FileName(at),
            Block = block,
            Instruction = instruction,
            InstructionFrom = from,
            Times = times[(at.File, at.Line)],
        };
    }

    static string Kind(string block) =>
        StopWord().Match(Bracketed().Replace(block, " ")) is { Success: true } word
            ? "M" + word.Groups["which"].Value
            : "stop";

    [GeneratedRegex(@"\([^)]*\)|;.*$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Bracketed();

    [GeneratedRegex(@"(?<![A-Za-z#\[])[mM]\s*0*(?<which>[01])(?![0-9.])", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex StopWord();
}
