using System.Buffers.Binary;
using System.Security.Cryptography;
using Handwheel.Nc;

namespace Handwheel.Jobs.Motions;

/// <summary>Digests of one tool's events, with marks on the way by which the first difference of two runs is found.</summary>
sealed class MotionDigest(int tool) : IDisposable
{
    /// <summary>Events from one mark to the next.</summary>
    public const int Stride = 4096;

    readonly IncrementalHash path = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    readonly IncrementalHash cutting = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    readonly List<(ulong Path, ulong Cutting)> marks = [];

    public int Tool => tool;
    public long Events { get; private set; }
    public int Uses { get; private set; }

    /// <summary>Lowest end of a move in work coordinates, nm from the zero of its work offset; null: none goes there.</summary>
    public long? Lowest { get; private set; }
    public IReadOnlyList<(ulong Path, ulong Cutting)> Marks => marks;
    public string Path { get; private set; } = "";
    public string Cutting { get; private set; } = "";

    public void Add(in MotionEvent told)
    {
        if (Events % Stride == 0)
            marks.Add((MarkOf(path), MarkOf(cutting)));
        Events++;
        if (told.Kind == MotionKind.ToolIn)
            Uses++;
        if (
            (told.Axes & Axes.Z) != Axes.None
            && told.Kind is >= MotionKind.Rapid and <= MotionKind.Arc
            && told.Z.Frame >= 0
        )
            Lowest = Math.Min(Lowest ?? long.MaxValue, told.Z.Value);
        Span<byte> bytes = stackalloc byte[MotionEvent.PathBytes];
        told.WritePath(bytes);
        path.AppendData(bytes);
        bytes = bytes[..MotionEvent.CuttingBytes];
        told.WriteCutting(bytes);
        cutting.AppendData(bytes);
    }

    /// <summary>How the program ends is part of what every tool does: one that repeats runs each tool again.</summary>
    public void Close(RunEnd end)
    {
        path.AppendData([(byte)end]);
        marks.Add((MarkOf(path), MarkOf(cutting)));
        Path = Version + Convert.ToHexStringLower(path.GetHashAndReset());
        Cutting = Version + Convert.ToHexStringLower(cutting.GetHashAndReset());
    }

    /// <summary>What is counted, and how, is part of a digest: two versions never agree by accident.</summary>
    const string Version = "1:";

    static ulong MarkOf(IncrementalHash hash)
    {
        Span<byte> now = stackalloc byte[SHA256.HashSizeInBytes];
        hash.GetCurrentHash(now);
        return BinaryPrimitives.ReadUInt64LittleEndian(now);
    }

    public void Dispose()
    {
        path.Dispose();
        cutting.Dispose();
    }
}
