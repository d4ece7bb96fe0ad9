namespace Handwheel.Nc;

/// <summary>Where the tool's centre is under G41 and G42 with a radius other than 0.</summary>
enum Compensating : byte
{
    /// <summary>At the programmed place.</summary>
    Off,

    /// <summary>Still where it was: the next move in the plane takes it to its side.</summary>
    Entering,
    On,

    /// <summary>G40 has been read: the next move in the plane leads back to what is programmed.</summary>
    Leaving,
}

// G41 and G42: when the way beside the path begins and ends, and what can interrupt it. In the XY plane (NISTIR 6556, appendix B; the
// other readings are common practice). state.At stays the programmed place throughout.
partial class Follower<TSink>
{
    /// <summary>Less than this is the rounding of programmed figures, nm.</summary>
    const double CompensationRounding = 1_000;
    const Axes InPlane = Axes.X | Axes.Y;

    Compensating beside;

    long centreX;
    long centreY;
    long motionSaid = -1;

    void ReadRadius()
    {
        var register = registers.Diameter(state.D);
        state.CutterRadiusKnown = state.D != 0 && register != null;
        state.CutterRadius = register.GetValueOrDefault() / (settings.Reads.DiameterRegisterIsRadius ? 1.0 : 2.0);
    }

    void UseCompensation(CutterCompensation before, bool readsRegister)
    {
        var former = state.CutterRadius;
        if (readsRegister)
            ReadRadius();
        if (state.Compensation == CutterCompensation.Off || state.CutterRadius == 0)
        {
            Leave();
            return;
        }
        if (state.Plane != Plane.XY)
        {
            if (readsRegister || beside is Compensating.Entering or Compensating.On)
                CannotFollow("G41 or G42 outside the XY plane", 0, "G17 before it");
            Leave();
            return;
        }
        if (beside == Compensating.On && before != state.Compensation)
            Refuse(FaultKind.CompensationEntry, CompensationCause.OtherSide, 0);
        else if (beside == Compensating.On && state.CutterRadius != former)
            RefuseMove(CompensationCause.OtherRegister, former, state.CutterRadius);
        if (beside is Compensating.Entering or Compensating.On)
            return;
        if (beside == Compensating.Off)
            (centreX, centreY) = (state.At.X, state.At.Y);
        Settle();
        beside = Compensating.Entering;
    }

    /// <summary>G40, or nothing to go beside any more.</summary>
    void Leave()
    {
        if (beside is Compensating.Off or Compensating.Leaving)
            return;
        if (settings.Reads.CompensationExit == CompensationExit.FromCentre)
        {
            Settle();
            Stand(ref state);
            beside = Compensating.Off;
        }
        else if (beside == Compensating.Entering)
        {
            beside = (centreX, centreY) == (state.At.X, state.At.Y) ? Compensating.Off : Compensating.Leaving;
        }
        else
        {
            if (settings.Reads.CompensationEntry != CompensationEntry.Around)
                Settle();
            beside = Compensating.Leaving;
        }
    }

    void RefuseMove(string cause, double first, double second) =>
        TellFault(new(FaultKind.CompensationEntry, cause, 0, null, first, second));

    /// <summary>The leg or arc at hand, as programmed, while the centre is not simply where it leads.</summary>
    void Compensate(Arc? arc)
    {
        var moves = (leg.From.X, leg.From.Y) != (leg.To.X, leg.To.Y) || arc != null;
        if ((leg.Commanded & InPlane) == Axes.None && !moves)
            GoAlong();
        else if (leg.Kind > LegKind.Feed || (leg.Part != CyclePart.None && beside != Compensating.Leaving))
            GoPast();
        else if (beside == Compensating.Leaving)
            GoBack(arc);
        else if (!moves)
            GoAlong();
        else if (leg.From.RestX == leg.To.RestX && leg.From.RestY == leg.To.RestY)
            GoBeside(arc);
        else
            GoFromUnknown();
    }

    /// <summary>Z alone, wherever the centre stands when it comes to it.</summary>
    void GoAlong()
    {
        if (holding)
        {
            var later = leg;
            Hold(
                (in s) =>
                {
                    Sink.ProgrammedLine(in s, in later);
                    GoLine(s, later, new(centreX, centreY));
                }
            );
            return;
        }
        TellProgrammed(null);
        GoLine(state, leg, new(centreX, centreY));
    }

    /// <summary>A move that goes where it is told, in the axes that it names; the next one in the plane is an entry again.</summary>
    void GoPast()
    {
        Settle();
        if (beside != Compensating.Leaving && motionSaid != state.BlocksExecuted)
        {
            motionSaid = state.BlocksExecuted;
            RefuseMove(CompensationCause.OtherMotion, 0, 0);
        }
        TellProgrammed(null);
        var x = leg.Commanded.HasFlag(Axes.X) ? leg.To.X : centreX;
        var y = leg.Commanded.HasFlag(Axes.Y) ? leg.To.Y : centreY;
        GoLine(state, leg, new(x, y));
        if (beside == Compensating.On)
            beside = Compensating.Entering;
        waiting = Waiting.Nothing;
    }

    void GoFromUnknown()
    {
        CannotFollow("G41 or G42 from a place that is not known", 0, "a move to a known place before it");
        Settle();
        TellProgrammed(null);
        GoLine(state, leg, new(leg.To.X, leg.To.Y));
        beside = Compensating.Entering;
        waiting = Waiting.Nothing;
    }

    void TellProgrammed(Arc? arc)
    {
        if (arc is { } around)
            Sink.ProgrammedArc(in state, in leg, in around);
        else
            Sink.ProgrammedLine(in state, in leg);
    }

    /// <summary>A straight leg of the centre; <paramref name="basis"/> says everything but where it goes in the plane.</summary>
    void GoLine(ControlState at, Leg basis, PlaneVector to)
    {
        basis.Beside = true;
        (basis.From.X, basis.From.Y) = (centreX, centreY);
        (basis.To.X, basis.To.Y) = (ToLength(to.X), ToLength(to.Y));
        at.At = basis.From;
        Sink.Line(in at, in basis);
        (centreX, centreY) = (basis.To.X, basis.To.Y);
    }

    void GoArc(ControlState at, Leg basis, PlaneVector centre, double sweep, PlaneVector to)
    {
        basis.Beside = true;
        (basis.From.X, basis.From.Y) = (centreX, centreY);
        (basis.To.X, basis.To.Y) = (ToLength(to.X), ToLength(to.Y));
        at.At = basis.From;
        var across = basis.From.RestZ == basis.To.RestZ ? basis.To.Z - basis.From.Z : 0;
        var arc = ArcGeometry.Along(
            (basis.From.X, basis.From.Y),
            (basis.To.X, basis.To.Y),
            (centre.X - centreX, centre.Y - centreY),
            sweep,
            across
        );
        Sink.Arc(in at, in basis, in arc);
        (centreX, centreY) = (basis.To.X, basis.To.Y);
    }
}
