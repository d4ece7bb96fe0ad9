using System.Globalization;
using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>What an accepted entry does.</summary>
static class Effects
{
    public static Doer DoerOf(Entry entry) => new(entry.By.Name, entry.At, entry.Tablet, entry.Number, entry.Kept);

    public static void Take(Course course, Entry entry)
    {
        course.LastEntry = entry;
        course.LockedOut = LockedOut.After(course.LockedOut, entry);
        var photo = PhotoStep(course, entry.Act);
        if (photo is not null || entry.Act is not (Note or PhotoAdded) && !course.HasEnded)
            course.LastChange = entry;
        if (Upsets(entry.Act))
            course.LastUpset = entry;
        switch (entry.Act)
        {
            case Begun:
                course.Standing = Standing.UnderWay;
                break;
            case StepAct act when course.Find(act.Step) is { } rule:
                OnStep(course, entry, act, rule);
                break;
            case PhotoAdded act when photo is not null:
                Done(course, entry, photo, act.Caption.Length > 0 ? act.Caption : null);
                break;
            case TakenBack act:
                TakeBack(course, entry, act);
                break;
            case EditNoted or RaiseChosen or ProgramChanged or SetupChanged or LengthChanged or BaselineChanged:
            case HoldingChanged or ToolReplaced or AirCutWanted:
                Changes.Take(course, entry);
                break;
            case HandedOver or HandoffWithdrawn or TakingOverAlone or TookOver or Interrupted:
                Handing.Take(course, entry);
                break;
            case ParkingBegun:
                foreach (var rule in course.Table.Of(Phase.Parking).Where(r => course[r.Id].State != StepState.Open))
                    course[rule.Id] = course[rule.Id].Reopened(Said.In("Parking was begun again"), DoerOf(entry));
                break;
            case OtherWaySigned act:
                Done(course, entry, "air-cut.other-way", act.Reason);
                break;
            case CutShort act:
                Done(course, entry, "air-cut.ran", Said.In($"Cut short at line {act.Line}: {act.Why}"));
                break;
            case SentBack act:
                foreach (var step in act.Steps)
                    Reopening.Step(course, step, Said.In("Sent back: ") + act.Reason, DoerOf(entry));
                break;
            case Abandoned:
                course.Standing = Standing.Abandoned;
                course.Handoff = null;
                break;
        }
        ReadingEffects.AskForRaiseAgain(course, DoerOf(entry));
    }

    /// <summary>After it nothing is as a page from before it said: somebody has to look again.</summary>
    static bool Upsets(Act act) =>
        act
            is Interrupted
                or HandedOver
                or HandoffWithdrawn
                or TakingOverAlone
                or TookOver
                or EditNoted
                or RaiseChosen
                or ProgramChanged
                or SetupChanged
                or LengthChanged
                or BaselineChanged
                or HoldingChanged
                or ToolReplaced
                or AirCutWanted
                or SentBack;

    /// <summary>The step that a photo settles; null: it is one more photo.</summary>
    static string? PhotoStep(Course course, Act act) =>
        act is PhotoAdded { Step: { } step } && course.Find(step) is { Takes: Takes.Photo } && !course[step].IsDone
            ? step
            : null;

    static void OnStep(Course course, Entry entry, StepAct act, StepRule rule)
    {
        switch (act)
        {
            case Ticked tick:
                Done(course, entry, rule.Id, tick.Saw);
                break;
            case FindingsSeen:
                Done(course, entry, rule.Id, null);
                break;
            case ReadingTyped reading:
                if (rule.Phase == Phase.ReadBack && course.Handoff is { } handoff)
                    course.Handoff = handoff with { Incoming = entry.By };
                ReadingEffects.Take(course, entry, rule, reading.Typed);
                Handing.CloseReadBack(course);
                break;
            case LineTyped line:
                Compared(
                    course,
                    entry,
                    rule,
                    line.Block,
                    rule.Program!.NumberIs(line.Number) && rule.Program.AskedBlockIs(line.Block),
                    Said.In(
                        $"The file that was checked is {rule.Program.Number} and has in line {rule.Program.AskedLine}: {rule.Program.AskedBlock}. Load that file again, or have the other revision checked."
                    )
                );
                break;
            case SavedProgramCompared saved:
                FileCompared(course, entry, rule, saved);
                break;
            case BaselineDecided decided:
                Decide(course, entry, rule, decided);
                break;
            case Differs differs:
                course[rule.Id] = course[rule.Id] with
                {
                    State = StepState.Held,
                    Says = differs.Saw,
                    By = DoerOf(entry),
                    Changed = DoerOf(entry),
                };
                Reopening.Step(course, rule.Id, Said.In("Something differs: ") + differs.Saw, DoerOf(entry));
                break;
            case DifferenceSettled settled:
                course[rule.Id] = course[rule.Id].Settled(settled.Done, DoerOf(entry));
                break;
            case FirstPieceMeasured or CorrectionEntered:
                Measuring.Take(course, entry, rule, act);
                break;
            case DeviationSigned deviation:
                course[rule.Id] = course[rule.Id] with
                {
                    State = StepState.Deviation,
                    Says = Said.In("Deviation: ") + deviation.Reason,
                    By = DoerOf(entry),
                    Person = entry.By.Person,
                    Changed = DoerOf(entry),
                };
                break;
            case Signed:
                Done(course, entry, rule.Id, null);
                if (rule.Id == "release.signed")
                    course.Standing = Standing.Released;
                break;
        }
    }

    /// <summary>What follows a step that is no longer done.</summary>
    static void Reopened(Course course, StepRule rule, string why, Entry entry)
    {
        var held = course[rule.Id];
        Reopening.Step(course, rule.Id, why, DoerOf(entry));
        course[rule.Id] = held;
    }

    static void Done(Course course, Entry entry, string id, string? says)
    {
        course[id] = course[id] with
        {
            State = StepState.Done,
            Says = says,
            By = DoerOf(entry),
            Person = entry.By.Person,
            Changed = DoerOf(entry),
            Attempts = course[id].Attempts + 1,
        };
        course.Doers.Add(entry.By.Person);
        Handing.CloseReadBack(course);
    }

    static void Compared(Course course, Entry entry, StepRule rule, string typed, bool same, string otherwise)
    {
        course.Tries.Add(
            new(entry.Number, rule.Id, rule.Name, typed, same, NotBlind: rule.Blind && course[rule.Id].Wrong > 1)
        );
        if (same)
        {
            Done(course, entry, rule.Id, null);
            course[rule.Id] = course[rule.Id] with { Typed = typed, Wrong = 0, NotBlind = course[rule.Id].Wrong > 1 };
            return;
        }
        var before = course[rule.Id];
        var first = before.Wrong == 0 && rule.Blind;
        course[rule.Id] = before with
        {
            State = first ? StepState.ReadAgain : StepState.Refused,
            Typed = typed,
            Wrong = before.Wrong + 1,
            Attempts = before.Attempts + 1,
            By = DoerOf(entry),
            Changed = DoerOf(entry),
            Says = first ? Said.In("Read the display again and type it.") : otherwise,
        };
    }

    /// <summary>A file is evidence and no reading: where it is another program that is said at once, and stays until the right one is compared.</summary>
    static void FileCompared(Course course, Entry entry, StepRule rule, SavedProgramCompared saved)
    {
        var same = rule.Program is null
            ? course.Plan.Subject.Programs.Any(p => p.ComparableSha256 == saved.ComparableSha256)
            : saved.ComparableSha256 == rule.Program.ComparableSha256;
        var before = course[rule.Id];
        course.Tries.Add(
            new(
                entry.Number,
                rule.Id,
                rule.Name,
                saved.ComparableSha256,
                same,
                NotBlind: rule.Blind && before.Wrong > 1
            )
        );
        var shown = Said.In($"a saved file, digest {saved.ComparableSha256[..12]}…");
        if (same)
        {
            Done(course, entry, rule.Id, null);
            course[rule.Id] = course[rule.Id] with
            {
                Typed = shown,
                Wrong = 0,
                NotBlind = before.Wrong > 1,
                FileDiffers = false,
            };
            return;
        }
        course[rule.Id] = before with
        {
            State = StepState.Refused,
            Typed = shown,
            Wrong = before.Wrong + 1,
            Attempts = before.Attempts + 1,
            FileDiffers = saved.Differs is not null, // entries from before the difference was recorded stand as they were taken
            By = DoerOf(entry),
            Changed = DoerOf(entry),
            Says =
                Said.In(
                    "The program saved from the control is not the one that was checked: load the checked file, or have the saved one checked."
                ) + (saved.Differs is { } at ? " " + at.Text : ""),
        };
    }

    static void Decide(Course course, Entry entry, StepRule rule, BaselineDecided decided)
    {
        var record = course[rule.Id];
        if (!decided.RegisterIsRight)
        {
            course[rule.Id] = record with
            {
                Says = Said.In($"The setup is right: put the register right and read it again. {decided.Why}")
                    .TrimEnd(),
                Changed = DoerOf(entry),
            };
            return;
        }
        var (register, value) = (rule.Register!.Value, record.Value!.Value);
        course[rule.Id] = record with
        {
            State = StepState.Done,
            Says = Said.In($"The register is right: {decided.Why}"),
            By = DoerOf(entry),
            Person = entry.By.Person,
            Changed = DoerOf(entry),
        };
        course.Doers.Add(entry.By.Person);
        ReadingEffects.Baseline(course, entry, register, value, rule.Id);
        ReadingEffects.Ledger(
            course,
            ReadingEffects.Reading(course, entry, register, value, record.Typed!, value),
            rule.Id,
            DoerOf(entry)
        );
    }

    static void TakeBack(Course course, Entry entry, TakenBack act)
    {
        var rule = course.Table.Rules.Concat(course.ReadBack.Values).First(r => course[r.Id].By?.Entry == act.Entry);
        Reopening.Step(course, rule.Id, Said.In("Taken back: ") + act.Why, DoerOf(entry));
    }
}
