using System.Text.Json.Serialization;
using Handwheel.Jobs.Motions;

namespace Handwheel.Jobs.Proving;

/// <summary>The first entry of every prove-out: what is proved, and how the machine was found.</summary>
/// <param name="Plan"><see cref="ProveOutPlan.Digest"/>.</param>
/// <param name="LockedOut">What an earlier prove-out left locked out or bypassed; null: nothing that anybody wrote.</param>
public sealed record Begun(
    string Plan,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] LockedOut? LockedOut = null
) : Act;

/// <summary>A person has looked at a group of findings at level check.</summary>
public sealed record FindingsSeen(string Step) : StepAct(Step);

/// <summary>Done, or "agrees". <c>Saw</c>: what was seen, where the step asks for words.</summary>
public sealed record Ticked(string Step, string? Saw = null) : StepAct(Step);

/// <summary>A number read from the control or an instrument, exactly as typed.</summary>
public sealed record ReadingTyped(string Step, string Typed) : StepAct(Step);

/// <summary>What the control shows as program number and in the block that was asked for.</summary>
public sealed record LineTyped(string Step, string Number, string Block) : StepAct(Step);

/// <summary>The program saved from the control was compared: <see cref="ProgramInControl.ComparableDigest"/> of its bytes.</summary>
/// <param name="Differs">Where it is first not the checked one; null: it is the same, or that was not looked at.</param>
public sealed record SavedProgramCompared(
    string Step,
    string ComparableSha256,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] DifferentBlock? Differs = null
) : StepAct(Step);

/// <summary>
/// The register is not what the setup says, and the setter says which is right. <c>RegisterIsRight</c> false: the
/// register was put right on the control and is read again.
/// </summary>
public sealed record BaselineDecided(string Step, bool RegisterIsRight, string Why) : StepAct(Step);

/// <summary>What was seen is not what should be: the step is held until somebody writes what was done about it.</summary>
public sealed record Differs(string Step, string Saw) : StepAct(Step);

/// <summary>What was done about a difference; the step is then done again.</summary>
public sealed record DifferenceSettled(string Step, string Done) : StepAct(Step);

/// <summary>A characteristic of the first piece (or the next one), exactly as typed.</summary>
public sealed record FirstPieceMeasured(string Step, string Typed, string Instrument = "") : StepAct(Step);

/// <summary>
/// A correction was typed into a register on the control. <c>Register</c>: <c>H4</c>, <c>D4</c>, <c>H4 wear</c>,
/// <c>D4 wear</c> or <c>G55 x</c>; <c>Typed</c>: the value it shows now; <c>Why</c>: where that is not what was worked out.
/// </summary>
public sealed record CorrectionEntered(string Step, string Register, string Typed, string Why = "") : StepAct(Step);

/// <summary>
/// A block was changed at the machine. Line counts from 1; an empty <c>Old</c> is a line put in, an empty <c>New</c> one
/// taken out.
/// </summary>
/// <param name="Plan">Digest of the plan made from the program as edited; null: the edit was not put into the program here.</param>
/// <param name="Compared">What the machine would do differently, tool by tool; null: it was not compared.</param>
/// <param name="Program">Name of the file that was edited; null: the main program.</param>
public sealed record EditNoted(
    int Line,
    string Old,
    string New,
    string Why,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Plan = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        IReadOnlyList<ToolCompared>? Compared = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Program = null
) : Act;

/// <summary>A tick or reading that was a slip is taken back; both stay in the record. Not after its phase was signed.</summary>
public sealed record TakenBack(long Entry, string Why) : Act;

/// <summary>Words; with <c>Corrects</c> a correction that points to an older entry, which stays as it was.</summary>
public sealed record Note(string Text, string? Step = null, long? Corrects = null) : Act
{
    public override string? About => null;
}

/// <summary>A photo, by the digest of its bytes.</summary>
public sealed record PhotoAdded(string Sha256, string? Step = null, string Caption = "") : Act
{
    public override string? About => Step;
}
