using System.Buffers.Binary;
using System.Text;

namespace Handwheel.Web.Tests.Durability;

/// <summary>
/// What a program did to its database files, call by call, as <c>tests/power-cut/disk.c</c> logged it; and what a disk
/// holds when the power goes after any of these calls: everything up to the file's last sync, and of what was written since,
/// any of the 512-byte sectors or none.
/// </summary>
sealed class DiskLog
{
    const int Sector = 512;

    enum Op
    {
        Write = 1,
        Cut = 2,
        Sync = 3,
        Ack = 4,
        Gone = 5,
    }

    sealed record Call(Op Op, int Number, long Offset, string File, ReadOnlyMemory<byte> Data);

    readonly List<Call> calls = [];
    readonly Dictionary<string, byte[]> before;

    /// <param name="before">The files as they were before the program started.</param>
    public DiskLog(byte[] log, Dictionary<string, byte[]> before)
    {
        this.before = before;
        for (var at = 0; at < log.Length; )
        {
            var head = log.AsSpan(at, 40);
            long Field(ReadOnlySpan<byte> from, int i) => BinaryPrimitives.ReadInt64LittleEndian(from[(i * 8)..]);
            var (length, name) = ((int)Field(head, 3), (int)Field(head, 4));
            calls.Add(
                new(
                    (Op)Field(head, 0),
                    (int)Field(head, 1),
                    Field(head, 2),
                    Encoding.UTF8.GetString(log, at + 40, name),
                    log.AsMemory(at + 40 + name, length)
                )
            );
            at += 40 + name + length;
        }
    }

    public int Calls => calls.Count;
    public int Acked => calls.Count(c => c.Op == Op.Ack);
    public int Syncs => calls.Count(c => c.Op == Op.Sync);

    /// <summary>
    /// Files after a power cut behind each of these calls (ascending), and the last number acknowledged by then.
    /// </summary>
    public IEnumerable<(int After, Dictionary<string, byte[]> Files, int Acked)> Cuts(
        IEnumerable<int> after,
        Random torn
    )
    {
        var files = before.ToDictionary(f => f.Key, f => new OnDisk(f.Value), StringComparer.Ordinal);
        var (acked, done) = (0, 0);
        foreach (var cut in after)
        {
            for (; done < cut; done++)
                if (calls[done].Op == Op.Ack)
                    acked = calls[done].Number;
                else if (!calls[done].File.EndsWith("-shm", StringComparison.Ordinal))
                    FileOf(calls[done]).Take(calls[done]);
            var share = torn.Next(3) / 2.0;
            var left = files
                .Select(f => (f.Key, Bytes: f.Value.AfterPowerCut(torn, share)))
                .Where(f => f.Bytes is not null)
                .ToDictionary(f => f.Key, f => f.Bytes!, StringComparer.Ordinal);
            yield return (cut, left, acked);
        }

        OnDisk FileOf(Call call)
        {
            if (!files.TryGetValue(call.File, out var file))
                files[call.File] = file = new OnDisk(null);
            return file;
        }
    }

    /// <summary>One file: what was synced, and the calls since.</summary>
    sealed class OnDisk(byte[]? synced)
    {
        readonly List<Call> since = [];
        MemoryStream? synced = synced is null ? null : Copy(synced);

        public void Take(Call call)
        {
            if (call.Op != Op.Sync)
            {
                since.Add(call);
                return;
            }
            foreach (var done in since)
                synced = Apply(synced, done, () => true);
            since.Clear();
        }

        /// <summary>Null: the file is gone. <paramref name="share"/>: how much of what was not synced got there; 0 to 1.</summary>
        public byte[]? AfterPowerCut(Random torn, double share)
        {
            var left = synced is null ? null : Copy(synced.ToArray());
            foreach (var call in since)
                if (call.Op == Op.Write || torn.NextDouble() < share)
                    left = Apply(left, call, () => torn.NextDouble() < share);
            return left?.ToArray();
        }

        static MemoryStream Copy(byte[] bytes)
        {
            var copy = new MemoryStream();
            copy.Write(bytes);
            return copy;
        }

        static MemoryStream? Apply(MemoryStream? file, Call call, Func<bool> arrives)
        {
            if (call.Op == Op.Gone)
                return null;
            file ??= new MemoryStream();
            if (call.Op == Op.Cut)
                file.SetLength(call.Offset);
            for (var from = 0; from < call.Data.Length; )
            {
                var at = call.Offset + from;
                var count = Math.Min(Sector - (int)(at % Sector), call.Data.Length - from);
                if (arrives())
                {
                    file.Position = at;
                    file.Write(call.Data.Span.Slice(from, count));
                }
                from += count;
            }
            return file;
        }
    }
}
