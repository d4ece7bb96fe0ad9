using System.Runtime.CompilerServices;

namespace Handwheel.Nc;

/// <summary>
/// One run of one program. Plain blocks of motion go through <c>FollowPlain</c>; every other block is read and executed in the
/// general way. Both end in the same moves.
/// </summary>
sealed partial class Follower<TSink>
    where TSink : struct, IMotionSink
{
    const int BlocksBetweenStopChecks = 1 << 16;

    readonly ControlSettings settings;
    readonly RunOptions options;
    readonly Rests rests = new();
    readonly Registers registers;
    readonly Parameters parameters;
    readonly BlockReader reader;
    readonly BlockCodes codes;
    readonly ProgramTexts texts;
    readonly Stack<Call> calls = [];

    ControlState state;
    Leg leg;
    ReadOnlyMemory<byte> text;
    int pos;
    int line = 1;
    long nextCheck;

    /// <summary>The text that is being followed has had a block, so that a program number now belongs to another program.</summary>
    bool begun;
    bool ended;

    /// <summary>Legs and repeats that are not blocks of their own; limited like blocks.</summary>
    long effort;

    public TSink Sink;

    public Follower(ReadOnlyMemory<byte> program, ControlSettings settings, RunOptions options)
    {
        this.settings = settings;
        this.options = options;
        registers = new(settings, rests);
        codes = new(settings.Harmless);
        parameters = new(options.Parameters) { System = SystemValue };
        reader = new(parameters, settings.Reads);
        texts = new(program, options.Subprogram);
        text = program;
        state.Units = settings.Units;
        state.WorkOffset = WorkOffsetName.G54;
        state.Tool = state.NextTool = settings.FirstTool;
        state.Line = 1;
        state.At.RestX = state.At.RestY = state.At.RestZ = Place.Nowhere;
        arcCentresAbsolute = settings.Reads.ArcCentresAbsolute;
        UseUnits(settings.Units);
        UseOffsets();
        SetNextCheck();
    }

    public void Run()
    {
        while (!ended)
        {
            if (!options.GeneralPathOnly && modalMacro == null && !isTurned && beside == Compensating.Off)
                FollowPlain();
            if (ended)
                return;
            if (state.BlocksExecuted >= nextCheck || effort > options.BlocksMost)
                CheckLimits();
            else if (pos >= text.Length)
                LeaveText();
            else
                FollowBlock();
        }
    }

    void FollowBlock()
    {
        patternHolds = false;
        state.Line = line;
        state.BlockStart = pos;
        pos = reader.Read(text.Span, pos, options.BlockDelete);
        state.BlockLength = reader.End - state.BlockStart;
        line++;
        var words = reader.Words;
        if (words.PercentFirst && begun || (words.Has('O') || words.Label) && begun)
        {
            if (!words.PercentFirst)
                TellFaults();
            LeaveText();
            return;
        }
        codes.Sort(words, reader.Faults);
        TellFaults();
        begun |= words.HasWord || words.Has('O') || words.Label;
        words.Use("NO");
        TakeAssignments();
        if (words.HasWord && !ended)
            Execute();
        if (words.PercentLast && !ended)
            LeaveText();
    }

    /// <summary>What is wrong with the block as it is written; columns in characters, as people count them.</summary>
    void TellFaults()
    {
        var block = text.Span.Slice(state.BlockStart, state.BlockLength);
        var ascii = reader.Faults.Count == 0 || System.Text.Ascii.IsValid(block);
        foreach (var fault in reader.Faults)
            TellFault(ascii ? fault : fault with { Column = ColumnOf(block, fault.Column) });
    }

    /// <summary>The column, from 1, of the character that this byte belongs to; bytes that are no text count one each.</summary>
    static int ColumnOf(ReadOnlySpan<byte> block, int byteColumn) =>
        byteColumn <= 0
            ? byteColumn
            : System.Text.Encoding.UTF8.GetCharCount(block[..Math.Min(byteColumn - 1, block.Length)]) + 1;

    void CheckLimits()
    {
        options.Stop.ThrowIfCancellationRequested();
        if (state.BlocksExecuted >= options.BlocksMost || effort > options.BlocksMost)
        {
            Refuse(FaultKind.NeverEnds, "too many blocks executed", 0);
            End(RunEnd.Limit);
        }
        SetNextCheck();
    }

    void SetNextCheck() => nextCheck = Math.Min(options.BlocksMost, state.BlocksExecuted + BlocksBetweenStopChecks);

    void End(RunEnd end)
    {
        Settle();
        ended = true;
        Sink.End(in Seen(), end);
    }

    void Refuse(FaultKind kind, string cause, int column, string? expected = null) =>
        TellFault(new(kind, cause, column, expected));

    void CannotFollow(string cause, int column, string? expected = null) =>
        Refuse(FaultKind.CannotFollow, cause, column, expected);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    void Go(LegKind kind, CyclePart part, Axes commanded, in Place to, bool lifted, bool tapping = false)
    {
        leg.Kind = kind;
        leg.Part = part;
        leg.Commanded = commanded;
        leg.Tapping = tapping;
        leg.FromLifted = state.Lifted;
        leg.Lifted = lifted;
        leg.From = state.At;
        leg.To = to;
        if (beside == Compensating.Off)
            Sink.Line(in state, in leg);
        else
            Compensate(null);
        state.At = to;
        state.Lifted = lifted;
    }
}
