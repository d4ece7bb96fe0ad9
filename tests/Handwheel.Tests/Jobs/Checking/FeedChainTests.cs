using System.Numerics;
using CsCheck;
using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>
/// Times of feed moves. The trapezoid from rest to rest is elementary kinematics (as in Lynch and Park, Modern Robotics, 2017,
/// and Siciliano et al., Robotics, 2009, section numbers from memory); the values were derived from it.
/// </summary>
public sealed class FeedChainTests
{
    [Theory]
    [InlineData(100, 250, 2500, 0.5)]
    [InlineData(25, 250, 2500, 0.2)]
    [InlineData(10, 250, 2500, 0.126491)]
    [InlineData(300, 500, 5000, 0.7)]
    [InlineData(1, 100, 1000, 0.063246)]
    [InlineData(10, 2, 1, 7.0)]
    public void From_rest_to_rest(double length, double speed, double acceleration, double seconds)
    {
        Assert.Equal(seconds, new RestToRest(speed, acceleration).Seconds(length), 6);
        Assert.Equal(seconds, Time(-1, [X(length, speed, acceleration)]), 6);
    }

    /// <summary>peak² = 2abL/(a+b) for unequal accelerations (tech-champion.com, excerpt): 100 m, a 2, b 4 m/s² take 12.247449 s.</summary>
    [Fact]
    public void Unequal_accelerations_from_rest_to_rest()
    {
        var toPeak = 16.329932 * 16.329932 / (2 * 2);
        Assert.Equal(12.247449, Time(-1, [X(toPeak, 1000, 2), X(100 - toPeak, 1000, 4)]), 5);
    }

    /// <summary>A corner rounded by a tangent arc that leaves it by 0.01 mm, A 2500 mm/s² (derived, plane geometry).</summary>
    [Theory]
    [InlineData(30, 26.621)]
    [InlineData(60, 12.712)]
    [InlineData(90, 7.7689)]
    [InlineData(120, 5.0)]
    [InlineData(150, 2.9547)]
    public void Speed_through_a_corner(double degrees, double speed) =>
        Assert.Equal(speed, Math.Sqrt(CornerSquared(0.01, 2500, Math.Cos(degrees * Math.PI / 180))), 0.0006);

    [Fact]
    public void A_reversal_comes_to_rest_and_a_straight_joint_does_not_slow()
    {
        Assert.True(CornerSquared(0.01, 2500, -1) < 1e-9);
        Assert.Equal(double.PositiveInfinity, CornerSquared(0.01, 2500, 1));
    }

    [Fact]
    public void Without_a_tolerance_corners_cost_nothing()
    {
        FeedMove[] corner = [X(100, 50, 500), Y(100, 50, 500)];
        Assert.Equal(Time(-1, [X(200, 50, 500)]), Time(-1, corner), 9);
        Assert.True(Time(0.01, corner) > Time(-1, corner));
    }

    /// <summary>Two moves at 50 and 20: joined at 20, so the second runs at 20 from its start.</summary>
    [Fact]
    public void Joined_at_the_lower_of_two_feeds()
    {
        var first = (50 - 20) / 500.0 + 50 / 500.0 + (100 - (50 * 50 - 20 * 20) / 1000.0 - 50 * 50 / 1000.0) / 50;
        var second = 20 / 500.0 + (100 - 20 * 20 / 1000.0) / 20;
        Assert.Equal(first + second, Time(-1, [X(100, 50, 500), X(100, 20, 500)]), 9);
    }

    static readonly Gen<FeedMove> AnyMove =
        from length in Gen.Double[0.001, 20]
        from speed in Gen.Double[1, 200]
        from step in Gen.Int[1, 5]
        from angle in Gen.Double[0, 2 * Math.PI]
        select Move(length, speed, step * 500.0, angle);

    /// <summary>To follow a sharp corner exactly the feed must drop to zero (Ernesto and Farouki, abstract): the upper bound; constant feed is the lower one.</summary>
    [Fact]
    public void Time_lies_between_constant_feed_and_a_stop_at_every_joint() =>
        AnyMove
            .Array[1, 40]
            .Sample(moves =>
            {
                var time = Time(0.01, moves);
                var least = moves.Sum(m => m.Length / m.Speed);
                var most = moves.Sum(m => new RestToRest(m.Speed, m.Acceleration).Seconds(m.Length));
                Assert.InRange(time, least * (1 - 1e-9), most * (1 + 1e-9));
            });

    [Fact]
    public void Time_falls_or_stays_when_speed_acceleration_or_tolerance_rises() =>
        Gen.Select(AnyMove.Array[1, 30], Gen.Double[1, 3])
            .Sample(
                (moves, factor) =>
                {
                    var time = Time(0.01, moves) * (1 + 1e-9);
                    Assert.True(Time(0.01 * factor, moves) <= time);
                    Assert.True(Time(0.01, [.. moves.Select(m => m with { Speed = m.Speed * factor })]) <= time);
                    Assert.True(
                        Time(0.01, [.. moves.Select(m => m with { Acceleration = m.Acceleration * factor })]) <= time
                    );
                }
            );

    [Fact]
    public void Splitting_a_straight_move_changes_nothing() =>
        Gen.Select(AnyMove.Array[1, 12], Gen.Int[2, 9])
            .Sample(
                (moves, parts) =>
                {
                    var split = moves.SelectMany(m => Enumerable.Repeat(m with { Length = m.Length / parts }, parts));
                    Assert.Equal(Time(0.01, moves), Time(0.01, [.. split]), 6);
                }
            );

    /// <summary>Longer than what is held back: the same as planning the whole chain at once.</summary>
    [Fact]
    public void Settling_early_changes_nothing() =>
        AnyMove.Array[500, 2000].Sample(moves => Assert.Equal(WholeChain(0.01, moves), Time(0.01, moves), 6), iter: 30);

    [Fact]
    public void Many_short_moves_at_speed_need_more_than_the_first_window()
    {
        var moves = Enumerable.Repeat(X(0.001, 400, 2500), 400_000).ToArray();
        Assert.Equal(new RestToRest(400, 2500).Seconds(400), Time(0.01, moves), 3);
    }

    static double WholeChain(double tolerance, FeedMove[] moves)
    {
        var joint = new double[moves.Length + 1];
        for (var i = 1; i < moves.Length; i++)
        {
            var (a, b) = (moves[i - 1], moves[i]);
            var slower = Math.Min(a.Speed, b.Speed);
            var corner = CornerSquared(
                tolerance,
                Math.Min(a.Acceleration, b.Acceleration),
                a.End.X * b.Start.X + a.End.Y * b.Start.Y + a.End.Z * b.Start.Z
            );
            joint[i] = Math.Min(Math.Min(slower * slower, corner), joint[i - 1] + 2 * a.Acceleration * a.Length);
        }
        for (var i = moves.Length - 1; i > 0; i--)
            joint[i] = Math.Min(joint[i], joint[i + 1] + 2 * moves[i].Acceleration * moves[i].Length);
        return moves.Select((m, i) => Seconds(m, joint[i], joint[i + 1])).Sum();
    }

    static double Seconds(FeedMove m, double start, double end)
    {
        var peak = Math.Min(m.Speed * m.Speed, m.Acceleration * m.Length + (start + end) / 2);
        var (v0, v1, v) = (Math.Sqrt(start), Math.Sqrt(end), Math.Sqrt(peak));
        var ramps = (peak - start) / (2 * m.Acceleration) + (peak - end) / (2 * m.Acceleration);
        return (v - v0) / m.Acceleration + (v - v1) / m.Acceleration + Math.Max(0, m.Length - ramps) / v;
    }

    static Rates NoLimit => Rates.From(null, 1);

    static double CornerSquared(double tolerance, double acceleration, double cosine) =>
        HeldMoves.CornerSquared(tolerance, new Vector<double>(acceleration), new Vector<double>(cosine))[0];

    /// <summary>Straight moves that the chain measures itself take the same time, to the last bit, as when each is measured alone.</summary>
    [Fact]
    public void Lines_measured_together_are_as_lines_measured_alone() =>
        Gen.Select(Gen.Int[-9_000, 9_000], Gen.Int[-9_000, 9_000], Gen.Int[1, 9_000], Gen.Double[100, 90_000])
            .Array[1, 700]
            .Sample(lines =>
            {
                var (rapid, acceleration) = (new Rates(30_000, 40_000, 20_000), new Rates(5e6, 4e6, 3e6));
                var together = new FeedChain(10, rapid, acceleration);
                var alone = new FeedChain(10, rapid, acceleration);
                double first = 0,
                    second = 0;
                foreach (var (x, y, z, speed) in lines)
                {
                    first += together.AddLine(x, y, z, speed);
                    var length = Math.Sqrt((double)x * x + (double)y * y + (double)z * z);
                    var tangent = new Tangent(x / length, y / length, z / length);
                    var limited = Math.Min(speed, rapid.Along(x, y, z, length));
                    var least = acceleration.Smallest(x != 0, y != 0, z != 0);
                    second += alone.Add(new FeedMove(length, limited, least, tangent, tangent));
                }
                Assert.Equal(second + alone.Stop(), first + together.Stop());
            });

    static double Time(double tolerance, FeedMove[] moves)
    {
        var chain = new FeedChain(tolerance, NoLimit, NoLimit);
        return moves.Sum(m => chain.Add(m)) + chain.Stop();
    }

    static FeedMove X(double length, double speed, double acceleration) => Move(length, speed, acceleration, 0);

    static FeedMove Y(double length, double speed, double acceleration) =>
        Move(length, speed, acceleration, Math.PI / 2);

    static FeedMove Move(double length, double speed, double acceleration, double angle)
    {
        var along = new Tangent(Math.Cos(angle), Math.Sin(angle), 0);
        return new FeedMove(length, speed, acceleration, along, along);
    }
}
