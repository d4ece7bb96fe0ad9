using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>A block in a program file, and the tool that was in the spindle. File 0 is the main program.</summary>
readonly record struct Where(int File, int Line, int Start, int Length, int Tool)
{
    public static Where Of(in ControlState state) =>
        new(state.File, state.Line, state.BlockStart, state.BlockLength, state.Tool);

    /// <summary>The program or the setup as a whole.</summary>
    public static Where Nowhere => new(0, 0, 0, 0, -1);
}
