namespace Handwheel.Jobs.Setups;

/// <summary>Words of the format that are read and written in more than one place.</summary>
static class SetupWords
{
    /// <summary>In the order of <see cref="CharacteristicKind"/>.</summary>
    public static readonly string[] CharacteristicKinds = ["other", "diameter", "width", "wall", "depth", "position"];

    public static readonly string[] Axes = ["x", "y", "z"];
}
