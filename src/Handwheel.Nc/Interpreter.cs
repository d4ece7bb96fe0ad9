namespace Handwheel.Nc;

/// <summary>Follows a program to its end, block by block, as the control would.</summary>
public static class Interpreter
{
    /// <summary>
    /// Runs <paramref name="program"/> and tells <paramref name="sink"/> everything that it does. Never throws on any input;
    /// what cannot be read or followed is a fault, and a limit that is reached ends the run with one.
    /// </summary>
    /// <exception cref="OperationCanceledException"><see cref="RunOptions.Stop"/> was cancelled.</exception>
    public static void Run<TSink>(
        ReadOnlyMemory<byte> program,
        ControlSettings settings,
        RunOptions options,
        ref TSink sink
    )
        where TSink : struct, IMotionSink
    {
        var follower = new Follower<TSink>(program, settings, options) { Sink = sink };
        try
        {
            follower.Run();
        }
        finally
        {
            sink = follower.Sink;
        }
    }
}
