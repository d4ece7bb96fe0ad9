namespace Handwheel.Data;

/// <summary>
/// The folder that holds a shop: its database (SQLite) and its keys. Made readable by the service's own account alone.
/// </summary>
public sealed class ShopFolder(string path)
{
    const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    public string Path { get; } = System.IO.Path.GetFullPath(path);
    public string Database => System.IO.Path.Combine(Path, "handwheel.db");

    /// <summary>The root and the signing key of records; the root that tablets trust and the server's key for HTTPS.</summary>
    public string Keys => System.IO.Path.Combine(Path, "keys");

    public void Make()
    {
        try
        {
            MakePrivate(Path);
            MakePrivate(Keys);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new ShopCannotStart(
                $"The shop's folder {Path} cannot be made or written: {e.Message} Give a folder that this account may write (--shop FOLDER).",
                e
            );
        }
    }

    static void MakePrivate(string folder)
    {
        if (Directory.Exists(folder))
            return;
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(folder);
        else
            Directory.CreateDirectory(folder, OwnerOnly);
    }
}
