namespace Handwheel.Data;

/// <summary>A machining centre of the shop.</summary>
public class Machine : Kept
{
    /// <summary>As it is written on the machine; unique in the shop.</summary>
    public required string Name { get; set; }

    /// <summary>
    /// What is true of every setup on this machine, as a <c>handwheel-setup/1</c> document with no tools and no work
    /// offsets: units, travel, rates, how it reads programs, its parking list.
    /// </summary>
    public required string Facts { get; set; }

    public string Note { get; set; } = "";

    /// <summary>Taken out of use: no longer on the board, its records stay.</summary>
    public bool Retired { get; set; }
}
