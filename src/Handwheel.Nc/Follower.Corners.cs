namespace Handwheel.Nc;

// The way beside a compensated path, move by move: each waits for the next one in the plane, which says where it ends.
partial class Follower<TSink>
{
    enum Waiting : byte
    {
        Nothing,

        /// <summary>The move on which compensation comes on.</summary>
        Entry,
        Edge,

        /// <summary>The last move has ended square to itself, without knowing the next.</summary>
        Ended,
    }

    Waiting waiting;
    Edge edge;

    /// <summary>What the waiting move has lost at its start, nm along its own way.</summary>
    double edgeCut;
    Leg edgeLeg;
    ControlState edgeState;

    double BesideNow()
    {
        var side = state.Compensation == CutterCompensation.Left ? 1 : -1;
        return side * state.CutterRadius * (IsMirrored(PlaceAxis.X, PlaceAxis.Y) ? -1 : 1);
    }

    void GoBeside(Arc? arc)
    {
        var (start, end) = (new PlaneVector(leg.From.X, leg.From.Y), new PlaneVector(leg.To.X, leg.To.Y));
        var next = arc is { } around
            ? Edge.Arc(start, end, new(around.CentreU, around.CentreV), around.Sweep, BesideNow())
            : Edge.Line(start, end, BesideNow());
        if (beside == Compensating.Entering)
        {
            Enter(arc, end);
            return;
        }
        edgeCut = Turn(next, leads: false);
        // the report asks for more than the radius (B.5), common practice for no less
        var least = settings.Reads.CompensationInsideCorners ? -CompensationRounding : CompensationRounding;
        if (next.IsArc && Math.Min(next.StartRadius, next.EndRadius) < least)
            RefuseMove(CompensationCause.ArcSmall, arc!.Value.Radius, Math.Abs(next.Beside));
        TellProgrammed(arc);
        Wait(Waiting.Edge, next);
    }

    void Wait(Waiting what, in Edge next)
    {
        waiting = what;
        edge = next;
        edgeLeg = leg;
        edgeState = state;
        holding = true;
    }

    /// <summary>The first move in the plane; on an arc it goes as programmed, and the next one is the first.</summary>
    void Enter(Arc? arc, PlaneVector end)
    {
        TellProgrammed(arc);
        var centre = new PlaneVector(centreX, centreY);
        var onPath = (centreX, centreY) == (leg.From.X, leg.From.Y);
        if (arc is { } around)
        {
            RefuseMove(CompensationCause.EntryArc, 0, 0);
            if (onPath)
                GoArc(state, leg, new(around.CentreU, around.CentreV), around.Sweep, end);
            else
                GoLine(state, leg, end);
            return;
        }
        var way = end - centre;
        var radius = BesideNow();
        if (way.Length < Math.Abs(radius) - CompensationRounding)
            RefuseMove(CompensationCause.EntryShort, way.Length, Math.Abs(radius));
        if (way.Length < OffsetCorner.Same)
        {
            GoLine(state, leg, end);
            return;
        }
        beside = Compensating.On;
        edgeCut = 0;
        Wait(Waiting.Entry, EntryEdge(centre, end, radius));
    }

    /// <summary>
    /// The move that the entry is a way beside of. The report's (B.6): the tangent from the end to the cutter where it stands; the centre
    /// goes along it. Otherwise the move itself.
    /// </summary>
    Edge EntryEdge(PlaneVector centre, PlaneVector end, double radius)
    {
        var way = end - centre;
        if (settings.Reads.CompensationEntry != CompensationEntry.Tangent || way.Length <= Math.Abs(radius))
            return Edge.Line(centre, end, radius);
        var sine = radius / way.Length;
        var direction = way.Unit * Math.Sqrt(1 - sine * sine) + way.Unit.Left * sine;
        return Edge.Line(centre - direction.Left * radius, end, radius);
    }

    /// <summary>
    /// The waiting move ends where the next one lets it, what was held back is told, and the centre goes to where the next one begins.
    /// </summary>
    /// <param name="leads">True: the next move leads back to the programmed path.</param>
    /// <returns>What the next move loses at its start, nm.</returns>
    double Turn(in Edge next, bool leads)
    {
        var kind = OffsetCorner.KindOf(edge, next);
        var straightIn = waiting == Waiting.Entry && settings.Reads.CompensationEntry != CompensationEntry.Tangent;
        if (edge.Beside != next.Beside)
            return EndAndGo(edge.BesideEnd, next.BesideStart);
        if (straightIn && !(kind == CornerKind.Outside && settings.Reads.CompensationEntry == CompensationEntry.Around))
            return EndAndGo(leads ? edge.BesideEnd : next.BesideStart, null);
        if (kind == CornerKind.Outside)
            return GoRound(next, leads);
        if (leads || kind == CornerKind.Smooth)
            return EndAndGo(edge.BesideEnd, leads ? null : next.BesideStart);
        return GoInside(next);
    }

    double EndAndGo(PlaneVector end, PlaneVector? start)
    {
        EndEdge(end, 0);
        Release();
        if (start is { } place && (place - new PlaneVector(centreX, centreY)).Length > OffsetCorner.Same)
            GoLine(state, Before(leg), place);
        return 0;
    }

    double GoRound(in Edge next, bool leads)
    {
        if (settings.Reads.CompensationCorners == CompensationCorners.Arc && leg.Kind == LegKind.Feed)
        {
            EndEdge(edge.BesideEnd, 0);
            Release();
            GoArc(state, Before(leg), edge.End, OffsetCorner.Turn(edge, next), next.BesideStart);
            return 0;
        }
        var (first, second) = OffsetCorner.Lengthened(edge, next);
        var goesOn = waiting == Waiting.Edge && !edge.IsArc;
        EndEdge(goesOn ? first : edge.BesideEnd, 0);
        if (!goesOn && waiting != Waiting.Ended)
            GoLine(edgeState, After(edgeLeg), first);
        Release();
        if (waiting == Waiting.Ended)
            GoLine(state, Before(leg), first);
        if (first != second)
            GoLine(state, Before(leg), second);
        if (next.IsArc || leads)
            GoLine(state, Before(leg), next.BesideStart);
        return 0;
    }

    double GoInside(in Edge next)
    {
        var room = waiting == Waiting.Ended ? 0 : edge.Length - edgeCut;
        if (waiting == Waiting.Ended || !OffsetCorner.TryMeet(edge, next, room, out var meeting))
            return CutCorner(next, room);
        EndEdge(meeting.Place, meeting.CutFirst);
        Release();
        var between = state.BlocksExecuted - edgeState.BlocksExecuted - 1;
        if (!settings.Reads.CompensationInsideCorners)
            RefuseMove(CompensationCause.CornerRefused, 0, 0);
        else if (between >= 2)
            RefuseMove(CompensationCause.LooksOver, between, 0);
        return meeting.CutSecond;
    }

    /// <summary>No way beside both moves: square to the first, then square to the second. Where the two all but touch that is rounding.</summary>
    double CutCorner(in Edge next, double room)
    {
        var gap = (edge.BesideEnd - next.BesideStart).Length;
        var lines = !edge.IsArc && !next.IsArc;
        var needed = lines ? OffsetCorner.CutOfLines(edge, next) : 0;
        EndAndGo(edge.BesideEnd, next.BesideStart);
        if (gap > ArcTolerance)
            RefuseMove(CompensationCause.Corner, needed, lines ? Math.Min(room, next.Length) : 0);
        return 0;
    }

    /// <summary>The waiting move goes to its end; it has lost <paramref name="cut"/> there.</summary>
    void EndEdge(PlaneVector end, double cut)
    {
        if (waiting is not (Waiting.Entry or Waiting.Edge))
            return;
        var left = edge.IsArc
            ? Math.Abs(edge.Sweep) - Share(edgeCut, edge.StartRadius) - Share(cut, edge.EndRadius)
            : 0;
        if (left > 0 && left * edge.StartRadius > OffsetCorner.Same)
            GoArc(edgeState, edgeLeg, edge.Centre, Math.Sign(edge.Sweep) * left, end);
        else
            GoLine(edgeState, edgeLeg, end);
    }

    static double Share(double length, double radius) => length == 0 ? 0 : length / radius;

    /// <summary>Ends the waiting move square to itself and tells what was held back.</summary>
    void Settle()
    {
        if (!holding)
            return;
        EndEdge(edge.BesideEnd, 0);
        waiting = Waiting.Ended;
        Release();
    }

    /// <summary>The move after G40. On an arc no control can follow: it goes straight.</summary>
    void GoBack(Arc? arc)
    {
        var (start, end) = (new PlaneVector(leg.From.X, leg.From.Y), new PlaneVector(leg.To.X, leg.To.Y));
        if (holding && start != end)
            Turn(Edge.Line(start, end, edge.Beside), leads: true);
        Settle();
        if (arc != null)
            RefuseMove(CompensationCause.ExitArc, 0, 0);
        TellProgrammed(arc);
        GoLine(state, leg, end);
        beside = Compensating.Off;
        waiting = Waiting.Nothing;
    }

    /// <summary>A leg at the height where the waiting move ends.</summary>
    static Leg After(Leg leg)
    {
        leg.From = leg.To;
        leg.FromLifted = leg.Lifted;
        leg.Commanded = InPlane;
        return leg;
    }

    /// <summary>A leg at the height where the next move begins.</summary>
    static Leg Before(Leg leg)
    {
        leg.To = leg.From;
        leg.Lifted = leg.FromLifted;
        leg.Commanded = InPlane;
        return leg;
    }
}
