using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// What is said about a wrong machine Z. It is where the axis stands and no register: work offset, common offset, raise, H
/// and the program are in it together. So the words say which of them may be wrong, and give no value to type into any.
/// </summary>
static class MachineZWords
{
    const decimal MillimetresPerInch = 25.4m;

    public static string Explain(Course course, StepRule rule, Length read, Length expected)
    {
        var tool = rule.Tool!;
        var difference = read - expected;
        var offset = tool.Approach?.WorkOffset ?? Said.In("the work offset");
        var length = tool.LengthOffset is { } h ? Correction.H(h) : Said.In("the length offset");
        var raised = rule.Expects == Expects.MachineZRaised;
        var size =
            $"{course.Text(Length.Abs(difference))} {(difference > Length.Zero ? Said.In("higher") : Said.In("lower"))}";
        List<string> causes =
        [
            .. ByRaise(course, raised, difference, offset, length),
            .. ByLength(course, tool, difference, length),
            .. ByWorkOffset(course, offset, difference),
            .. ByDisplay(course, tool, read, expected),
        ];
        var probably =
            causes.Count > 0
                ? Said.In("It differs by exactly ") + string.Join(Said.In("; or by exactly "), causes) + "."
                : Said.In("No usual slip explains it.");
        return Said.In(
            $"{course.Text(read)} was read, {size} than it should be: work offset, raise or {length} is wrong. {probably} "
                + $"Hold the axes. Look at the Z of {offset}{(raised ? Said.In(" and the raise in it") : "")}, at the common offset, at {length} in the block and in the "
                + $"tool table, and at which tool is in the spindle. What is wrong is put right and read under its own step; machine Z is where the axis stands and is typed into no register."
        );
    }

    static IEnumerable<string> ByRaise(Course course, bool raised, Length difference, string offset, string length)
    {
        if (course.Raise is not { } raise || raise == Length.Zero)
            yield break;
        if (raised)
        {
            if (Same(course, difference, -raise))
                yield return Said.In($"the raise: {offset} is not raised, or {length} was measured while raised");
            if (Same(course, difference, -raise - raise))
                yield return Said.In($"twice the raise, downwards: {offset} was raised with the opposite sign");
            if (Same(course, difference, raise))
                yield return Said.In($"the raise: {offset} was raised twice");
            yield break;
        }
        if (Same(course, difference, raise))
            yield return Said.In($"the raise: {offset} is still raised");
        if (Same(course, difference, raise + raise))
            yield return Said.In($"twice the raise: {offset} was raised again and not put back");
        if (Same(course, difference, -raise))
            yield return Said.In(
                $"the raise, downwards: it was taken away from {offset} twice, or {length} was measured while raised"
            );
    }

    static IEnumerable<string> ByLength(Course course, PlannedTool tool, Length difference, string length)
    {
        if (LengthOf(course, tool) is not { } own)
            yield break;
        if (own != Length.Zero && Same(course, difference, -own))
            yield return Said.In($"{length}: no length offset is in force, or {length} is empty");
        if (own != Length.Zero && Same(course, difference, -own - own))
            yield return Said.In($"twice {length}: the length counts with the opposite sign");
        foreach (var other in course.Plan.Tools.Where(t => t.LengthOffset is not null))
        {
            if (other.LengthOffset == tool.LengthOffset || LengthOf(course, other) is not { } theirs || theirs == own)
                continue;
            var name = Correction.H(other.LengthOffset!.Value);
            if (Same(course, difference, theirs - own))
                yield return Said.In(
                    $"the difference of {length} and {name}: the length of T{other.Key} is in force or stands in {length}, or another tool is in the spindle"
                );
        }
    }

    static IEnumerable<string> ByWorkOffset(Course course, string offset, Length difference)
    {
        if (ValueOf(course, new(offset, "z")) is not { } own)
            yield break;
        foreach (var register in course.Table.RaisedRegisters.Where(r => r.Name != offset))
            if (ValueOf(course, register) is { } theirs && theirs != own && Same(course, difference, theirs - own))
                yield return Said.In(
                    $"the difference of {offset} Z and {register}: {register.Name} is in force, or its value stands in {offset}"
                );
    }

    static IEnumerable<string> ByDisplay(Course course, PlannedTool tool, Length read, Length expected)
    {
        if (expected != Length.Zero && Same(course, read, -expected))
            yield return Said.In("its sign: the sign was left out or turned in reading");
        if (tool.Approach?.TipAbovePartZero is { } programmed && Same(course, read, programmed))
            yield return Said.In(
                "what parts work coordinates from machine coordinates: the wrong page of the display was read"
            );
        var (r, e) = (read.In(course.Units), expected.In(course.Units));
        var step = course.Plan.LeastIncrement.In(course.Units);
        if (
            e != 0
            && (Math.Abs(r * MillimetresPerInch - e) <= step * 26 || Math.Abs(r - e * MillimetresPerInch) <= step * 26)
        )
            yield return Said.In("a factor of 25.4: the display shows the other unit");
    }

    static Length? LengthOf(Course course, PlannedTool tool)
    {
        Length? sum = null;
        foreach (var register in StepTable.LengthRegisters(course.Plan, tool))
            sum = (sum ?? Length.Zero) + ValueOf(course, register);
        return sum;
    }

    static Length? ValueOf(Course course, Register register) =>
        Expected.Baseline(course, register) ?? Expected.Setup(course.Plan, register);

    static bool Same(Course course, Length difference, Length by) =>
        Length.Abs(difference - by).Nanometres * 2 <= course.Plan.LeastIncrement.Nanometres;
}
