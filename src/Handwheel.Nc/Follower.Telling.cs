using System.Runtime.CompilerServices;

namespace Handwheel.Nc;

// What the sink hears. While the end of a compensated move waits for the move after it, everything since waits with it, each
// event with the state that it had. What happens often is held back in a method of its own, or the copy is made for every event (measured).
partial class Follower<TSink>
{
    /// <summary>No more than this is held back: then the move ends without knowing the next.</summary>
    const int HeldMost = 1000;

    readonly List<(ControlState State, Telling Tell)> held = [];
    bool holding;
    ControlState seen;

    delegate void Telling(in ControlState state);

    /// <summary>The state with the axes where they are: under compensation beside the programmed place.</summary>
    ref readonly ControlState Seen()
    {
        if (beside == Compensating.Off)
            return ref state;
        seen = state;
        Stand(ref seen);
        return ref seen;
    }

    void Stand(ref ControlState at) => (at.At.X, at.At.Y) = (centreX, centreY);

    void Hold(Telling tell)
    {
        held.Add((state, tell));
        if (held.Count < HeldMost)
            return;
        Settle();
        Refuse(FaultKind.CompensationEntry, CompensationCause.NoMove, 0);
    }

    /// <summary>The end of the move that was waited for is known: what was held back is told.</summary>
    void Release()
    {
        holding = false;
        foreach (var (then, tell) in held)
        {
            var at = then;
            Stand(ref at);
            tell(in at);
        }
        held.Clear();
    }

    void TellModal(Changes what)
    {
        if (holding)
            HoldModal(what);
        else
            Sink.Modal(in Seen(), what);
    }

    void HoldModal(Changes what) => Hold((in s) => Sink.Modal(in s, what));

    void TellRegister(in RegisterWrite write)
    {
        if (holding)
        {
            var later = write;
            Hold((in s) => Sink.RegisterWritten(in s, later));
        }
        else
        {
            Sink.RegisterWritten(in Seen(), write);
        }
    }

    void TellShiftSet(ShiftKind kind, Axes axes, bool fromMachineZ)
    {
        if (holding)
        {
            var (k, a, z) = (kind, axes, fromMachineZ);
            Hold((in s) => Sink.ShiftSet(in s, k, a, z));
        }
        else
        {
            Sink.ShiftSet(in Seen(), kind, axes, fromMachineZ);
        }
    }

    void TellDwell(double seconds)
    {
        if (holding)
            HoldDwell(seconds);
        else
            Sink.Dwell(in Seen(), seconds);
    }

    void HoldDwell(double seconds) => Hold((in s) => Sink.Dwell(in s, seconds));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    void TellBlockEnd()
    {
        if (holding)
            Hold((in s) => Sink.BlockEnd(in s));
        else
            Sink.BlockEnd(in Seen());
    }

    void TellFault(in Fault fault)
    {
        if (holding)
            HoldFault(fault);
        else
            Sink.Fault(in Seen(), fault);
    }

    void HoldFault(Fault fault) => Hold((in s) => Sink.Fault(in s, fault));
}
