using System.Text.Json.Serialization;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// Something a person did in a prove-out. The discriminator <c>kind</c> of each act is stored in signed records: it is
/// never renamed. An unknown kind is refused.
/// </summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Begun), "begun")]
[JsonDerivedType(typeof(FindingsSeen), "findings-seen")]
[JsonDerivedType(typeof(Ticked), "ticked")]
[JsonDerivedType(typeof(ReadingTyped), "reading-typed")]
[JsonDerivedType(typeof(LineTyped), "line-typed")]
[JsonDerivedType(typeof(SavedProgramCompared), "saved-program-compared")]
[JsonDerivedType(typeof(BaselineDecided), "baseline-decided")]
[JsonDerivedType(typeof(Differs), "differs")]
[JsonDerivedType(typeof(DifferenceSettled), "difference-settled")]
[JsonDerivedType(typeof(FirstPieceMeasured), "first-piece-measured")]
[JsonDerivedType(typeof(CorrectionEntered), "correction-entered")]
[JsonDerivedType(typeof(EditNoted), "edit-noted")]
[JsonDerivedType(typeof(TakenBack), "taken-back")]
[JsonDerivedType(typeof(Note), "note")]
[JsonDerivedType(typeof(PhotoAdded), "photo-added")]
[JsonDerivedType(typeof(RaiseChosen), "raise-chosen")]
[JsonDerivedType(typeof(ProgramChanged), "program-changed")]
[JsonDerivedType(typeof(SetupChanged), "setup-changed")]
[JsonDerivedType(typeof(LengthChanged), "length-changed")]
[JsonDerivedType(typeof(BaselineChanged), "baseline-changed")]
[JsonDerivedType(typeof(HoldingChanged), "holding-changed")]
[JsonDerivedType(typeof(ToolReplaced), "tool-replaced")]
[JsonDerivedType(typeof(Interrupted), "interrupted")]
[JsonDerivedType(typeof(ParkingBegun), "parking-begun")]
[JsonDerivedType(typeof(Abandoned), "abandoned")]
[JsonDerivedType(typeof(Signed), "signed")]
[JsonDerivedType(typeof(DeviationSigned), "deviation-signed")]
[JsonDerivedType(typeof(OtherWaySigned), "other-way-signed")]
[JsonDerivedType(typeof(AirCutWanted), "air-cut-wanted")]
[JsonDerivedType(typeof(CutShort), "cut-short")]
[JsonDerivedType(typeof(SentBack), "sent-back")]
[JsonDerivedType(typeof(HandedOver), "handed-over")]
[JsonDerivedType(typeof(HandoffWithdrawn), "handoff-withdrawn")]
[JsonDerivedType(typeof(LockoutLifted), "lockout-lifted")]
[JsonDerivedType(typeof(TakingOverAlone), "taking-over-alone")]
[JsonDerivedType(typeof(TookOver), "took-over")]
public abstract record Act
{
    /// <summary>True: the person types the PIN again, and the entry is a signature with <see cref="Meaning"/>.</summary>
    [JsonIgnore]
    public virtual bool NeedsPin => false;

    /// <summary>What a signature means, for screen and paper: <c>did</c>, <c>witnessed</c>, <c>reviewed</c>, …; null: no signature.</summary>
    [JsonIgnore]
    public virtual string? Meaning => null;

    /// <summary>The step that the act is about; null: the prove-out as a whole.</summary>
    [JsonIgnore]
    public virtual string? About => null;
}

/// <summary>An act about one step. <c>Step</c> is the step's id, for example <c>air-cut.tool.3.machine-z</c>.</summary>
public abstract record StepAct(string Step) : Act
{
    [JsonIgnore]
    public override string? About => Step;
}
