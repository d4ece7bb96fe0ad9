using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

static class OutputFiles
{
    /// <summary>Writes the whole file or leaves what was there; what cannot be written is said in one sentence.</summary>
    public static void Write(string path, byte[] bytes)
    {
        try
        {
            if (Directory.Exists(path))
                throw new InputFault(path, null, null, "a folder", "a file to write");
            var unfinished = path + ".part";
            File.WriteAllBytes(unfinished, bytes);
            File.Move(unfinished, path, overwrite: true);
        }
        catch (Exception fault)
            when (fault is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new InputFault(
                $"{path}: found a place that cannot be written ({fault.Message.TrimEnd('.')}), expected a file to write",
                fault
            );
        }
    }
}
