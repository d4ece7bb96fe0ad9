namespace Handwheel.Nc;

/// <summary>What can be wrong with a move under G41 or G42: the causes of a fault of kind <see cref="FaultKind.CompensationEntry"/>.</summary>
public static class CompensationCause
{
    /// <summary>First: length of the move, second: radius, nm.</summary>
    public const string EntryShort = "entry shorter than the radius";
    public const string EntryArc = "entry on an arc";
    public const string ExitArc = "exit on an arc";

    /// <summary>First: radius of the arc, second: radius of the register, nm.</summary>
    public const string ArcSmall = "arc smaller than the radius";

    /// <summary>The tool does not reach its way beside both moves. First: what they would have to leave it, second: what there is, nm; 0 where that is not one figure.</summary>
    public const string Corner = "inside corner without room";

    /// <summary>An inside corner where the control takes none (NISTIR 6556, B.5.1).</summary>
    public const string CornerRefused = "inside corner";

    /// <summary>More blocks between two moves of the plane than are followed here. No figures.</summary>
    public const string NoMove = "no move in the plane for too long";

    /// <summary>First: blocks without a move in the plane before an inside corner.</summary>
    public const string LooksOver = "blocks between two moves";
    public const string OtherRegister = "another D while on";
    public const string OtherSide = "another side while on";

    /// <summary>G28, G30 or G53 with X or Y, or a canned cycle.</summary>
    public const string OtherMotion = "a move that cannot be compensated";
    public const string Shift = "G92 while on";
}
