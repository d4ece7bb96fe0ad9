using System.Text.Json.Serialization;
using Handwheel.Jobs.Motions;

namespace Handwheel.Jobs.Proving;

/// <summary>Another raise inside the window, as typed, in the setup's units.</summary>
public sealed record RaiseChosen(string Typed, string Why) : Act;

/// <summary>Another revision of the program: <c>Plan</c> is the digest of the plan made from it (<see cref="ProveOutPlan.Revised"/>).</summary>
/// <param name="Compared">What the machine would do differently, tool by tool; null: it was not compared.</param>
public sealed record ProgramChanged(
    string Plan,
    string Why,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<ToolCompared>? Compared = null
) : Act;

/// <summary>Another revision of the setup: <c>Plan</c> is the digest of the plan made from it.</summary>
/// <param name="Compared">What the machine would do differently, tool by tool; null: it was not compared.</param>
public sealed record SetupChanged(
    string Plan,
    string Why,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<ToolCompared>? Compared = null
) : Act;

/// <summary>A tool was measured again or its length register typed anew.</summary>
public sealed record LengthChanged(int Tool, string Why) : Act;

/// <summary>A work offset was set anew. <c>Register</c> and <c>Axis</c> as in the ledger: <c>G55</c>, <c>z</c>.</summary>
public sealed record BaselineChanged(string Register, string Axis, string Why) : Act;

/// <summary>Holding or stock was moved, added or taken away.</summary>
public sealed record HoldingChanged(string What) : Act;

/// <summary>Another tool is in the pocket: it is treated as new.</summary>
public sealed record ToolReplaced(int Tool, string Why) : Act;

/// <summary>Breakage, alarm, emergency stop or power loss: the registers are asked for again.</summary>
public sealed record Interrupted(string What) : Act;

/// <summary>The machine's parking list is begun (again).</summary>
public sealed record ParkingBegun : Act;

/// <summary>The prove-out ends without a release. The ledger stays as it is.</summary>
public sealed record Abandoned(string Reason) : Act
{
    public override bool NeedsPin => true;
    public override string? Meaning => "abandoned";
}
