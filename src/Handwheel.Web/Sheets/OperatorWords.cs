using System.Globalization;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets;

/// <summary>How screen and paper say what is to be done at a stop, and what a start at a tool's line has not.</summary>
public static class OperatorWords
{
    public static string Instruction(OperatorStop stop)
    {
        var text = stop.InstructionFrom switch
        {
            "block" => stop.Instruction,
            "before" => stop.Instruction + " (comment on the line before)",
            "after" => "next comes: " + stop.Instruction,
            _ => "No comment beside it: ask the programmer before the first run.",
        };
        return stop.Times > 1 ? string.Create(CultureInfo.InvariantCulture, $"{text}; {stop.Times} times") : text;
    }

    public static string DoNotRelyOn(Restart restart)
    {
        List<string> missing = [.. restart.Cautions];
        if (restart.NotStated.Count > 0)
            missing.Insert(0, "nothing after the line states " + string.Join(", ", restart.NotStated));
        return missing.Count == 0 ? "– (work offset, S and F are stated again)" : string.Join("; ", missing);
    }

    public const string AtNoLine =
        "At no line rely on the modal words after a reset or power-on, on X and Y standing clear of clamps, on a pocket still holding what it held, on spindle or coolant running.";
}
