namespace Handwheel.Web.SigningIn;

/// <summary>Where somebody stands: a tablet with a name, or a browser without one.</summary>
/// <param name="Tablet">Null: no tablet that a supervisor named.</param>
/// <param name="Name">As records print it.</param>
/// <param name="Key">What wrong tries are counted by: the tablet's id or the network address.</param>
public sealed record Place(Guid? Tablet, string Name, string Key)
{
    public static Place Browser(string? address) => new(null, "desk", "address " + (address ?? "unknown"));
}
