using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>
/// Follows a program and keeps the path of the tip for drawing, in setup space. Legs whose place is not known are left
/// out. Points closer to the last one than <c>finest</c> are left out inside a run, never its ends.
/// </summary>
public static class PathRuns
{
    /// <param name="options">As the check that the picture stands beside was made with.</param>
    public static IReadOnlyList<PathRun> Of(ReadOnlyMemory<byte> program, Setup setup, RunOptions? options = null)
    {
        var keeper = new Keeper(setup);
        var sink = new Sink(keeper);
        Interpreter.Run(program, SettingsOf.Control(setup), options ?? new RunOptions(), ref sink);
        keeper.End();
        return keeper.Runs;
    }

    sealed class Keeper(Setup setup)
    {
        const double LargestTurn = Math.PI / 36;
        readonly Dictionary<int, long> _own = setup
            .Tools.Where(t => t.Length is not null)
            .GroupBy(t => t.Number)
            .ToDictionary(t => t.Key, t => (t.First().Length!.Value + t.First().LengthWear).Nanometres);
        readonly double _unit = setup.Units.Nanometres();
        readonly double _finest = setup.Units == Units.Inch ? 0.0005 : 0.0125;
        List<Place3> _tip = [];
        Place3 _skipped;
        bool _hasSkipped;
        int _tool;
        bool _rapid;

        public List<PathRun> Runs { get; } = [];

        public void Line(in ControlState state, in Leg leg)
        {
            if (Begin(state, leg) && !Same(leg.From, leg.To))
                Add(At(state, leg.To.X, leg.To.Y, leg.To.Z));
        }

        public void Arc(in ControlState state, in Leg leg, in Arc arc)
        {
            if (!Begin(state, leg))
                return;
            var steps = Math.Max(1, (int)Math.Ceiling(Math.Abs(arc.Sweep) / LargestTurn));
            for (var i = 1; i < steps; i++)
            {
                var part = (double)i / steps;
                var angle = arc.StartAngle + (arc.Sweep * part);
                var u = arc.CentreU + (arc.Radius * Math.Cos(angle));
                var v = arc.CentreV + (arc.Radius * Math.Sin(angle));
                Add(
                    arc.Plane switch
                    {
                        Plane.XY => At(state, u, v, Between(leg.From.Z, leg.To.Z, part)),
                        Plane.ZX => At(state, v, Between(leg.From.Y, leg.To.Y, part), u),
                        _ => At(state, Between(leg.From.X, leg.To.X, part), u, v),
                    }
                );
            }
            Add(At(state, leg.To.X, leg.To.Y, leg.To.Z));
        }

        bool Begin(in ControlState state, in Leg leg)
        {
            if (!leg.From.IsMachine || !leg.To.IsMachine)
            {
                End();
                return false;
            }
            var rapid = leg.Kind is not (LegKind.Feed or LegKind.MachineFeed);
            var from = At(state, leg.From.X, leg.From.Y, leg.From.Z);
            var last =
                _hasSkipped ? _skipped
                : _tip.Count > 0 ? _tip[^1]
                : (Place3?)null;
            if (_tool != state.Tool || _rapid != rapid || last != from)
            {
                End();
                (_tool, _rapid) = (state.Tool, rapid);
                _tip.Add(from);
            }
            return true;
        }

        void Add(Place3 place)
        {
            var last = _tip[^1];
            _hasSkipped =
                Math.Abs(place.X - last.X) + Math.Abs(place.Y - last.Y) + Math.Abs(place.Z - last.Z) < _finest;
            if (_hasSkipped)
                _skipped = place;
            else
                _tip.Add(place);
        }

        public void End()
        {
            if (_hasSkipped)
                _tip.Add(_skipped);
            _hasSkipped = false;
            if (_tip.Count > 1)
                Runs.Add(new(_tool, _rapid, _tip));
            _tip = [];
        }

        Place3 At(in ControlState state, double x, double y, double z) =>
            new(x / _unit, y / _unit, (z - _own.GetValueOrDefault(state.Tool, state.LengthZ)) / _unit);

        static double Between(long from, long to, double part) => from + ((to - from) * part);

        static bool Same(in Place a, in Place b) => a.X == b.X && a.Y == b.Y && a.Z == b.Z;
    }

    readonly struct Sink(Keeper keeper) : IMotionSink
    {
        public void Line(ref readonly ControlState state, ref readonly Leg leg) => keeper.Line(state, leg);

        public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
            keeper.Arc(state, leg, arc);

        public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) =>
            keeper.End();

        public void Modal(ref readonly ControlState state, Changes changes) { }

        public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

        public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

        public void Dwell(ref readonly ControlState state, double seconds) { }

        public void BlockEnd(ref readonly ControlState state) { }

        public void Fault(ref readonly ControlState state, in Fault fault) { }

        public void End(ref readonly ControlState state, RunEnd end) { }
    }
}
