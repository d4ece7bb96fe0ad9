using System.Globalization;
using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Motions;

delegate void MotionHeard(int tool, in MotionEvent told);

/// <summary>Turns the interpreter's run into <see cref="MotionEvent"/>s, one tool's after the other's.</summary>
sealed class MotionTeller(MotionHeard heard, ProgramTexts texts)
{
    readonly FramedPlace[] at = [new(FramedPlace.Start, 0), new(FramedPlace.Start, 0), new(FramedPlace.Start, 0)];
    readonly HashSet<int> workWritten = [];
    readonly HashSet<int> lengthsWritten = [];

    /// <summary>Mode and register of the length offset that Z was last commanded with.</summary>
    (LengthMode Mode, int H) zLength;
    bool slash;

    /// <summary>Why what the program does cannot be told, in words; null: it can.</summary>
    public string? Unknown { get; private set; }
    public RunEnd End { get; private set; }

    public void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Slash) != Changes.None)
            slash = true;
        if ((changes & Changes.Rotary) != Changes.None)
            CannotTell(state, "it turns a rotary axis");
        if ((changes & Changes.HoldsSuppressed) != Changes.None)
            Tell(state, new() { Kind = MotionKind.Mode, Words = HashOf(Block(state)) });
        if ((changes & Changes.Stop) != Changes.None)
            Tell(state, new() { Kind = MotionKind.Stop, Words = IsOptional(Block(state)) ? 1UL : 0 });
    }

    public void ToolChange(in ControlState state, in Place before)
    {
        if (state.At.Z != before.Z || state.At.RestZ != before.RestZ)
            at[2] = state.At.RestZ == 0 ? new(FramedPlace.Machine, state.At.Z) : new(FramedPlace.Reference, 0);
        Tell(
            state,
            new()
            {
                Kind = MotionKind.ToolIn,
                X = at[0],
                Y = at[1],
                Z = at[2],
            }
        );
    }

    public void RegisterWritten(in ControlState state, in RegisterWrite write)
    {
        if (write.Kind is RegisterKind.WorkOffset or RegisterKind.CommonOffset)
            Rewritten(write.WorkOffset.Number);
        else if (write.Kind == RegisterKind.Length)
            lengthsWritten.Add(write.Number);
        Tell(state, new() { Kind = MotionKind.Writes, Words = HashOf(Block(state)) });
    }

    /// <summary>The zero is elsewhere: where the axes stand has no name any more, and the same coordinate is another place.</summary>
    void Rewritten(int workOffset)
    {
        workWritten.Add(workOffset);
        for (var axis = 0; axis < 3; axis++)
            if (at[axis].Frame >= 0)
                at[axis] = at[axis] with { Frame = FramedPlace.BeforeWrite };
    }

    public void ShiftSet(in ControlState state, ShiftKind kind, Axes axes)
    {
        var told = new MotionEvent
        {
            Kind = kind == ShiftKind.Turned ? MotionKind.Mode : MotionKind.Writes,
            Axes = axes,
            Words = (ulong)kind + 1,
        };
        if (kind != ShiftKind.Turned)
            (told.X, told.Y, told.Z) = (new(0, state.ShiftX), new(0, state.ShiftY), new(0, state.ShiftZ));
        Tell(state, told);
    }

    public void Line(in ControlState state, in Leg leg)
    {
        var told = new MotionEvent
        {
            Kind = leg.Kind switch
            {
                LegKind.Feed => MotionKind.Feed,
                LegKind.MachineRapid => MotionKind.MachineRapid,
                LegKind.MachineFeed => MotionKind.MachineFeed,
                LegKind.ReturnVia or LegKind.ReturnEnd => MotionKind.Return,
                _ => MotionKind.Rapid,
            },
            Tapping = leg.Tapping,
        };
        Go(state, leg, leg.Commanded, ref told);
        if (told.Axes != Axes.None)
            Tell(state, told);
    }

    public void Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        var (u, v) = arc.Plane switch
        {
            Plane.ZX => (2, 0),
            Plane.YZ => (1, 2),
            _ => (0, 1),
        };
        var told = new MotionEvent
        {
            Kind = MotionKind.Arc,
            Plane = arc.Plane,
            CentreU = (long)Math.Round(arc.CentreU - Of(leg.From, u)),
            CentreV = (long)Math.Round(arc.CentreV - Of(leg.From, v)),
            Turns =
                Math.Sign(arc.Sweep)
                * (1 + (int)Math.Min(1_000_000, Math.Floor(Math.Abs(arc.Sweep) / (2 * Math.PI) + 1e-9))),
        };
        Go(state, leg, leg.Commanded | Flag(u) | Flag(v), ref told);
        told.Axes |= Flag(u) | Flag(v);
        Tell(state, told);
    }

    public void Dwell(in ControlState state, double seconds) =>
        Tell(state, new() { Kind = MotionKind.Dwell, Seconds = seconds });

    public void BlockEnd() => slash = false;

    public void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind is FaultKind.CannotFollow or FaultKind.CannotRead or FaultKind.NeverEnds)
            CannotTell(state, $"{fault.Cause} cannot be followed");
        else
            Tell(state, new() { Kind = MotionKind.Mode, Words = HashOf(fault.Kind + " " + fault.Cause) });
    }

    public void Ended(in ControlState state, RunEnd end)
    {
        End = end;
        if (end == RunEnd.Limit)
            CannotTell(state, "it does not come to an end");
    }

    /// <summary>The axes that the leg moves and where to, in the frames that they are commanded in.</summary>
    void Go(in ControlState state, in Leg leg, Axes commanded, ref MotionEvent told)
    {
        for (var axis = 0; axis < 3; axis++)
        {
            if ((commanded & Flag(axis)) == Axes.None)
                continue;
            var to = To(state, leg, axis);
            var length = axis == 2 && to.Frame >= 0 && !state.Incremental ? LengthOf(state) : zLength;
            if (to == at[axis] && length == zLength)
                continue;
            (at[axis], zLength) = (to, length);
            told.Axes |= Flag(axis);
        }
        (told.X, told.Y, told.Z) = (Moved(told.Axes, 0), Moved(told.Axes, 1), Moved(told.Axes, 2));
        var inWork = at[2].Frame >= 0 && (told.Axes & Axes.Z) != Axes.None;
        (told.LengthMode, told.H) = inWork ? ((int)zLength.Mode, zLength.H) : (-1, 0);
        if (inWork && lengthsWritten.Contains(state.H))
            told.WrittenLength = state.LengthZ;
        if (workWritten.Count > 0 && (workWritten.Contains(state.WorkOffset.Number) || workWritten.Contains(0)))
            Written(state, ref told);
    }

    /// <summary>A work offset that the program itself has written: its name does not say where its zero is.</summary>
    static void Written(in ControlState state, ref MotionEvent told)
    {
        if (told.X.Frame >= 0 && (told.Axes & Axes.X) != Axes.None)
            told.WrittenX = state.WorkX + state.CommonX;
        if (told.Y.Frame >= 0 && (told.Axes & Axes.Y) != Axes.None)
            told.WrittenY = state.WorkY + state.CommonY;
        if (told.Z.Frame >= 0 && (told.Axes & Axes.Z) != Axes.None)
            told.WrittenZ = state.WorkZ + state.CommonZ;
    }

    static (LengthMode Mode, int H) LengthOf(in ControlState state) =>
        (state.LengthMode, state.LengthMode == LengthMode.Off ? 0 : state.H);

    FramedPlace Moved(Axes axes, int axis) => (axes & Flag(axis)) != Axes.None ? at[axis] : default;

    FramedPlace To(in ControlState state, in Leg leg, int axis)
    {
        var (to, rest) = (Of(leg.To, axis), RestOf(leg.To, axis));
        if (leg.Kind is LegKind.MachineRapid or LegKind.MachineFeed or LegKind.ReturnEnd)
            return rest == 0 ? new(FramedPlace.Machine, to) : new(FramedPlace.Reference, 0);
        if (state.Incremental)
        {
            if (rest != RestOf(leg.From, axis))
                CannotTell(state, $"{"XYZ"[axis]} goes to a place that is not known");
            return at[axis] with { Value = at[axis].Value + to - Of(leg.From, axis) };
        }
        if (axis == 2 && !leg.Lifted)
            return rest == 0 ? new(FramedPlace.Machine, to) : at[axis];
        var base_ = axis switch
        {
            0 => state.RestX,
            1 => state.RestY,
            _ => state.RestZ,
        };
        if (rest != base_)
            CannotTell(state, $"{"XYZ"[axis]} rests on a parameter whose value is not known");
        var fromZero = axis switch
        {
            0 => state.FromZeroX(leg.To),
            1 => state.FromZeroY(leg.To),
            _ => state.FromZeroZ(leg.To),
        };
        return new(state.WorkOffset.Number, fromZero);
    }

    void Tell(in ControlState state, MotionEvent told)
    {
        told.File = state.File;
        told.Line = state.Line;
        told.Slash = slash;
        if (told.Kind is MotionKind.Rapid or MotionKind.Feed or MotionKind.Arc)
        {
            told.UnitsStated = state.UnitsStated;
            told.Compensation = state.Compensation;
            told.D = state.Compensation == CutterCompensation.Off ? 0 : state.D;
        }
        if (told.Kind is >= MotionKind.Rapid and <= MotionKind.Arc)
            told.SpindleOn = state.Spindle != SpindleDirection.Stopped;
        if (told.Kind is MotionKind.Feed or MotionKind.MachineFeed or MotionKind.Arc)
        {
            (told.Feed, told.FeedMode) = (state.Feed, state.FeedMode);
            (told.Speed, told.Direction) = (state.SpindleSpeed, state.Spindle);
            (told.Coolant, told.ExactStop) = (state.Coolant, state.ExactStop);
        }
        heard(state.Tool, told);
    }

    void CannotTell(in ControlState state, string why) =>
        Unknown ??= string.Create(CultureInfo.InvariantCulture, $"line {state.Line}: {why}");

    string Block(in ControlState state) => Plain(texts.Block(Where.Of(state)));

    /// <summary>The words of a block without comment, N number, blanks and case.</summary>
    static string Plain(string block)
    {
        var plain = new StringBuilder(block.Length);
        var depth = 0;
        foreach (var c in block)
        {
            if (c == ';')
                break;
            if (c == '(')
                depth++;
            else if (c == ')')
                depth = Math.Max(0, depth - 1);
            else if (depth == 0 && !char.IsWhiteSpace(c))
                plain.Append(char.ToUpperInvariant(c));
        }
        var text = plain.ToString().TrimStart('/');
        return text is ['N', ..] ? text[1..].TrimStart("0123456789".ToCharArray()) : text;
    }

    static bool IsOptional(string block)
    {
        for (var i = block.IndexOf('M', StringComparison.Ordinal); i >= 0; i = block.IndexOf('M', i + 1))
        {
            var number = string.Concat(block.Skip(i + 1).TakeWhile(char.IsAsciiDigit)).TrimStart('0');
            if (number == "1")
                return true;
        }
        return false;
    }

    /// <summary>FNV-1a, 64 bits: the same on every machine and in every version.</summary>
    static ulong HashOf(string words)
    {
        var hash = 14_695_981_039_346_656_037;
        foreach (var octet in Encoding.UTF8.GetBytes(words))
            hash = unchecked((hash ^ octet) * 1_099_511_628_211);
        return hash;
    }

    static Axes Flag(int axis) => (Axes)(1 << axis);

    static long Of(in Place place, int axis) =>
        axis switch
        {
            0 => place.X,
            1 => place.Y,
            _ => place.Z,
        };

    static int RestOf(in Place place, int axis) =>
        axis switch
        {
            0 => place.RestX,
            1 => place.RestY,
            _ => place.RestZ,
        };
}
