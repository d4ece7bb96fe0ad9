using Microsoft.Data.Sqlite;

namespace Handwheel.Data;

/// <summary>What the SQLite engine and the disk below it must be like before the shop trusts them.</summary>
public static class SqliteEngine
{
    /// <summary>
    /// 3.7.0 to 3.51.2 can lose a commit or damage the file when a write-ahead log is reset (sqlite.org/wal.html).
    /// </summary>
    public static Version Oldest { get; } = new(3, 51, 3);

    public static string Running()
    {
        using var connection = new SqliteConnection("Data Source=:memory:");
        connection.Open();
        return connection.ServerVersion;
    }

    /// <exception cref="ShopCannotStart">The engine is older than <see cref="Oldest"/>.</exception>
    public static void RefuseOld(string version)
    {
        if (!Version.TryParse(version, out var running) || running < Oldest)
            throw new ShopCannotStart(
                $"This SQLite is {version}; Handwheel needs {Oldest} or newer, since older ones can lose what they acknowledged. Use the SQLite that Handwheel came with, or PostgreSQL."
            );
    }

    /// <exception cref="ShopCannotStart">The folder is on a network file system.</exception>
    /// <param name="folder">Absolute path.</param>
    /// <param name="mounts">The text of <c>/proc/self/mountinfo</c>.</param>
    public static void RefuseNetworkDisk(string folder, string mounts)
    {
        var kind = FileSystemOf(folder, mounts);
        if (kind is not null && NetworkFileSystems.Contains(kind))
            throw NotLocal(folder, kind);
    }

    /// <exception cref="ShopCannotStart">The folder is on a network file system.</exception>
    public static void RefuseNetworkDisk(string folder)
    {
        if (OperatingSystem.IsLinux())
            RefuseNetworkDisk(folder, File.ReadAllText("/proc/self/mountinfo"));
        else if (
            folder.StartsWith(@"\\", StringComparison.Ordinal)
            || new DriveInfo(Path.GetPathRoot(folder) ?? folder).DriveType == DriveType.Network
        )
            throw NotLocal(folder, "a network share");
    }

    static ShopCannotStart NotLocal(string folder, string kind) =>
        new(
            $"The shop's folder {folder} is on {kind}, a network file system. SQLite's locks do not hold there and the shop's records could be damaged. Use a folder on this computer's own disk, or PostgreSQL."
        );

    static readonly HashSet<string> NetworkFileSystems =
    [
        "9p",
        "afs",
        "beegfs",
        "ceph",
        "cifs",
        "coda",
        "fuse.ceph",
        "fuse.glusterfs",
        "fuse.rclone",
        "fuse.s3fs",
        "fuse.sshfs",
        "gfs2",
        "glusterfs",
        "lustre",
        "ncpfs",
        "nfs",
        "nfs4",
        "ocfs2",
        "smb3",
        "smbfs",
    ];

    /// <summary>Type of the innermost mount that holds <paramref name="folder"/>; null when none does.</summary>
    static string? FileSystemOf(string folder, string mounts)
    {
        var (longest, kind) = (-1, default(string));
        foreach (var line in mounts.Split('\n'))
        {
            // 36 35 98:0 /root /mount/point options shared:1 - type source options
            var parts = line.Split(' ');
            var dash = Array.IndexOf(parts, "-");
            if (dash < 6 || dash + 1 >= parts.Length)
                continue;
            var point = parts[4].Replace(@"\040", " ", StringComparison.Ordinal);
            var holds =
                point == "/"
                || folder == point
                || folder.StartsWith(point.TrimEnd('/') + "/", StringComparison.Ordinal);
            if (holds && point.Length >= longest)
                (longest, kind) = (point.Length, parts[dash + 1]);
        }
        return kind;
    }
}
