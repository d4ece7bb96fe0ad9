using System.Runtime.InteropServices;

namespace Handwheel.Writer;

/// <summary>The watcher below the disk calls (tests/power-cut/disk.c) where it was loaded before everything else; else nothing happens.</summary>
static unsafe class Disk
{
    static readonly nint Preloaded = NativeLibrary.GetMainProgramHandle();

    public static bool IsWatched { get; } = NativeLibrary.TryGetExport(Preloaded, "disk_acked", out _);

    /// <summary>Notes in the watcher's log that number <paramref name="n"/> was acknowledged at this moment.</summary>
    public static void Acked(int n)
    {
        if (IsWatched)
            ((delegate* unmanaged<int, void>)NativeLibrary.GetExport(Preloaded, "disk_acked"))(n);
    }

    /// <summary>The call of number <paramref name="call"/> from now (from 1) that writes, cuts off or syncs fails with <paramref name="error"/>; 0: none does.</summary>
    public static void FailAt(int call, int error) =>
        ((delegate* unmanaged<int, int, void>)NativeLibrary.GetExport(Preloaded, "disk_fail_at"))(call, error);

    /// <summary>From now on no byte more is taken (ENOSPC), or it is again.</summary>
    public static void Full(bool full) =>
        ((delegate* unmanaged<int, void>)NativeLibrary.GetExport(Preloaded, "disk_full"))(full ? 1 : 0);

    /// <summary>True once the call that was to fail has failed.</summary>
    public static bool HasFailed =>
        ((delegate* unmanaged<int>)NativeLibrary.GetExport(Preloaded, "disk_has_failed"))() != 0;
}
