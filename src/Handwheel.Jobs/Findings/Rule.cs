using System.Diagnostics.CodeAnalysis;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>What a rule is called and how much it weighs. The id is plain words in kebab-case and stays once released.</summary>
/// <param name="Id">Also the name of its page.</param>
/// <param name="Level">The level unless a finding says otherwise.</param>
/// <param name="Title">The rule in words, as its page's heading has it.</param>
public sealed record RuleInfo(string Id, Level Level, string Title);

/// <summary>
/// One thing that the check looks for. A rule hears what the program does and reports to the book of findings; what it cannot
/// judge it says in the list of things not checked. Moves are shown to it only while <see cref="Watches"/> is true, so that plain cutting costs nothing.
/// </summary>
[DynamicallyAccessedMembers(DynamicallyAccessedMemberTypes.PublicMethods)]
abstract class Rule(Facts facts)
{
    protected Facts Facts => facts;
    protected FindingBook Book => facts.Book;

    public abstract RuleInfo Info { get; }

    /// <summary>Whether moves must be shown in this modal state. Asked again whenever anything modal changes.</summary>
    public virtual bool Watches(in ControlState state) => false;

    /// <summary>No move before the next change of anything modal can matter to it any more, whatever it is.</summary>
    public virtual bool SeenEnough => false;

    /// <summary>A leg or the ends of an arc, while <see cref="Watches"/> is true.</summary>
    public virtual void Move(in ControlState state, in Leg leg) { }

    /// <summary>An arc, while <see cref="Watches"/> is true; <see cref="Move"/> hears its ends as well.</summary>
    public virtual void ArcMove(in ControlState state, in Leg leg, in Arc arc) { }

    /// <summary>A leg that no raise lifts at its end, that is in machine coordinates, or that belongs to a reference return.</summary>
    public virtual void OddMove(in ControlState state, in Leg leg) { }

    /// <summary>A leg in work coordinates, both ends known, on which the tip is below the underside of some stock.</summary>
    public virtual void LowMove(in ControlState state, in Leg leg) { }

    /// <summary>The same along an arc.</summary>
    public virtual void LowArc(in ControlState state, in Leg leg, in Arc arc) { }

    /// <summary>A rapid in work coordinates.</summary>
    public virtual void RapidMove(in ControlState state, in Leg leg) { }

    /// <summary>A leg of a canned cycle.</summary>
    public virtual void CycleMove(in ControlState state, in Leg leg) { }

    /// <summary>
    /// A hole of the same shape and under the same modal state as one whose legs it has heard; those of this one are not shown. Legs in which anything was
    /// found are always shown.
    /// </summary>
    public virtual void HoleAgain(in HoleShape hole) { }

    /// <summary>Of the changes, those that <see cref="Modal"/> does something about.</summary>
    public virtual Changes Hears => Changes.None;

    /// <summary>One of the changes that this rule <see cref="Hears"/>, and what else the block changed.</summary>
    public virtual void Modal(in ControlState state, Changes changes) { }

    /// <summary>The new tool is in the spindle and in the facts; <paramref name="before"/> is where the axes stood.</summary>
    public virtual void ToolChange(in ControlState state, int previousTool, in Place before) { }

    public virtual void RegisterWritten(in ControlState state, in RegisterWrite write) { }

    public virtual void ShiftSet(in ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

    public virtual void Fault(in ControlState state, in Fault fault) { }

    public virtual void End(in ControlState state, RunEnd end) { }

    /// <summary>The run is over: what would undo the raise must be said now.</summary>
    public virtual void BeforeRaise(Totals totals) { }

    /// <summary>The run is over and the raise has been chosen.</summary>
    public virtual void Judge(RaiseChoice raise, Totals totals) { }

    protected bool Again(long cause, in ControlState state) => Book.Again(Info, cause, state.File, state.Line);

    protected void Report(long cause, in ControlState state, string message, string remedy, Level? level = null) =>
        Book.Add(Info, cause, Where.Of(state), message, remedy, level);
}
