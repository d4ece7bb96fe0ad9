using Handwheel.Jobs.Records;

namespace Handwheel.Data;

/// <summary>
/// Private keys with their certificates, as files in the shop's folder that the service's own account alone can read
/// (<c>NAME.key</c> PKCS#8, <c>NAME.cer</c> DER). Whoever has them can act in the shop's name.
/// </summary>
public sealed class KeyFiles(ShopFolder folder)
{
    /// <summary>Null: one of the two files is not there.</summary>
    public KeyAndCertificate? Read(string name)
    {
        var (key, certificate) = (FileOf(name, "key"), FileOf(name, "cer"));
        return File.Exists(key) && File.Exists(certificate)
            ? new(File.ReadAllBytes(key), File.ReadAllBytes(certificate))
            : null;
    }

    public KeyAndCertificate Write(string name, KeyAndCertificate made)
    {
        folder.Make();
        WritePrivate(FileOf(name, "key"), made.Key);
        WritePrivate(FileOf(name, "cer"), made.Certificate);
        return made;
    }

    static void WritePrivate(string file, byte[] content)
    {
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        var fresh = file + ".new";
        File.Delete(fresh);
        using (var stream = new FileStream(fresh, options))
        {
            stream.Write(content);
            stream.Flush(flushToDisk: true);
        }
        File.Move(fresh, file, overwrite: true);
    }

    string FileOf(string name, string kind) => Path.Combine(folder.Keys, name + "." + kind);
}
