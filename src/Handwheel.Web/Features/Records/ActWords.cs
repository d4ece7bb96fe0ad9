using System.Globalization;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Proving;

namespace Handwheel.Web.Features.Records;

/// <summary>An entry of a prove-out in words.</summary>
public static class ActWords
{
    /// <param name="step">Title of the step that the act is about; empty: none.</param>
    /// <param name="typed">False while values that were typed may still have to be read blind.</param>
    public static string Of(Act act, string step, bool typed) =>
        act switch
        {
            Begun { LockedOut: { } locked } => $"Prove-out begun; locked out or bypassed: {locked.Words}",
            Begun => "Prove-out begun",
            FindingsSeen => $"Seen: {step}",
            Ticked { Saw: { Length: > 0 } saw } => $"{step}: done, {saw}",
            Ticked => $"{step}: done",
            ReadingTyped reading => typed ? $"{step}: typed {reading.Typed}" : $"{step}: read and typed",
            LineTyped line => typed ? $"{step}: {line.Number}, “{line.Block}”" : $"{step}: read and typed",
            SavedProgramCompared saved =>
                $"{step}: the saved program was compared{(saved.Differs is { } at ? ". " + at.Text : "")}",
            BaselineDecided decided =>
                $"{step}: {(decided.RegisterIsRight ? "the register is right" : "the setup is right")}, {decided.Why}",
            Differs differs => $"{step}: differs, {differs.Saw}",
            DifferenceSettled settled => $"{step}: {settled.Done}",
            FirstPieceMeasured measured => $"{step}: measured {measured.Typed}{With(measured.Instrument)}",
            CorrectionEntered correction =>
                $"{step}: correction typed into {correction.Register}{(typed ? ": " + correction.Typed : "")}",
            EditNoted edit => Text(
                $"Line {edit.Line}{In(edit.Program)} edited: “{edit.Old}” became “{edit.New}”, {edit.Why}"
            ) + Compared(edit.Compared),
            TakenBack back => Text($"Entry {back.Entry} taken back: {back.Why}"),
            Note note => note.Text,
            PhotoAdded photo => "Photo"
                + (photo.Step is { Length: > 0 } && step.Length > 0 ? $" with {step}" : "")
                + (photo.Caption.Length > 0 ? ": " + photo.Caption : ""),
            RaiseChosen raise => $"Raise of {raise.Typed} chosen: {raise.Why}",
            ProgramChanged changed => $"Program changed: {changed.Why}{Compared(changed.Compared)}",
            SetupChanged changed => $"Setup changed: {changed.Why}{Compared(changed.Compared)}",
            LengthChanged changed => Text($"Length of T{changed.Tool} changed: {changed.Why}"),
            BaselineChanged changed => $"{changed.Register} {changed.Axis.ToUpperInvariant()} set anew: {changed.Why}",
            HoldingChanged changed => $"Holding changed: {changed.What}",
            ToolReplaced replaced => Text($"T{replaced.Tool} replaced: {replaced.Why}"),
            Interrupted interrupted => $"Interrupted: {interrupted.What}",
            ParkingBegun => "Parking begun",
            Abandoned abandoned => $"Abandoned: {abandoned.Reason}",
            Signed signed => OfSignature(signed.Step, step),
            DeviationSigned deviation => $"Signed in place of {step}: {deviation.Reason}",
            OtherWaySigned other => $"Signed, the other way: {other.Reason}",
            AirCutWanted wanted => $"Air cut wanted: {wanted.Reason}",
            CutShort cut => Text($"Air cut ended at line {cut.Line}: {cut.Why}"),
            SentBack back => $"Sent back: {back.Reason}",
            HandedOver { SaysLockedOut: { } locked } => $"Handed over; locked out or bypassed: {locked}",
            HandedOver => "Handed over",
            HandoffWithdrawn withdrawn => $"Handoff withdrawn: {withdrawn.Why}",
            LockoutLifted lifted => $"No longer locked out or bypassed: {lifted.What}",
            TakingOverAlone alone => $"Takes over alone: {alone.Why}",
            TookOver { Asked.Length: > 0 } took => $"Took over; asked: {took.Asked}",
            TookOver => "Took over",
            _ => throw new ArgumentOutOfRangeException(nameof(act), act, null),
        };

    /// <summary><c>Air cut signed as done</c>, from the step's id; a step that the shop has worded itself is named as it is.</summary>
    static string OfSignature(string id, string step) =>
        id switch
        {
            "ready.signed" => "Ready signed as done",
            "air-cut.signed" => "Air cut signed as done",
            "restore.signed" => "Restore signed as done",
            "first-cut.signed" => "First cut signed as done",
            "first-piece.signed" => "First piece signed as done",
            "release.signed" => "Reviewed and released",
            _ => $"{step}: signed",
        };

    static string In(string? program) => program is null ? "" : " of " + program;

    static string Compared(IReadOnlyList<ToolCompared>? compared) =>
        compared is { Count: > 0 } ? ". " + MotionComparison.Summary(compared) : "";

    static string With(string instrument) => instrument.Length > 0 ? " with " + instrument : "";

    static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
