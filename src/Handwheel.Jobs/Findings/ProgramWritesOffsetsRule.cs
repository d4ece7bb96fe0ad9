using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ProgramWritesOffsetsRule(Facts facts) : Rule(facts)
{
    const int WritesMost = 10_000;

    readonly List<(ControlState State, RegisterWrite Write)> writes = [];

    public override RuleInfo Info { get; } =
        new("program-writes-offsets", Level.Stop, "The program writes registers of the control");

    public override void RegisterWritten(in ControlState state, in RegisterWrite write)
    {
        if (writes.Count < WritesMost)
            writes.Add((state, write));
    }

    public override void BeforeRaise(Totals totals)
    {
        var raised = totals.Extents.Select(e => e.WorkOffset).ToHashSet();
        foreach (var (state, write) in writes)
        {
            var undoes =
                write.Kind == RegisterKind.WorkOffset
                && (write.Axes & Axes.Z) != Axes.None
                && raised.Contains(write.WorkOffset);
            // On some controls these are Z of a work offset.
            var mayUndo = write is { Kind: RegisterKind.Other, Number: >= 2700 and <= 2706 };
            if (mayUndo)
                Facts.Window.Undo(
                    state.BlocksExecuted,
                    Said.Kept(
                        $"#{Figures.Whole(write.Number)}, written at line {Figures.Whole(state.Line)}, is Z of a work offset on some controls: a raise may be lost"
                    )
                );
            if (undoes)
            {
                Facts.Window.Undo(
                    state.BlocksExecuted,
                    Said.Kept(
                        $"the program writes Z of {write.WorkOffset} at line {Figures.Whole(state.Line)}, so a raise would be lost"
                    )
                );
            }
            var level = undoes || write.Kind is RegisterKind.Length or RegisterKind.Diameter ? Level.Stop : Level.Check;
            Say(state, write, undoes, level);
        }
    }

    void Say(in ControlState state, in RegisterWrite write, bool undoes, Level level)
    {
        var name = write.Kind switch
        {
            RegisterKind.WorkOffset => $"{write.WorkOffset} ({write.Axes})",
            RegisterKind.CommonOffset => Said.Kept($"the common offset ({write.Axes})"),
            RegisterKind.Length => "H" + Figures.Whole(write.Number),
            RegisterKind.Diameter => "D" + Figures.Whole(write.Number),
            _ => Said.Kept("a parameter"),
        };
        var cause = Book.Cause($"{name} {level}");
        if (Again(cause, state))
            return;
        var effect = (undoes, write.Incremental) switch
        {
            (true, true) => Said.Kept(
                $"The program writes {name}. The air cut raises this register: the raise would be lost here, or stay in the register for good. Under G91 it adds, so it grows with every run."
            ),
            (true, false) => Said.Kept(
                $"The program writes {name}. The air cut raises this register: the raise would be lost here, or stay in the register for good."
            ),
            (false, true) => Said.Kept(
                $"The program writes {name}. What the setter put there is overwritten. Under G91 it adds, so it grows with every run."
            ),
            _ => Said.Kept($"The program writes {name}. What the setter put there is overwritten."),
        };
        Report(
            cause,
            state,
            effect,
            "Take the write out of the program and set the register by hand, or leave the air cut and prove the program another way.",
            level
        );
    }
}
