namespace Handwheel.Jobs.Proving;

/// <summary>What steps are called that come and go: a register put back or read back leaves the list once it is right.</summary>
public static class StepTitles
{
    /// <summary>Null: no step of that kind.</summary>
    /// <param name="id">As in the entries: <c>put-back.G54.z</c>, <c>read-back.restart</c>.</param>
    public static string? OfGone(string id) =>
        AnyTimeSteps.AfterInterruption().FirstOrDefault(r => r.Id == id)?.Title
        ?? id.Split('.') switch
        {
            ["put-back", var name, var axis] => AnyTimeSteps.PutBack(new(name, axis)).Title,
            ["read-back", var name, var axis] => AnyTimeSteps.ReadBack(new(name, axis)).Title,
            _ => null,
        };
}
